"""The steering study of a plan's pass: remembered, and the same however it is come by."""

from __future__ import annotations

from core.base.edits import changed
from core.base.memo import Memo
from core.evaluate import evaluate
from core.studies import over_keyhole, study_pass
from tests.evening_plans import evening_plan


def test_a_study_is_remembered_until_the_mount_changes() -> None:
    plan, memo = evening_plan(), Memo()
    result = evaluate(plan, memo)
    first = study_pass(plan, result, result.checks[1], memo)
    assert study_pass(plan, result, result.checks[1], memo) is first
    assert memo.computed["steering"] == 1
    slower = changed(plan, "mount.azimuth.rate_deg_s", 1.0)
    study_pass(slower, evaluate(slower, memo), result.checks[1], memo)
    assert memo.computed["steering"] == 2
    cold = study_pass(plan, result, result.checks[1])
    assert first is not None
    assert cold is not None
    assert cold.rows == first.rows


def test_passes_over_the_keyhole_are_those_azimuth_cannot_follow() -> None:
    fast = evening_plan()
    assert over_keyhole(fast, evaluate(fast)) == ()
    slow = evening_plan(mount__azimuth__rate_deg_s=0.5)
    result = evaluate(slow)
    over = over_keyhole(slow, result)
    peaks = [result.passes[i].peak.elevation_deg for i in over]
    others = [pass_.peak.elevation_deg for i, pass_ in enumerate(result.passes) if i not in over]
    assert peaks
    assert not others or min(peaks) > min(others)
