"""Walls between holes, counterbores, step and outside: edge distances and collisions."""

from __future__ import annotations

import math
from itertools import combinations

from core.base.words import plain
from core.plate.body.features import Feature, pin_screw
from core.plate.body.shape import Hole, faces_at, gap_mm, on_step, step_radii
from core.plate.checks.check import PRACTICE, Check
from core.plate.model import Plate

#: No wall is thinner than this, and none thinner than half the smaller hole.
LEAST_WALL_MM = 2.0
WALL_SHARE = 0.5
#: Between a hole beside the step and its root: the corner's radius and the chamfer.
ROOT_MM = 0.5


def least_wall_mm(*diameters_mm: float) -> float:
    """Half the smaller hole's diameter, 2 mm at least."""
    return max(LEAST_WALL_MM, WALL_SHARE * min(diameters_mm))


def spacing_checks(plate: Plate, features: tuple[Feature, ...]) -> list[Check]:
    """The tightest wall of each kind, and every other one that is too thin."""
    holes = [feature for feature in features if feature.cut is not None]
    return [
        *_worst_first(_between(holes)),
        *_worst_first([_to_outside(plate, hole) for hole in holes]),
        *_worst_first(_to_step(plate, holes)),
        *_worst_first(_head_seats(plate, holes)),
    ]


def _worst_first(checks: list[Check]) -> list[Check]:
    """Those that do not hold, the worst first; where all hold the tightest alone."""
    ordered = sorted(checks, key=lambda check: check.margin)
    return [check for check in ordered if not check.holds] or ordered[:1]


def _wall(name: str, wall_mm: float, limit_mm: float, numbers: str, advice: str) -> Check:
    formula = "wall = distance of centres - both radii, or the floor where one lies over the other"
    return Check(name, wall_mm, limit_mm, "mm", "at least", formula, numbers, PRACTICE, advice)


def _between(holes: list[Feature]) -> list[Check]:
    """Each pair of neighbours; a bolt and its counterbore are one, told by the tighter of the two."""
    tightest: dict[tuple[str, str], Check] = {}
    for one, other in combinations(holes, 2):
        names = one.hole_name, other.hole_name
        if names[0] == names[1]:
            continue
        check = _pair(one, other)
        if names not in tightest or check.margin < tightest[names].margin:
            tightest[names] = check
    return list(tightest.values())


def _pair(one: Feature, other: Feature) -> Check:
    assert one.cut is not None
    assert other.cut is not None
    wall_mm, limit_mm = gap_mm(one.cut, other.cut), least_wall_mm(one.diameter_mm, other.diameter_mm)
    apart_mm = math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)
    numbers = (
        f"centres {plain(apart_mm)} mm apart, radii {plain(one.diameter_mm / 2)} and "
        f"{plain(other.diameter_mm / 2)} mm"
    )
    short_mm = max(0.0, limit_mm - wall_mm)
    moved = "index" if "index" in (one.role, other.role) else one.role
    advice = f"Move the {moved} hole {plain(short_mm, 1)} mm away, or take another angle or radius."
    return _wall(f"wall between {one.name} and {other.name}", wall_mm, limit_mm, numbers, advice)


def _to_outside(plate: Plate, hole: Feature) -> Check:
    edge_mm = plate.outside_diameter_mm / 2.0
    wall_mm, limit_mm = edge_mm - hole.radius_mm - hole.diameter_mm / 2.0, least_wall_mm(hole.diameter_mm)
    numbers = f"{plain(edge_mm)} - {plain(hole.radius_mm)} - {plain(hole.diameter_mm / 2)} mm"
    short_mm = max(0.0, limit_mm - wall_mm)
    advice = f"Make the outside {plain(2 * short_mm, 1)} mm larger, or move the hole inward."
    return _wall(f"wall from {hole.name} to the outside", wall_mm, limit_mm, numbers, advice)


