"""Sentences and cells that several commands print."""

from __future__ import annotations

from core.evaluate import Result
from core.mount.dial import azimuth_dial, elevation_dial
from core.mount.nouns import PassCheck
from core.mount.stack import Mount
from core.plan import Plan


def bearing(angle_deg: float) -> str:
    """``218.4``; what rounds to 360.0 reads 0.0."""
    text = f"{angle_deg % 360.0:.1f}"
    return "0.0" if text == "360.0" else text


def seat_lines(plan: Plan, result: Result) -> list[str]:
    """The station's bearings and what was assumed."""
    seat = result.seat
    lines = [
        f"{plan.title}  (plan {result.identity})",
        f"keyway {bearing(seat.keyway_true_deg)} deg true, {bearing(seat.keyway_magnetic_deg)} on the "
        f"compass; hole {seat.hole}, offset {seat.hole_offset_deg:g} deg "
        f"(drilled {seat.hole_drilled_deg:g} from the datum)",
        f"counter-clockwise stop {bearing(seat.counter_clockwise_stop_deg)}, "
        f"clockwise stop {bearing(seat.clockwise_stop_deg)} deg true; "
        f"travel {plan.mount.azimuth.travel_deg:g}, guard {plan.mount.azimuth.guard_deg:g}",
    ]
    if result.assumed:
        lines.append("assumed: " + ", ".join(result.assumed))
    return lines


def verdict_words(check: PassCheck) -> str:
    """The verdict, with "resting" where it rests."""
    return f"{check.verdict}, resting" if check.resting else check.verdict


def start_dial(check: PassCheck, mount: Mount) -> str:
    """Azimuth and elevation dial to start at, e.g. ``321 / 5``; empty when out of reach."""
    pointing = check.pointing
    if pointing is None:
        return ""
    index = int(pointing.worked.argmax())
    azimuth = azimuth_dial(float(pointing.m_deg[index]), mount.azimuth)
    return f"{azimuth.short} / {elevation_dial(float(pointing.e_deg[index]), mount.elevation).short}"
