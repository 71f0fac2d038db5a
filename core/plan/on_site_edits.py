"""Edits of what is written down on site. Each gives a new plan, or a `ValueRangeError` that names the key."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

from core.base.angles import wrap_360
from core.base.edits import changed
from core.mount.model.station import SightingCorrection
from core.plan.document import Plan
from core.setup.model import StepName

#: The lists that are written on site.
Table = Literal["level_readings", "landmarks", "sightings"]


def with_row(plan: Plan, table: Table, row: Mapping[str, Any], place: int | None = None) -> Plan:
    """The plan with one more row at a table's end, or with another row at a place of it.

    Raises:
        ValueRangeError: the row is not valid, there are too many, or a landmark's name is taken.
    """
    rows: tuple[Any, ...] = getattr(plan, table)
    if place is None:
        return changed(plan, table, (*rows, dict(row)))
    return changed(plan, table, (*rows[:place], dict(row), *rows[place + 1 :]))


def without_rows(plan: Plan, table: Table, places: Sequence[int]) -> Plan:
    """The plan without some rows of a table."""
    rows: tuple[Any, ...] = getattr(plan, table)
    return changed(plan, table, tuple(row for place, row in enumerate(rows) if place not in set(places)))


def level_rows(
    bearing_deg: float, rise_deg: float, after_half_turn_deg: float | None
) -> list[dict[str, Any]]:
    """One reading, or two where the level was turned half round on the spot: it then looks the other way.

    ``after_half_turn_deg`` is read as the first one: positive where the plate rises toward the level's front.
    """
    rows = [{"bearing_deg": bearing_deg, "rise_deg": rise_deg}]
    if after_half_turn_deg is not None:
        rows.append({"bearing_deg": wrap_360(bearing_deg + 180.0), "rise_deg": after_half_turn_deg})
    return rows


def with_level_rows(plan: Plan, rows: Sequence[Mapping[str, Any]]) -> Plan:
    """The plan with more level readings, in one edit.

    Raises:
        ValueRangeError: one of them is not valid, or there are too many.
    """
    return changed(plan, "level_readings", (*plan.level_readings, *(dict(row) for row in rows)))


def with_correction(plan: Plan, deg: float, posture: str | None = None) -> Plan:
    """The plan with tonight's correction, of the seat as it is; nothing else of the mount changes."""
    mount = plan.mount
    fitted = SightingCorrection.model_validate(
        {
            "deg": deg,
            "keyway_bearing_deg": mount.keyway_bearing_deg,
            "index_hole": mount.index_hole,
            "posture": posture,
        }
    )
    return changed(plan, "mount.sighting_correction", fitted)


def with_tick(plan: Plan, step: StepName, done: bool) -> Plan:
    """The plan with a step of the checklist ticked, as the last one, or not ticked."""
    others = tuple(name for name in plan.checklist.done if name != step)
    return changed(plan, "checklist.done", (*others, step) if done else others)


def without_ticks(plan: Plan) -> Plan:
    """The plan with the checklist begun anew."""
    return changed(plan, "checklist.done", ())
