"""What follows from a mount's numbers, in words and in a table: for the one who types them in.

A hole's offset of the wrong sign, or half a turn in a sum, does not look wrong as a number. Where boresight
then points on each stop does, and so does what the dial must read there, which a turn of the rotator by hand
can check.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.base.units import INSIDE_DEG
from core.mount.dial.readings import DialReading, azimuth_dial, elevation_dial
from core.mount.model.chain import (
    correction_deg,
    correction_state,
    ground_bearing_deg,
    hole_in_use,
    stop_bearings_deg,
    usable_overlap_deg,
    zeta_deg,
)
from core.mount.model.from_above import station_from_above
from core.mount.model.station import UPRIGHT, Mount


@dataclass(frozen=True)
class DialCheck:
    """One row of the dial check: set the axis there and compare.

    Attributes:
        axis: "azimuth" or "elevation".
        place: where the axis stands, in words.
        axis_deg: its mechanical angle.
        bearing_deg: true bearing of boresight there with elevation level, tilt counted; None for elevation.
        dial_deg: what the dial must show, unrounded.
        reading: the same as read, in full.
        short: the same for a narrow column.
    """

    axis: str
    place: str
    axis_deg: float
    bearing_deg: float | None
    dial_deg: float
    reading: str
    short: str


def correction_words(mount: Mount) -> str:
    """The correction, what it was fitted for, and whether it holds."""
    fitted = mount.sighting_correction
    if fitted is None:
        return "none: no sighting has been taken"
    seat = f"fitted with the keyway at {fitted.keyway_bearing_deg:.1f} deg true in hole {fitted.index_hole}"
    posture = f", {fitted.posture} only" if fitted.posture else ""
    state = "in effect" if correction_state(mount) == "holds" else "void, as the seat is another one now"
    return f"{fitted.deg:+.2f} deg, {seat}{posture}: {state}"


def zeta_sum_words(mount: Mount) -> str:
    """The terms that add up to zeta, those that are nothing left out: ``"keyway 184, hole A -30"``."""
    hole = hole_in_use(mount)
    terms = [
        ("keyway", mount.keyway_bearing_deg),
        (f"hole {hole.name}", hole.offset_deg),
        ("datum to stop", mount.datum_to_stop_deg),
        ("elevation unit", mount.elevation_unit_offset_deg),
        ("sightings", correction_deg(mount, UPRIGHT)),
    ]
    told = [f"{name} {value:+g}" for name, value in terms[1:] if value]
    return ", ".join([f"keyway {mount.keyway_bearing_deg:g}", *told])


def stop_words(mount: Mount) -> tuple[str, str]:
    """Where boresight points on the counter-clockwise and on the clockwise stop."""
    counter_clockwise, clockwise = stop_bearings_deg(mount)
    return f"{counter_clockwise:.1f} deg true", f"{clockwise:.1f} deg true"


def overlap_words(mount: Mount) -> str:
    """The usable overlap with its bearings, or the sector that no m points to."""
    overlap, above = usable_overlap_deg(mount.azimuth), station_from_above(mount)
    if overlap >= 360.0 - INSIDE_DEG:
        return f"{overlap:g} deg of usable overlap: every bearing at least twice"
    if above.overlap is not None:
        start, end = above.overlap.start_deg, above.overlap.end_deg
        return f"{overlap:g} deg of usable overlap: {start:.1f} to {end:.1f} deg true can be had twice"
    if above.unreachable is None:
        return "no overlap and no gap: every bearing once"
    start, end = above.unreachable.start_deg, above.unreachable.end_deg
    return f"no dial setting points to {start:.1f} to {end:.1f} deg true, a sector of {-overlap:g} deg"


def elevation_range_words(mount: Mount) -> str:
    """What the elevation range allows."""
    low, high = mount.elevation.minimum_deg, mount.elevation.maximum_deg
    if high > 90.0:
        lowest = max(180.0 - high, 0.0)
        tail = " all the way" if lowest <= INSIDE_DEG else f", and down to {lowest:g} deg behind"
        return f"elevation {low:g} to {high:g} deg: over the top{tail}"
    if high < 90.0:
        return f"elevation {low:g} to {high:g} deg: upright only, and nothing above {high:g} deg"
    return f"elevation {low:g} to {high:g} deg: upright only"


def turn_seconds(mount: Mount) -> float:
    """Seconds of a full circle of azimuth at the azimuth rate."""
    return 360.0 / mount.azimuth.rate_deg_s


def dial_checks(mount: Mount) -> tuple[DialCheck, ...]:
    """The travel test: the dial at both stops and mid travel, and at elevation 0, 90 and 180.

    Elevations are told as far as the axis goes; the bearings are the ground's, tilt counted.
    """
    axis, zeta = mount.azimuth, zeta_deg(mount)
    places = (
        ("counter-clockwise stop", 0.0),
        ("mid travel", axis.travel_deg / 2.0),
        ("clockwise stop", axis.travel_deg),
    )
    rows = []
    for place, m in places:
        bearing, _elevation = ground_bearing_deg(zeta + m, 0.0, mount.tilt)
        rows.append(_dial_check("azimuth", place, m, bearing, azimuth_dial(m, axis)))
    low, high = mount.elevation.minimum_deg, mount.elevation.maximum_deg
    levels = (("level", 0.0), ("straight up", 90.0), ("over the top, level", 180.0))
    for place, e in levels:
        if low - INSIDE_DEG <= e <= high + INSIDE_DEG:
            rows.append(_dial_check("elevation", place, e, None, elevation_dial(e, mount.elevation)))
    return tuple(rows)


def _dial_check(
    axis: str, place: str, axis_deg: float, bearing_deg: float | None, reading: DialReading
) -> DialCheck:
    return DialCheck(axis, place, axis_deg, bearing_deg, reading.value_deg, reading.text, reading.short)
