"""Edits of the lengths that change more than one value at once."""

from __future__ import annotations

from core.base.edits import changed
from core.mount.clearance.lengths import Boom, Cable, Clearance, Column, Guy, Leg
from core.mount.model.from_above import LEGS_FROM_KEYWAY_DEG
from core.plan.document import Plan

#: So far apart booms are put at first, mm.
_APART_MM = 500.0


def with_lengths(plan: Plan) -> Plan:
    """Lengths to start from: a boom for every antenna, side by side, over a tripod of three legs.

    Raises:
        ValueRangeError: never of a valid plan.
    """
    number = len(plan.antennas[:8])
    names = [antenna.name for antenna in plan.antennas[:8]]
    twice = len(set(names)) < number
    booms = tuple(
        Boom(
            name=f"{name} {place + 1}"[:80] if twice else name,
            side_mm=(place - (number - 1) / 2.0) * _APART_MM,
        )
        for place, name in enumerate(names)
    )
    half = (number - 1) / 2.0 * _APART_MM
    lengths = Clearance(
        crossboom_left_mm=half,
        crossboom_right_mm=half,
        booms=booms,
        legs=tuple(Leg(from_keyway_deg=angle) for angle in LEGS_FROM_KEYWAY_DEG),
        column=Column(),
        cable=Cable(),
    )
    return changed(plan, "clearance", lengths)


def with_row(plan: Plan, name: str) -> Plan:
    """One more boom, leg or guy; ``name`` is the key of the list."""
    assert plan.clearance is not None
    rows = getattr(plan.clearance, name)
    taken = {boom.name for boom in plan.clearance.booms}
    free = next(word for word in (f"yagi {n}" for n in range(1, len(taken) + 2)) if word not in taken)
    fresh = {"booms": Boom(name=free), "legs": Leg(), "guys": Guy()}[name]
    return changed(plan, f"clearance.{name}", (*rows, fresh))


def without_row(plan: Plan, name: str, row: int) -> Plan:
    """Without one of them."""
    assert plan.clearance is not None
    rows = getattr(plan.clearance, name)
    return changed(plan, f"clearance.{name}", (*rows[:row], *rows[row + 1 :]))
