"""How a pass is best steered: a study beside `evaluate`, memoised alike."""

from __future__ import annotations

from core.evaluate import Result
from core.memo import Memo
from core.mount.nouns import PassCheck
from core.mount.steering_table import PassSteering, pass_steering, peaks_over_keyhole
from core.plan import Plan


def study_pass(plan: Plan, result: Result, check: PassCheck, memo: Memo | None = None) -> PassSteering | None:
    """Every steering of one pass side by side; None out of reach.

    Args:
        plan, result: what the pass is of.
        check: one of the result's, or of its order's where that works the pass in another way.
        memo: the document owner's memo; without one it is computed.
    """
    memo = Memo() if memo is None else memo
    track = next(t for p, t in zip(result.passes, result.tracks, strict=True) if p is check.pass_)
    return memo.get(
        "steering",
        (check, track, plan.mount, plan.antennas),
        lambda: pass_steering(check, track, plan.mount, plan.antennas),
    )


def over_keyhole(plan: Plan, result: Result) -> tuple[int, ...]:
    """Indices of the passes that peak higher than azimuth can follow."""
    pairs = zip(result.checks, result.tracks, strict=True)
    return tuple(i for i, (check, track) in enumerate(pairs) if peaks_over_keyhole(check, track, plan.mount))
