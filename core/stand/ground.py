"""The ground: what leans when a foot sinks, and what the station strikes when it falls."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from core.base.angles import Floats, wrap_360
from core.mount.clearance.lengths import Boom, Clearance
from core.stand.body import Support
from core.stand.model import Near, Stand, StandGuy

#: A plane this far under a foot, m, or a centre this far outside its triangle, is rounding.
_ROUNDING = 1e-9


@dataclass(frozen=True)
class Settling:
    """What leans when one foot sinks.

    Attributes:
        from_keyway_deg: the foot's bearing.
        lean_deg: how far the axis then leans; 0 where the others still carry.
        toward_deg: toward where, clockwise from the keyway.
    """

    from_keyway_deg: float
    lean_deg: float
    toward_deg: float


def settlings(support: Support, centre_m: tuple[float, float], sinks_m: float) -> tuple[Settling, ...]:
    """The lean with each foot in turn sunk by ``sinks_m``; the stand does not bend.

    It comes to rest on three feet around its centre of mass with no other foot in the ground; where it can
    rock between two such rests, the worse is told. For three feet tan(lean) = sink / distance of the foot
    from the line of the other two (geometry).
    """
    return tuple(
        _settling(support.feet_m, foot, np.array(centre_m), sinks_m) for foot in range(len(support.feet_m))
    )


def _settling(feet_m: Floats, foot: int, centre_m: Floats, sinks_m: float) -> Settling:
    height = np.zeros(len(feet_m))
    height[foot] = -sinks_m
    design = np.column_stack([np.ones(len(feet_m)), feet_m])
    worst: Floats = np.zeros(2)
    for three in combinations(range(len(feet_m)), 3):
        corners = design[list(three)]
        if abs(np.linalg.det(corners)) < _ROUNDING:
            continue
        shares = np.linalg.solve(corners.T, np.array([1.0, *centre_m]))
        plane = np.linalg.solve(corners, height[list(three)])
        if shares.min() < -_ROUNDING or (design @ plane - height).min() < -_ROUNDING:
            continue
        if np.hypot(*plane[1:]) > np.hypot(*worst):
            worst = np.asarray(plane[1:], dtype=np.float64)
    return Settling(
        from_keyway_deg=wrap_360(math.degrees(math.atan2(*feet_m[foot]))),
        lean_deg=math.degrees(math.atan(float(np.hypot(*worst)))),
        toward_deg=wrap_360(math.degrees(math.atan2(*-worst))) if worst.any() else 0.0,
    )


@dataclass(frozen=True)
class Fall:
    """What the station reaches when it falls, from the axis.

    Attributes:
        circle_m: on the ground.
        highest_m: the highest point over the ground.
        near: of each thing near by, whether it is reached.
        overhead: names of what hangs over the circle, too high to be reached.
        top_known: the booms' lengths or the highest point are typed; else it reaches further than is told.
    """

    circle_m: float
    highest_m: float
    near: tuple[tuple[Near, bool], ...]
    overhead: tuple[str, ...]
    top_known: bool

    @property
    def reached(self) -> tuple[str, ...]:
        """Names of what is reached."""
        return tuple(one.name for one, is_reached in self.near if is_reached)


def fall_of(stand: Stand, lengths: Clearance | None, guys: Sequence[StandGuy], support: Support) -> Fall:
    """The station turns about a foot and lies down: circles about the foot (geometry).

    A point on the axis at height h, with the foot at radius r, comes down r + sqrt(r^2 + h^2) from the axis;
    a boom that may point anywhere reaches its length further. A thing at height z and distance D is reached
    where sqrt((D - r)^2 + z^2) is at most sqrt(r^2 + h^2) and that length; nearer than the foot, where z is.
    """
    radius = np.hypot(*support.feet_m.T)
    height, arm = np.array(_points_m(stand, lengths, guys)).T
    reach = (np.hypot(radius[:, None], height) + arm).max(axis=1)

    def strikes(one: Near) -> bool:
        apart = np.hypot(np.maximum(one.distance_m - radius, 0.0), one.height_m)
        return bool((apart <= reach).any())

    circle = float((radius + reach).max())
    above = [one for one in stand.near if one.height_m > 0.0 and one.distance_m <= circle]
    return Fall(
        circle_m=circle,
        highest_m=highest_m(stand, lengths, guys),
        near=tuple((one, strikes(one)) for one in stand.near),
        overhead=tuple(one.name for one in above if not strikes(one)),
        top_known=top_known(stand, lengths),
    )


def top_known(stand: Stand, lengths: Clearance | None) -> bool:
    """Something typed says how high a boom comes; masses, areas and the tripod do not."""
    return lengths is not None or stand.highest_mm is not None


def highest_m(stand: Stand, lengths: Clearance | None, guys: Sequence[StandGuy] = ()) -> float:
    """The highest that anything of the station comes to over the ground, a boom pointing straight up."""
    return max(height + arm for height, arm in _points_m(stand, lengths, guys))


def _points_m(stand: Stand, lengths: Clearance | None, guys: Sequence[StandGuy]) -> list[tuple[float, float]]:
    """(height on the axis, length that turns about it any way) of all that is told of, in metres."""
    heights = [one.height_mm for one in stand.masses] + [one.height_mm for one in stand.areas]
    heights += [one.height_mm for one in stand.hung] + [one.height_mm for one in guys]
    heights += [stand.tripod_height_mm] + ([stand.highest_mm] if stand.highest_mm is not None else [])
    points = [(height / 1000.0, 0.0) for height in heights]
    if lengths is not None:
        tips = [_tip_mm(one) for one in lengths.booms]
        arm = max([*tips, lengths.crossboom_left_mm, lengths.crossboom_right_mm])
        points.append((lengths.axis_height_mm / 1000.0, (arm + abs(lengths.axis_forward_mm)) / 1000.0))
    return points


def _tip_mm(boom: Boom) -> float:
    """The furthest of a boom and its elements from the middle of the crossboom, on the safe side."""
    return max(
        math.hypot(abs(boom.side_mm) + boom.front_half_element_mm, boom.front_mm),
        math.hypot(abs(boom.side_mm) + boom.tail_half_element_mm, boom.tail_mm),
    )