def _to_step(plate: Plate, holes: list[Feature]) -> list[Check]:
    """To the step's edges: a wall where the hole is cut in the step, a corner's radius where beside it."""
    inner_mm, outer_mm = step_radii(plate)
    if plate.step is None:
        return []
    found = []
    for hole in holes:
        if not _meets_step(plate, hole):
            continue
        edges = [edge_mm for edge_mm in (inner_mm, outer_mm) if edge_mm > 0.0]
        nearest = min(edges, key=lambda edge_mm: abs(hole.radius_mm - edge_mm))
        wall_mm = abs(hole.radius_mm - nearest) - hole.diameter_mm / 2.0
        limit_mm = least_wall_mm(hole.diameter_mm) if on_step(plate, hole.x_mm, hole.y_mm) else ROOT_MM
        numbers = (
            f"edge at {plain(nearest)} mm, hole at {plain(hole.radius_mm)} mm, "
            f"radius {plain(hole.diameter_mm / 2)} mm"
        )
        advice = f"Move the hole or the step's edge {plain(max(0.0, limit_mm - wall_mm), 1)} mm apart."
        found.append(_wall(f"wall from {hole.name} to the step's edge", wall_mm, limit_mm, numbers, advice))
    return found


def _meets_step(plate: Plate, hole: Feature) -> bool:
    """Whether the hole reaches the step's side, where it would cut its edge."""
    assert plate.step is not None
    assert hole.cut is not None
    low_mm, high_mm = faces_at(plate, hole.x_mm, hole.y_mm)
    if plate.step.side == "below":
        return hole.cut.low_mm < low_mm + plate.step.height_mm * on_step(plate, hole.x_mm, hole.y_mm) + 1e-9
    return hole.cut.high_mm > high_mm - plate.step.height_mm * on_step(plate, hole.x_mm, hole.y_mm) - 1e-9


def _head_seats(plate: Plate, holes: list[Feature]) -> list[Check]:
    """The pin's head wants a whole face under it, and must pass the step beside it."""
    head_mm = pin_screw(plate).knurled_mm
    found = []
    for index in (hole for hole in holes if hole.role == "index"):
        found += [_seat(index, other, head_mm) for other in holes if _cuts_seat(index, other, plate)]
        if plate.step is not None and plate.step.side == "below":
            found.append(_head_to_step(plate, index, head_mm))
    return found


def _cuts_seat(index: Feature, other: Feature, plate: Plate) -> bool:
    """Whether another hole comes out on the face that the pin's head lies on."""
    if other.name == index.name or other.cut is None:
        return False
    return other.cut.low_mm <= faces_at(plate, other.x_mm, other.y_mm)[0] + 1e-9


def _seat(index: Feature, other: Feature, head_mm: float) -> Check:
    assert other.cut is not None
    seat = Hole(index.x_mm, index.y_mm, head_mm / 2.0, other.cut.low_mm, other.cut.high_mm)
    wall_mm = gap_mm(seat, other.cut)
    numbers = f"head {plain(head_mm)} mm in {index.name}, {other.name} {plain(other.diameter_mm)} mm"
    advice = (
        f"Move the index hole {plain(max(0.0, ROOT_MM - wall_mm), 1)} mm away: the head needs a whole face."
    )
    return _wall(
        f"seat of the pin's head at {index.name}, to {other.name}", wall_mm, ROOT_MM, numbers, advice
    )


def _head_to_step(plate: Plate, index: Feature, head_mm: float) -> Check:
    inner_mm, outer_mm = step_radii(plate)
    half_mm = head_mm / 2.0
    inside = inner_mm - index.radius_mm - half_mm
    wall_mm = (
        max(index.radius_mm - half_mm - outer_mm, inside)
        if inner_mm
        else index.radius_mm - half_mm - outer_mm
    )
    numbers = f"hole at {plain(index.radius_mm)} mm, head {plain(head_mm)} mm, step to {plain(outer_mm)} mm"
    advice = f"Put the index holes {plain(max(0.0, ROOT_MM - wall_mm), 1)} mm further from the step."
    return _wall(f"pin's head at {index.name} to the step", wall_mm, ROOT_MM, numbers, advice)
