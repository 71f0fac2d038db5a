"""Edits of plate and stand that change more than one value at once, and usual ones to start from.

What is usual here is invented: a part and a station that hold, to be typed over.
"""

from __future__ import annotations

from typing import Literal

from core.base.edits import changed, changed_together, reset
from core.mount.model.from_above import LEGS_FROM_KEYWAY_DEG
from core.plan.document import Plan
from core.plate.body.shape import bolt_places
from core.plate.model import Bolts, IndexPin, Keyway, Plate, Step
from core.stand.model import Foot, Forecast, HungMass, Mass, Near, Stand, StandGuy, WindArea

Pattern = Literal["none", "circle", "rectangle", "points"]
StepSide = Literal["none", "below", "above"]
StandList = Literal["legs", "masses", "areas", "hung", "guys", "near"]

_USUAL_STEP = Step(inner_diameter_mm=30.0, outer_diameter_mm=50.0, height_mm=4.0, clearance_mm=0.1)
_USUAL_BOLTS = Bolts(count=6, circle_diameter_mm=120.0, first_angle_deg=15.0)


def with_usual_plate(plan: Plan) -> Plan:
    """A plate to start from, with the mount's index holes."""
    plate = Plate(
        thickness_mm=20.0,
        outside_diameter_mm=160.0,
        step=_USUAL_STEP,
        bolts=_USUAL_BOLTS,
        centre_thread="3/4-10 UNC",
        index_pin=IndexPin(thread="M6", circle_radius_mm=42.0),
        keyway=Keyway(width_mm=10.4, depth_mm=8.0),
    )
    return changed(plan, "plate", plate)


def with_step(plan: Plan, side: StepSide) -> Plan:
    """A step below or above, or none; one that is there goes to the other side.

    Raises:
        ValueRangeError: the part is too thin or too small for the step to start from.
    """
    assert plan.plate is not None
    if side == "none":
        return changed(plan, "plate.step", None)
    step = plan.plate.step or _USUAL_STEP
    return changed(plan, "plate.step", changed(step, "side", side))


def bolt_pattern(bolts: Bolts | None) -> Pattern:
    """How the bolts lie."""
    if bolts is None:
        return "none"
    if bolts.points_mm is not None:
        return "points"
    return "circle" if bolts.rectangle_mm is None else "rectangle"


def with_bolts(plan: Plan, pattern: Pattern) -> Plan:
    """Bolts that lie otherwise: about as far out as they did; free places start where they lay."""
    assert plan.plate is not None
    if pattern == "none":
        return changed(plan, "plate.bolts", None)
    bolts = plan.plate.bolts or _USUAL_BOLTS
    places = bolt_places(bolts)
    across_mm = max(10.0, round(max(2.0 * max(abs(x), abs(y)) for x, y in places), 1))
    given = {
        "circle_diameter_mm": min(across_mm, 600.0) if pattern == "circle" else None,
        "rectangle_mm": (min(across_mm, 500.0),) * 2 if pattern == "rectangle" else None,
        "points_mm": tuple((round(x, 3), round(y, 3)) for x, y in places) if pattern == "points" else None,
    }
    if pattern == bolt_pattern(bolts):
        return changed(plan, "plate.bolts", bolts)
    return changed(plan, "plate.bolts", changed_together(bolts, given))


def with_rectangle_side(plan: Plan, place: int, side_mm: float) -> Plan:
    """Another side of the bolts' rectangle: 0 along x, 1 along y."""
    bolts = _bolts(plan)
    assert bolts.rectangle_mm is not None
    sides = list(bolts.rectangle_mm)
    sides[place] = side_mm
    return changed(plan, "plate.bolts.rectangle_mm", tuple(sides))


def with_bolt_place(plan: Plan, row: int, place: int, value_mm: float) -> Plan:
    """Another x (0) or y (1) of a free bolt."""
    points = [list(point) for point in _points(plan)]
    points[row][place] = value_mm
    return changed(plan, "plate.bolts.points_mm", tuple((x, y) for x, y in points))


def with_new_bolt_place(plan: Plan) -> Plan:
    """One more free bolt, opposite the last."""
    points = _points(plan)
    x, y = points[-1]
    return changed(plan, "plate.bolts.points_mm", (*points, (-x, -y)))


def without_bolt_place(plan: Plan, row: int) -> Plan:
    """Without one of the free bolts.

    Raises:
        ValueRangeError: it is the last.
    """
    points = _points(plan)
    return changed(plan, "plate.bolts.points_mm", (*points[:row], *points[row + 1 :]))


def _bolts(plan: Plan) -> Bolts:
    assert plan.plate is not None
    assert plan.plate.bolts is not None
    return plan.plate.bolts


def _points(plan: Plan) -> tuple[tuple[float, float], ...]:
    points = _bolts(plan).points_mm
    assert points is not None
    return points


def with_usual_stand(plan: Plan) -> Plan:
    """A station to start from; legs and guys are the clearance's where it has them."""
    stand = Stand(
        legs=()
        if plan.clearance is not None and len(plan.clearance.legs) >= 3
        else tuple(Foot(from_keyway_deg=angle, radius_mm=700.0) for angle in LEGS_FROM_KEYWAY_DEG),
        tripod_mass_kg=10.0,
        masses=(
            Mass(name="rotator", mass_kg=8.0, height_mm=1300.0),
            Mass(name="crossboom and antennas", mass_kg=5.0, height_mm=1500.0),
        ),
        areas=(
            WindArea(name="antennas", area_m2=0.2, height_mm=1500.0),
            WindArea(name="rotator and tripod", area_m2=0.15, height_mm=800.0),
        ),
        hung=(HungMass(name="battery", mass_kg=6.0),),
    )
    return changed(plan, "stand", stand)


def with_stand_row(plan: Plan, name: StandList) -> Plan:
    """One more row of a list of the stand; legs and guys that were the clearance's become the stand's own."""
    assert plan.stand is not None
    rows = getattr(plan.stand, name)
    taken = {one.name for one in plan.stand.near}
    free = next(word for word in (f"thing {n}" for n in range(1, len(taken) + 2)) if word not in taken)
    fresh = {
        "legs": Foot(),
        "masses": Mass(mass_kg=1.0, height_mm=500.0),
        "areas": WindArea(area_m2=0.05, height_mm=1000.0),
        "hung": HungMass(mass_kg=1.0),
        "guys": StandGuy(),
        "near": Near(name=free, bearing_deg=0.0, distance_m=10.0),
    }[name]
    return changed(plan, f"stand.{name}", (*rows, fresh))


def without_stand_row(plan: Plan, name: StandList, row: int) -> Plan:
    """Without one of them."""
    rows = getattr(plan.stand, name)
    return changed(plan, f"stand.{name}", (*rows[:row], *rows[row + 1 :]))


def with_forecast(plan: Plan, mean_m_s: float | None, gust_m_s: float | None) -> Plan:
    """Another forecast; without both figures there is none.

    Raises:
        ValueRangeError: gusts below the mean.
    """
    if mean_m_s is None and gust_m_s is None:
        return reset(plan, "stand.forecast")
    given = {"mean_m_s": mean_m_s, "gust_m_s": gust_m_s}
    base = Forecast(mean_m_s=0.0)
    return changed(plan, "stand.forecast", changed_together(base, given))
