"""Edits of the mount that change more than one value of a plan at once.

Made one value at a time (`core.base.edits.changed`) they would pass through a plan that is refused: a hole in
use under a name that no hole has any more, a dial told where it wraps but not yet to which figure.
"""

from __future__ import annotations

from typing import Literal

from core.base.edits import changed, reset
from core.base.errors import ValueRangeError
from core.mount.dial.readings import azimuth_curve, elevation_curve, reading_true
from core.mount.model.station import IndexHole, Mount
from core.plan.document import Plan


def with_new_hole(plan: Plan) -> Plan:
    """The plan with one more hole, named by the first free letter, at offset 0.

    Raises:
        ValueRangeError: the plan is not valid with it.
    """
    taken = {hole.name for hole in plan.mount.index_holes}
    letters = [chr(code) for code in range(ord("A"), ord("Z") + 1)]
    numbered = [f"hole {number}" for number in range(1, len(taken) + 2)]
    name = next(name for name in letters + numbered if name not in taken)
    return changed(plan, "mount.index_holes", (*plan.mount.index_holes, IndexHole(name=name, offset_deg=0.0)))


def without_hole(plan: Plan, place: int) -> Plan:
    """The plan without one of its holes; where it was in use, the first one left is.

    Raises:
        ValueRangeError: it is the last one.
    """
    holes = plan.mount.index_holes
    left = (*holes[:place], *holes[place + 1 :])
    if not left:
        return changed(plan, "mount.index_holes", left)
    used = plan.mount.index_hole
    return _with(plan, index_holes=left, index_hole=used if used != holes[place].name else left[0].name)


def with_renamed_hole(plan: Plan, place: int, name: str) -> Plan:
    """The plan with a hole under another name; what names the hole follows.

    Raises:
        ValueRangeError: the name is empty, too long or taken.
    """
    mount = plan.mount
    old = mount.index_holes[place]
    renamed = changed(old, "name", name)
    updates: dict[str, object] = {
        "index_holes": (*mount.index_holes[:place], renamed, *mount.index_holes[place + 1 :])
    }
    if mount.index_hole == old.name:
        updates["index_hole"] = name
    fitted = mount.sighting_correction
    if fitted is not None and fitted.index_hole == old.name:
        updates["sighting_correction"] = changed(fitted, "index_hole", name)
    return _with(plan, **updates)


def with_wrap(plan: Plan, wraps: tuple[float, float] | None) -> Plan:
    """The plan with an azimuth dial that wraps (at, to), or runs on.

    Raises:
        ValueRangeError: the two figures do not fit together.
    """
    axis = plan.mount.azimuth
    kept = {name: getattr(axis, name) for name in axis.model_fields_set}
    kept.pop("dial_wraps_at_deg", None)
    kept.pop("dial_wraps_to_deg", None)
    if wraps is not None:
        kept |= {"dial_wraps_at_deg": wraps[0], "dial_wraps_to_deg": wraps[1]}
    return changed(plan, "mount.azimuth", kept)


AxisName = Literal["azimuth", "elevation"]
AXES: tuple[AxisName, AxisName] = ("azimuth", "elevation")
#: How far after the last reading of a dial a new one is put first.
_NEXT_READING_DEG = 45.0


def with_new_reading(plan: Plan, axis: AxisName) -> Plan:
    """The plan with one more pair in a dial's calibration, reading what the dial reads there so far.

    Raises:
        ValueRangeError: the plan is not valid with it.
    """
    mount = plan.mount
    points = mount.azimuth.calibration if axis == "azimuth" else mount.elevation.calibration
    curve = azimuth_curve(mount.azimuth) if axis == "azimuth" else elevation_curve(mount.elevation)
    axis_deg = points[-1].axis_deg + _NEXT_READING_DEG if points else 0.0
    fresh = {"axis_deg": axis_deg, "dial_deg": curve.dial_at(axis_deg)}  # plain, for `changed` to refuse
    return changed(plan, f"mount.{axis}.calibration", (*points, fresh))


def without_reading(plan: Plan, axis: AxisName, place: int) -> Plan:
    """The plan without one pair of a dial's calibration; without any it is straight again."""
    mount = plan.mount
    points = mount.azimuth.calibration if axis == "azimuth" else mount.elevation.calibration
    left = (*points[:place], *points[place + 1 :])
    path = f"mount.{axis}.calibration"
    return changed(plan, path, left) if left else reset(plan, path)


def with_dial_true(plan: Plan, bearing_deg: float) -> Plan:
    """The plan with the azimuth dial set to read true while the antennas look along a true bearing.

    Raises:
        ValueRangeError: it is no bearing, or the rotator cannot turn there.
    """
    if not -360.0 <= bearing_deg <= 360.0:
        raise ValueRangeError("bearing", bearing_deg, "from 0 to 360")
    return changed(plan, "mount.azimuth", reading_true(plan.mount, bearing_deg % 360.0))


def _with(plan: Plan, **updates: object) -> Plan:
    mount: Mount = plan.mount
    kept = {name: getattr(mount, name) for name in mount.model_fields_set}
    return changed(plan, "mount", kept | updates)
