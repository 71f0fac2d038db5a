"""What the best seat saves, counted afresh by turning the plan there and working it out."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from core.base.edits import changed
from core.mount.model.chain import zeta_deg
from core.mount.model.results import Verdict
from core.mount.model.station import SightingCorrection
from core.mount.seat.limits import SeatLimit
from core.mount.seat.outcome import PassAtSeat, SeatOutcome, outcome_from_checks, outcome_from_study, pass_id
from core.mount.seat.saving import Saving, saving, saving_sentence
from core.plan.document import Plan
from tests.lasting import result_of
from tests.seat_evening import seat_evening, seat_plan


@cache
def _told(keyway: float, hole: str = "A") -> Saving:
    _plan, _result, study = seat_evening()
    mount = seat_plan(mount__keyway_bearing_deg=keyway, mount__index_hole=hole).mount
    return saving(study, mount, outcome_from_study(study, zeta_deg(mount)))


def _held(plan: Plan) -> int:
    return sum(check.verdict in {"upright", "over the top"} for check in result_of(plan).checks)


@pytest.mark.parametrize("keyway", [60.0, 250.0])
def test_turning_there_saves_what_is_told(keyway: float) -> None:
    told = _told(keyway)
    here = seat_plan(mount__keyway_bearing_deg=keyway)
    there = seat_plan(mount__keyway_bearing_deg=told.keyway_bearing_deg, mount__index_hole=told.index_hole)
    assert told.there.held == _held(there)
    assert told.saved == _held(there) - _held(here)
    assert told.saved > 0
    words = saving_sentence(told)
    assert f"({told.saved} saved)" in words
    assert f"{told.keyway_bearing_deg:.1f} deg true, hole {told.index_hole}" in words


def test_where_it_stands_best_nothing_is_to_be_turned() -> None:
    best = _told(60.0)
    told = _told(best.keyway_bearing_deg, best.index_hole)
    assert told.at_best
    assert told.saved == 0
    assert told.here == told.there
    assert saving_sentence(told).startswith("The keyway stands best as it is")
    assert not _told(best.keyway_bearing_deg, "B" if best.index_hole == "A" else "A").at_best


def test_what_is_exact_counts_before_what_is_looked_up() -> None:
    plan, result, study = seat_evening()
    exact = outcome_from_checks(study.passes, {pass_id(check.pass_): check for check in result.checks})
    assert exact is not None
    worse = replace(exact, passes=tuple(replace(p, verdict=Verdict.OUT_OF_REACH) for p in exact.passes))
    told = saving(study, plan.mount, worse)
    assert told.here.in_reach == told.here.held == 0


def test_correction_and_forbidden_arcs_come_from_the_plan() -> None:
    plan, _result, study = seat_evening()
    outcome = outcome_from_study(study, zeta_deg(plan.mount))
    fitted = SightingCorrection(deg=1.0, keyway_bearing_deg=60.0, index_hole="A")
    limit = SeatLimit(from_deg=50.0, to_deg=70.0, why="the wall")
    held = changed(plan.mount, "sighting_correction", fitted)
    void = changed(held, "keyway_bearing_deg", 61.0)
    assert saving(study, held, outcome).correction == "holds"
    assert saving(study, void, outcome).correction == "void"
    assert saving(study, plan.mount, outcome).correction == "none"
    assert saving(study, plan.mount, outcome, (limit,)).forbidden_here == (limit,)


def _outcome(held: int, in_reach: int, passes: int, lost_s: float) -> SeatOutcome:
    """So many held and in reach of so many, all that is lost with the first."""
    verdicts = ["upright"] * held + ["split"] * (in_reach - held) + ["out of reach"] * (passes - in_reach)
    return SeatOutcome(
        tuple(
            PassAtSeat(index, Verdict(verdict), False, True, 0.0 if index else lost_s)
            for index, verdict in enumerate(verdicts)
        ),
        exact=True,
    )


def _saving(
    here: tuple[int, int], there: tuple[int, int], passes: int = 12, lost_s: float = 0.0, **changes: object
) -> Saving:
    """Held and in reach at either seat; ``lost_s`` lost as it stands."""
    known: dict[str, object] = {
        "keyway_bearing_deg": 143.0,
        "index_hole": "A",
        "present_deg": 60.0,
        "hole_in_use": "A",
        "here": _outcome(*here, passes, lost_s),
        "there": _outcome(*there, passes, 0.0),
        "at_best": False,
        "all_forbidden": False,
        "forbidden_here": (),
        "correction": "none",
    }
    return Saving(**(known | changes))  # type: ignore[arg-type]


_WALL = (SeatLimit(from_deg=50.0, to_deg=70.0, why="the wall"),)


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (_saving((0, 0), (0, 0), 0), "There are no passes to seat the keyway by."),
        (
            _saving((5, 12), (9, 12)),
            "Turn the keyway to 143.0 deg true, hole A: 9 of 12 passes go without turning back; "
            "as it stands 5 do (4 saved).",
        ),
        (
            _saving((1, 12), (12, 12), index_hole="B"),
            "Turn the keyway to 143.0 deg true, hole B instead of A: all 12 passes go without turning back; "
            "as it stands 1 does (11 saved).",
        ),
        (
            _saving((0, 2), (1, 2), 2),
            "Turn the keyway to 143.0 deg true, hole A: 1 of 2 passes goes without turning back; "
            "as it stands none does (1 saved).",
        ),
        (
            _saving((0, 1), (1, 1), 1),
            "Turn the keyway to 143.0 deg true, hole A: the one pass goes without turning back; "
            "as it stands none does (1 saved).",
        ),
        (
            _saving((9, 12), (9, 12), lost_s=84.0),
            "Turn the keyway to 143.0 deg true, hole A: 9 of 12 passes go without turning back; "
            "as it stands as many do, with 84 s more off the beam.",
        ),
        (
            _saving((10, 11), (9, 12)),
            "Turn the keyway to 143.0 deg true, hole A: 9 of 12 passes go without turning back; "
            "as it stands 10 do, but 1 more is out of reach.",
        ),
        (
            _saving((9, 12), (9, 12)),
            "Leave the keyway at 60.0 deg true, hole A: 9 of 12 passes go without turning back, "
            "and turning it to 143.0 deg, hole A, saves none but gives more room.",
        ),
        (
            _saving((12, 12), (12, 12)),
            "Leave the keyway at 60.0 deg true, hole A: all 12 passes go without turning back; "
            "143.0 deg, hole A, only gives more room.",
        ),
        (
            _saving((7, 10), (7, 10), at_best=True),
            "The keyway stands best as it is, 60.0 deg true, hole A: 7 of 12 passes go without turning back "
            "and 2 are out of reach.",
        ),
        (
            _saving((0, 1), (0, 1), 1, at_best=True),
            "The keyway stands best as it is, 60.0 deg true, hole A: the one pass needs turning back.",
        ),
        (
            _saving((0, 0), (0, 0), 1, at_best=True),
            "The keyway stands best as it is, 60.0 deg true, hole A: the one pass is out of reach.",
        ),
    ],
)
def test_the_first_sentence(told: Saving, words: str) -> None:
    assert saving_sentence(told) == words


@pytest.mark.parametrize(
    ("changes", "end"),
    [
        ({"correction": "holds"}, "(4 saved); turning it makes tonight's correction void."),
        ({"correction": "void"}, "(4 saved); tonight's correction is void for this seat and not counted."),
        ({"forbidden_here": _WALL}, "(4 saved), but there it may not point (the wall)."),
    ],
)
def test_the_first_sentence_tells_of_corrections_and_forbidden_arcs(
    changes: dict[str, object], end: str
) -> None:
    assert saving_sentence(_saving((5, 12), (9, 12), **changes)).endswith(end)


def test_the_first_sentence_where_a_forbidden_seat_is_the_better_one() -> None:
    assert saving_sentence(_saving((9, 12), (7, 12), forbidden_here=_WALL)).endswith(
        "7 of 12 passes go without turning back; as it stands 9 do, but there it may not point (the wall)."
    )


def test_the_first_sentence_where_every_bearing_is_forbidden() -> None:
    turn = saving_sentence(_saving((5, 12), (9, 12), all_forbidden=True, forbidden_here=_WALL))
    assert turn == (
        "Every bearing is forbidden; were none, turn the keyway to 143.0 deg true, hole A: "
        "9 of 12 passes go without turning back; as it stands 5 do (4 saved)."
    )
    stay = saving_sentence(_saving((9, 12), (9, 12), all_forbidden=True, forbidden_here=_WALL, at_best=True))
    assert stay.startswith("The keyway stands best as it is, 60.0 deg true, hole A, though every bearing is")


def test_a_correction_stays_unmentioned_where_nothing_is_to_be_turned() -> None:
    assert "correction" not in saving_sentence(_saving((9, 12), (9, 12), at_best=True, correction="holds"))
