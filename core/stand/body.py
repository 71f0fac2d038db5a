"""The stand as one body: mass, centre of mass, what the wind pushes on, where its feet are."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from core.base.angles import Floats, Indices, wrap_360
from core.base.errors import ValueRangeError
from core.mount.clearance.lengths import Clearance
from core.stand.model import Foot, Mass, Stand, StandGuy

#: Feet nearer to a line than this, m, are on it.
_ON_LINE_M = 1e-6


@dataclass(frozen=True)
class Body:
    """Sums over all that stands.

    Attributes:
        mass_kg: in all, and of it ``carried_kg`` by the tripod.
        centre_m: (east of the keyway's line, along it): the centre of mass but for what turns, in the
            tripod's frame x = r sin, y = r cos.
        height_m: of the centre of mass.
        turning_m: how far what turns moves the centre of mass, to whichever side it stands.
        drag_area_m2: sum of drag times area.
        drag_moment_m3: sum of drag times area times height.
    """

    mass_kg: float
    carried_kg: float
    centre_m: tuple[float, float]
    height_m: float
    turning_m: float
    drag_area_m2: float
    drag_moment_m3: float

    @property
    def radius_m(self) -> float:
        """Of the centre of mass from the axis."""
        return math.hypot(*self.centre_m)

    @property
    def from_keyway_deg(self) -> float:
        """Where the centre of mass lies from the axis; 0 on it."""
        return wrap_360(math.degrees(math.atan2(*self.centre_m)))


def placed_m(from_keyway_deg: float, radius_mm: float) -> tuple[float, float]:
    """X = r sin, y = r cos, in metres."""
    angle = math.radians(from_keyway_deg)
    return radius_mm / 1000.0 * math.sin(angle), radius_mm / 1000.0 * math.cos(angle)


def body_of(stand: Stand) -> Body:
    """The sums; the centre of mass is the mean of places weighted by mass (statics).

    Raises:
        ValueRangeError: nothing weighs anything, or nothing catches wind.
    """
    fixed = [one for one in stand.masses if not one.turns]
    rows = [(stand.tripod_mass_kg, 0.0, 0.0, stand.tripod_height_mm / 1000.0)]
    rows += [
        (one.mass_kg, *placed_m(one.from_keyway_deg, one.radius_mm), one.height_mm / 1000.0) for one in fixed
    ]
    rows += [(one.mass_kg, 0.0, 0.0, one.height_mm / 1000.0) for one in stand.hung]
    rows += [(one.mass_kg, 0.0, 0.0, one.height_mm / 1000.0) for one in _turning(stand)]
    table = np.array(rows)
    mass_kg = float(table[:, 0].sum())
    if mass_kg <= 0.0:
        raise ValueRangeError("stand.masses", "without a mass", "one mass above 0 kg at least")
    x_m, y_m, height_m = (table[:, 0] @ table[:, 1:] / mass_kg).tolist()
    turning = [
        np.array(placed_m(one.from_keyway_deg, one.radius_mm)) * one.mass_kg for one in _turning(stand)
    ]
    drag_area = sum(one.drag * one.area_m2 for one in stand.areas)
    drag_moment = sum(one.drag * one.area_m2 * one.height_mm / 1000.0 for one in stand.areas)
    if drag_moment <= 0.0:
        raise ValueRangeError("stand.areas", "without an area that catches wind", "one area at least")
    return Body(
        mass_kg=mass_kg,
        carried_kg=sum(one.mass_kg for one in stand.masses if one.carried)
        + sum(one.mass_kg for one in stand.hung),
        centre_m=(x_m, y_m),
        height_m=height_m,
        turning_m=float(np.hypot(*sum(turning, np.zeros(2)))) / mass_kg,
        drag_area_m2=drag_area,
        drag_moment_m3=drag_moment,
    )


def _turning(stand: Stand) -> list[Mass]:
    return [one for one in stand.masses if one.turns]


@dataclass(frozen=True, eq=False)
class Support:
    """The feet and the lines between them about which the stand can tip: their convex hull.

    Attributes:
        feet_m: (F, 2) x, y of all feet.
        normal: (E, 2) outward from each edge, of length 1.
        offset_m: (E,) how far each edge lies from the axis, along its normal.
        ends: (E, 2) indices of the feet at each edge's ends.
    """

    feet_m: Floats
    normal: Floats
    offset_m: Floats
    ends: Indices

    def inset_m(self, x_m: float, y_m: float) -> Floats:
        """(E,) how far inside each edge a place lies; negative outside."""
        return np.asarray(self.offset_m - self.normal @ np.array([x_m, y_m]))


def feet_of(stand: Stand, lengths: Clearance | None) -> tuple[Foot, ...]:
    """The stand's legs; left out, the clearance's."""
    if stand.legs or lengths is None:
        return stand.legs
    standing = [one for one in lengths.legs if one.radius_mm >= 1.0]
    return tuple(Foot(from_keyway_deg=one.from_keyway_deg, radius_mm=one.radius_mm) for one in standing)


def guys_of(stand: Stand, lengths: Clearance | None) -> tuple[StandGuy, ...]:
    """The stand's guys; left out, the clearance's."""
    if stand.guys or lengths is None:
        return stand.guys
    return tuple(
        StandGuy(
            from_keyway_deg=one.from_keyway_deg, height_mm=one.height_mm, peg_radius_mm=one.peg_radius_mm
        )
        for one in lengths.guys
    )


def support_of(feet: Sequence[Foot]) -> Support:
    """The edges of the feet's convex hull (Andrew's monotone chain).

    For three legs on one circle an edge lies R cos 60 = R/2 from the axis (geometry).

    Raises:
        ValueRangeError: fewer than three feet, or all in one line.
    """
    placed = np.array([placed_m(one.from_keyway_deg, one.radius_mm) for one in feet]).reshape(-1, 2)
    corners = _hull(placed)
    if len(corners) < 3:
        given = f"{len(feet)} feet" if len(feet) < 3 else "all in one line"
        raise ValueRangeError("stand.legs", given, "three feet at least, not in one line")
    ends = np.array([(one, other) for one, other in pairwise([*corners, corners[0]])])
    along = placed[ends[:, 1]] - placed[ends[:, 0]]
    # Counter-clockwise in x and y: outward is to the right of the way along.
    normal = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(*along.T)[:, None]
    return Support(placed, normal, np.einsum("ij,ij->i", normal, placed[ends[:, 0]]), ends)


def _hull(placed: Floats) -> list[int]:
    """Corners counter-clockwise in x and y; feet on an edge are none."""
    order = sorted(range(len(placed)), key=lambda k: tuple(placed[k].tolist()))
    chains = []
    for run in (order, order[::-1]):
        chain: list[int] = []
        for k in run:
            while len(chain) >= 2 and _left_of(placed, chain[-2], chain[-1], k) <= _ON_LINE_M:
                chain.pop()
            chain.append(k)
        chains.append(chain[:-1])
    return chains[0] + chains[1]


def _left_of(placed: Floats, start: int, end: int, k: int) -> float:
    """How far foot k lies left of the line from start to end, m; 0 where these are one place."""
    along, to = placed[end] - placed[start], placed[k] - placed[start]
    length = float(np.hypot(*along))
    return float(along[0] * to[1] - along[1] * to[0]) / length if length > _ON_LINE_M else 0.0
