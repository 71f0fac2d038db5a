"""Sentences and cells that several commands print."""

from __future__ import annotations

from core.base.errors import PropagationError
from core.base.times import clock, format_iso
from core.base.units import DAY_S
from core.base.words import bearing_text
from core.evaluate import Result
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.moment import start_axes
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount
from core.place.position import describe_position
from core.plan.document import Plan


def refusal_words(error: PropagationError) -> str:
    """Which satellite gave no answer and why; many objects share a name, so the number stands by it."""
    number = "" if error.norad_id is None else f" ({error.norad_id})"
    return f"{error.satellite}{number}: {error.reason}"


def seat_lines(plan: Plan, result: Result) -> list[str]:
    """The station's bearings and what was assumed."""
    seat = result.seat
    lines = [
        f"{plan.title}  (plan {result.identity})",
        (f"{plan.site.name}: " if plan.site.name else "") + describe_position(plan.site),
        f"{to_the_second(plan.evening.start)} to {to_the_second(plan.evening.end)}; times UTC",
        f"keyway {bearing_text(seat.keyway_true_deg)} deg true, "
        f"{bearing_text(seat.keyway_magnetic_deg)} on the compass; "
        f"hole {seat.hole}, offset {seat.hole_offset_deg:g} deg "
        f"(drilled {seat.hole_drilled_deg:g} from the datum)",
        f"counter-clockwise stop {bearing_text(seat.counter_clockwise_stop_deg)}, "
        f"clockwise stop {bearing_text(seat.clockwise_stop_deg)} deg true; "
        f"travel {plan.mount.azimuth.travel_deg:g}, guard {plan.mount.azimuth.guard_deg:g}",
    ]
    if result.assumed:
        lines.append("assumed: " + ", ".join(result.assumed))
    return lines


def to_the_second(time: str) -> str:
    """A moment of the evening without its milliseconds, where it has none."""
    return time.replace(".000Z", "Z")


def moment(utc_s: float, plan: Plan) -> str:
    """``19:42:10``, with the date ahead where the evening is longer than a day."""
    evening = plan.evening
    text = clock(utc_s)
    one_day = evening.end_utc_s - evening.start_utc_s < DAY_S
    return text if one_day else f"{format_iso(utc_s)[:10]} {text}"


def start_dial(check: PassCheck, mount: Mount) -> str:
    """Azimuth and elevation dial to start at, e.g. ``321 / 5``; empty when out of reach."""
    place = start_axes(check)
    if place is None:
        return ""
    azimuth, elevation = azimuth_dial(place[0], mount.azimuth), elevation_dial(place[1], mount.elevation)
    return f"{azimuth.short} / {elevation.short}"
