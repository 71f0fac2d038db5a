"""The station as straight lines: those that turn, in the elevation axis' own frame, and those that stand.

The frame of what stands: x to the right of the keyway, y along it, z up from the ground, mm. With the boom at
bearing a from the keyway and the elevation axis at e, what turns has the directions

    side    ( cos a,        -sin a,        0     )   right, looking along boresight upright
    front   ( cos e sin a,   cos e cos a,  sin e )   boresight
    up      (-sin e sin a,  -sin e cos a,  cos e )

about the middle of the crossboom, which lies ``axis_forward_mm`` before the azimuth axis. Above 90 deg of e
the same formulas give the boom over the top.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats
from core.mount.clearance.lengths import Boom, Clearance

#: What every line that turns must clear beside those that stand.
GROUND = "the ground"
COLUMN = "the column"


@dataclass(frozen=True, eq=False)
class TurningLines:
    """L lines that turn.

    Attributes:
        names: what each is, such as "tail of the yagi".
        ends_mm: (L, 2, 3) both ends as side, front and up from the middle of the crossboom.
        axis_height_mm, axis_forward_mm: where that middle is.
        on_axis: (L,) bool, part of the crossboom, whose distance to the column never changes.
    """

    names: tuple[str, ...]
    ends_mm: Floats
    axis_height_mm: float
    axis_forward_mm: float
    on_axis: Flags

    def reach_mm(self) -> tuple[Floats, Floats]:
        """(L,) farthest from the azimuth axis that each line comes, (L,) farthest from the elevation axis.

        An end that lies r from the elevation axis moves by no more than r a radian of elevation, and by no
        more than its distance from the azimuth axis a radian of azimuth; a line by no more than its ends.
        """
        tipped = np.hypot(self.ends_mm[..., 1], self.ends_mm[..., 2])
        turned = np.hypot(self.ends_mm[..., 0], abs(self.axis_forward_mm) + tipped)
        return turned.max(axis=1), tipped.max(axis=1)

    def at(self, boom_deg: Floats, e_deg: Floats, which: slice = slice(None)) -> Floats:
        """(N, L, 2, 3) where the ends are with the boom at bearings (N,) from the keyway, elevations (N,)."""
        a, e = (np.radians(angle)[:, None, None] for angle in (boom_deg, e_deg))
        side, front, up = (self.ends_mm[None, which, :, k] for k in range(3))
        ahead = self.axis_forward_mm + front * np.cos(e) - up * np.sin(e)
        x = side * np.cos(a) + ahead * np.sin(a)
        y = ahead * np.cos(a) - side * np.sin(a)
        z = np.broadcast_to(self.axis_height_mm + front * np.sin(e) + up * np.cos(e), x.shape)
        return np.stack([x, y, z], axis=-1)


@dataclass(frozen=True, eq=False)
class StandingLines:
    """F lines that stand.

    Attributes:
        names: such as "leg 1".
        ends_mm: (F, 2, 3) both ends.
        radius_mm: (F,) what is round about them.
    """

    names: tuple[str, ...]
    ends_mm: Floats
    radius_mm: Floats


def turning_lines(lengths: Clearance) -> TurningLines:
    """The crossboom's halves, and of each boom its tail, its front and the elements at their ends."""
    named: list[tuple[str, tuple[Point, Point]]] = []
    for name, length in (
        ("left", -lengths.crossboom_left_mm),
        ("right", lengths.crossboom_right_mm),
    ):
        if length:
            named.append((f"{name} half of the crossboom", ((0.0, 0.0, 0.0), (length, 0.0, 0.0))))
    on_axis = len(named)
    for boom in lengths.booms:
        named += _of_boom(boom)
    return TurningLines(
        names=tuple(name for name, _ends in named),
        ends_mm=np.array([ends for _name, ends in named], dtype=np.float64).reshape(-1, 2, 3),
        axis_height_mm=lengths.axis_height_mm,
        axis_forward_mm=lengths.axis_forward_mm,
        on_axis=np.arange(len(named)) < on_axis,
    )


#: Side, front and up, mm.
Point = tuple[float, float, float]


def _of_boom(boom: Boom) -> list[tuple[str, tuple[Point, Point]]]:
    ends = (
        ("tail", -boom.tail_mm, boom.tail_half_element_mm),
        ("front", boom.front_mm, boom.front_half_element_mm),
    )
    found: list[tuple[str, tuple[Point, Point]]] = []
    for name, along, half in ends:
        if along:
            lies = ((boom.side_mm, 0.0, 0.0), (boom.side_mm, along, 0.0))
            found.append((f"{name} of the {boom.name}", lies))
        if not half:
            continue
        slant = half / np.sqrt(2.0)
        crossed = {
            "horizontal": ((half, 0.0),),
            "vertical": ((0.0, half),),
            "X": ((slant, slant), (slant, -slant)),
        }[boom.elements]
        for side, up in crossed:
            across = ((boom.side_mm - side, along, -up), (boom.side_mm + side, along, up))
            found.append((f"{name} elements of the {boom.name}", across))
    return found


def standing_lines(lengths: Clearance) -> StandingLines:
    """The legs, the guys and the column."""
    named: list[tuple[str, tuple[Point, Point], float]] = []
    for number, leg in enumerate(lengths.legs, 1):
        foot = _placed(leg.from_keyway_deg, leg.radius_mm, 0.0)
        top = _placed(leg.from_keyway_deg, leg.top_radius_mm, leg.top_height_mm)
        named.append((f"leg {number}", (foot, top), 0.0))
    for number, guy in enumerate(lengths.guys, 1):
        peg = _placed(guy.from_keyway_deg, guy.peg_radius_mm, 0.0)
        named.append((f"guy {number}", (peg, (0.0, 0.0, guy.height_mm)), 0.0))
    if lengths.column is not None:
        top = (0.0, 0.0, lengths.column.top_height_mm)
        named.append((COLUMN, ((0.0, 0.0, 0.0), top), lengths.column.radius_mm))
    return StandingLines(
        names=tuple(name for name, _ends, _radius in named),
        ends_mm=np.array([ends for _name, ends, _radius in named], dtype=np.float64).reshape(-1, 2, 3),
        radius_mm=np.array([radius for _name, _ends, radius in named], dtype=np.float64),
    )


def _placed(from_keyway_deg: float, radius_mm: float, height_mm: float) -> Point:
    angle = np.radians(from_keyway_deg)
    return float(radius_mm * np.sin(angle)), float(radius_mm * np.cos(angle)), height_mm
