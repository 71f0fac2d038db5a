"""What every export says of the plan it was made from."""

from __future__ import annotations

from core.base.times import format_iso
from core.evaluate import Result
from core.plan.document import Plan


def identity_lines(what: str, plan: Plan, result: Result, made_utc_s: float) -> list[str]:
    """Identity, title, the elements' epochs and the seat, each one line; ``what`` is what is exported."""
    epochs = sorted(satellite.elements.epoch for satellite in plan.satellites)
    seat = result.seat
    return [
        f"northkey {what}, plan {result.identity}, made {format_iso(made_utc_s)}",
        "title: " + " ".join(plan.title.split()),
        f"elements of {epochs[0]} to {epochs[-1]} UTC" if epochs else "no elements",
        f"keyway {seat.keyway_true_deg:.2f} deg true, hole {' '.join(seat.hole.split())}, "
        f"counter-clockwise stop {seat.counter_clockwise_stop_deg:.2f} deg true",
    ]
