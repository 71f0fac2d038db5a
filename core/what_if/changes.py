"""A change of the mount: what of a plan is another, in words, and the plan with it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields

from core.base.angles import wrap_180, wrap_360
from core.base.edits import changed, changed_together
from core.base.errors import ValueRangeError
from core.base.model import Model
from core.base.units import INSIDE_DEG
from core.base.words import plain
from core.mount.model.station import Axis
from core.plan.document import Plan
from core.plan.mount_edits import with_new_hole

#: How many changes can be set side by side: as many as lines can be told apart, and a memo keeps.
MOST_CHANGES = 7


@dataclass(frozen=True)
class Change:
    """What of the mount is another one; None leaves it as the plan has it.

    Attributes:
        travel_deg, guard_deg: of the azimuth axis.
        elevation_maximum_deg: how far the elevation axis goes; above 90 is over the top.
        azimuth_rate_deg_s, elevation_rate_deg_s: of an axis, the same either way.
        index_hole: another hole of the mount in use.
        hole_offset_deg: a hole at this offset in use, drilled beside the others where there is none.
    """

    travel_deg: float | None = None
    elevation_maximum_deg: float | None = None
    guard_deg: float | None = None
    azimuth_rate_deg_s: float | None = None
    elevation_rate_deg_s: float | None = None
    index_hole: str | None = None
    hole_offset_deg: float | None = None

    @property
    def name(self) -> str:
        """``travel 540 deg``, ``travel 540 deg, hole B``."""
        return ", ".join(self._told())

    def _told(self) -> Iterable[str]:
        for number in NUMBERS:
            value = getattr(self, number.key)
            if value is not None:
                yield f"{number.words} {plain(value)} {number.unit}"
        if self.index_hole is not None:
            yield f"hole {self.index_hole}"
        if self.hole_offset_deg is not None:
            drilled = plain(wrap_360(-self.hole_offset_deg))
            yield f"hole at {plain(self.hole_offset_deg)} (drilled {drilled})"


@dataclass(frozen=True)
class ChangedNumber:
    """One number that a change can set.

    Attributes:
        key: its name in `Change`.
        axis, field: whose number it is, and its key there.
        words, unit: what it is called.
        usual: what rotators that there are have.
    """

    key: str
    axis: str
    field: str
    words: str
    unit: str
    usual: tuple[float, ...]

    @property
    def path(self) -> str:
        """Its key path in a plan."""
        return f"mount.{self.axis}.{self.field}"

    def of(self, plan: Plan) -> float:
        """What the plan has."""
        return float(getattr(getattr(plan.mount, self.axis), self.field))


NUMBERS = (
    ChangedNumber("travel_deg", "azimuth", "travel_deg", "travel", "deg", (360.0, 450.0, 540.0)),
    ChangedNumber("elevation_maximum_deg", "elevation", "maximum_deg", "elevation to", "deg", (90.0, 180.0)),
    ChangedNumber("guard_deg", "azimuth", "guard_deg", "guard", "deg", (0.0, 3.0, 10.0)),
    ChangedNumber("azimuth_rate_deg_s", "azimuth", "rate_deg_s", "azimuth rate", "deg/s", (2.0, 3.0, 6.0)),
    ChangedNumber(
        "elevation_rate_deg_s", "elevation", "rate_deg_s", "elevation rate", "deg/s", (1.5, 2.5, 5.0)
    ),
)


def with_change(plan: Plan, change: Change) -> Plan:
    """The plan with a change of its mount; all else stays.

    Raises:
        ValueRangeError: the mount cannot be so; names the key and its range.
    """
    mount = plan.mount
    for axis in ("azimuth", "elevation"):
        updates = _updates(axis, change)
        if updates:
            plan = changed(plan, f"mount.{axis}", _axis_with(getattr(mount, axis), updates, f"mount.{axis}"))
    if change.hole_offset_deg is not None:
        plan = _with_hole_at(plan, change.hole_offset_deg)
    return plan if change.index_hole is None else changed(plan, "mount.index_hole", change.index_hole)


def changes_nothing(plan: Plan, change: Change) -> bool:
    """The plan's mount is so already.

    Raises:
        ValueRangeError: the mount cannot be so.
    """
    bare = plan.model_copy(update={"satellites": ()})  # a catalogue need not be looked through for this
    return with_change(bare, change).mount.model_dump() == plan.mount.model_dump()


def together(changes: Sequence[Change]) -> Change | None:
    """All changes at once; None where there are not two, or two of them change the same."""
    if len(changes) < 2:
        return None
    found: dict[str, object] = {}
    for change in changes:
        for field in fields(Change):
            value = getattr(change, field.name)
            if value is not None and field.name in found:
                return None
            found |= {} if value is None else {field.name: value}
    both_holes = {"index_hole", "hole_offset_deg"} <= found.keys()
    return None if both_holes else Change(**found)  # type: ignore[arg-type]


def _updates(axis: str, change: Change) -> dict[str, object]:
    """What a change sets of an axis; a rate holds either way."""
    updates: dict[str, object] = {}
    for number in NUMBERS:
        value = getattr(change, number.key)
        if number.axis == axis and value is not None:
            updates[number.field] = value
            updates |= {"rate_back_deg_s": None} if number.field == "rate_deg_s" else {}
    return updates


def _axis_with(axis: Axis, updates: Mapping[str, object], path: str) -> Model:
    """An axis with several of its numbers set at once; the first that is at fault alone is named."""
    try:
        return changed_together(axis, updates)
    except ValueRangeError as error:
        for key, value in updates.items():
            _refuse_alone(axis, key, value, path)
        last = list(updates)[-1]
        raise ValueRangeError(f"{path}.{last}", updates[last], error.allowed) from None


def _refuse_alone(axis: Axis, key: str, value: object, path: str) -> None:
    try:
        changed(axis, key, value)
    except ValueRangeError as error:
        raise ValueRangeError(f"{path}.{key}", error.value, error.allowed) from None


def _with_hole_at(plan: Plan, offset_deg: float) -> Plan:
    """The hole at an offset in use; it is drilled where there is none."""
    for hole in plan.mount.index_holes:
        if abs(wrap_180(hole.offset_deg - offset_deg)) <= INSIDE_DEG:
            return changed(plan, "mount.index_hole", hole.name)
    drilled = with_new_hole(plan)
    place = len(drilled.mount.index_holes) - 1
    drilled = changed(drilled, f"mount.index_holes.{place}.offset_deg", offset_deg)
    return changed(drilled, "mount.index_hole", drilled.mount.index_holes[place].name)
