"""How passes fare at a seat: the study's table and the checks must tell the same."""

from __future__ import annotations

import numpy as np
import pytest

from core.evaluate import evaluate
from core.mount.model.chain import zeta_deg
from core.mount.model.station import Mount
from core.mount.seat.outcome import (
    SeatOutcome,
    not_clear_needlessly,
    outcome_from_checks,
    outcome_from_study,
    pass_id,
)
from core.mount.seat.study import SeatStudy, seated
from tests.seat_evening import seat_evening, seat_plan


def test_the_checks_of_a_seat_and_the_look_up_agree_on_what_is_clear() -> None:
    for keyway in (20.0, 60.0, 193.0, 290.0):
        plan = seat_plan(mount__keyway_bearing_deg=keyway)
        _plan, _result, study = seat_evening()
        result = evaluate(plan)
        exact = outcome_from_checks(result.passes, {pass_id(check.pass_): check for check in result.checks})
        assert exact is not None
        assert exact.exact
        quick = outcome_from_study(study, zeta_deg(plan.mount))
        assert not quick.exact
        assert [here.clear for here in quick.passes] == [here.clear for here in exact.passes]
        assert quick.not_clear == exact.not_clear


def test_checks_that_are_not_all_there_give_no_outcome() -> None:
    _plan, result, study = seat_evening()
    some = {pass_id(check.pass_): check for check in result.checks[1:]}
    assert outcome_from_checks(study.passes, some) is None


def test_what_is_lost_comes_before_what_rests() -> None:
    _plan, _result, study = seat_evening()
    for zeta in np.arange(0.0, 360.0, 5.0):
        outcome = outcome_from_study(study, float(zeta))
        loses = [not (here.held and here.lost_s < 0.5) for here in outcome.troubled]
        assert loses == sorted(loses, reverse=True)
        shown = {here.index for here in outcome.troubled}
        assert all(
            here.clear and here.held and not here.resting
            for here in outcome.passes
            if here.index not in shown
        )


def test_the_best_bearing_is_a_tenth_that_is_as_good() -> None:
    _plan, _result, study = seat_evening()
    rounded = study.hole_of_best.best_rounded_deg
    assert rounded == pytest.approx(study.best.keyway_bearing_deg, abs=0.1)
    assert rounded == round(rounded, 1)
    exact, near = outcome_from_study(study, study.best.keyway_bearing_deg), outcome_from_study(study, rounded)
    assert near.not_clear <= exact.not_clear
    assert near.lost_s <= exact.lost_s + 0.5


def test_there_is_something_to_decide_only_where_the_best_has_fewer() -> None:
    plan, _result, study = seat_evening()
    assert not_clear_needlessly(study, plan.mount) == _outcome(study, plan.mount).not_clear > 0
    best = seated(plan.mount, study.hole_of_best.best_rounded_deg, study.best.index_hole)
    assert not_clear_needlessly(study, best) == 0


def _outcome(study: SeatStudy, mount: Mount) -> SeatOutcome:
    return outcome_from_study(study, zeta_deg(mount))
