"""What the stand's pictures show: the station from the side, and what lies round it, in metres."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.angles import wrap_360
from core.stand.answer import StandAnswer
from core.stand.body import guys_of, placed_m
from core.stand.model import Near


@dataclass(frozen=True)
class Placed:
    """Something of the side view.

    Attributes:
        name: what.
        across_m: from the axis, positive toward where the wind blows.
        height_m: over the ground.
        size: kg of a mass, m2 of an area with its drag; 0 elsewhere.
        turns: it counts on every side.
    """

    name: str
    across_m: float
    height_m: float
    size: float = 0.0
    turns: bool = False


@dataclass(frozen=True)
class SideView:
    """The station seen square to the wind toward one direction, which blows to the right.

    Attributes:
        toward_deg: true bearing that it blows toward.
        feet, masses, hung, areas: what stands, weighs and catches wind.
        pegs: where guys are pegged, each with the height it is made fast at.
        centre: of mass, and how far what turns moves it, as its size.
        tips_at_m: how far the line about which it tips lies from the axis, along the wind.
        knee_m, mast_m: where the legs meet, and up to where the axis is drawn: by the tripod's middle and the
            highest mass. The plan tells of neither.
        highest_m: of all.
    """

    toward_deg: float
    feet: tuple[float, ...]
    masses: tuple[Placed, ...]
    hung: tuple[Placed, ...]
    areas: tuple[Placed, ...]
    pegs: tuple[Placed, ...]
    centre: Placed
    tips_at_m: float
    knee_m: float
    mast_m: float
    highest_m: float


@dataclass(frozen=True)
class OnGround:
    """A foot or a peg on the ground: its true bearing and its distance from the axis."""

    bearing_deg: float
    distance_m: float


@dataclass(frozen=True)
class NearBy:
    """A thing near by, and whether the station reaches it when it falls.

    Attributes:
        near: what it is.
        reached: it is struck.
        overhead: it hangs over the circle.
        known: the booms' lengths are typed; else what is not reached may be.
    """

    near: Near
    reached: bool
    overhead: bool
    known: bool = True


@dataclass(frozen=True)
class GroundView:
    """The ground from above, north up.

    Attributes:
        feet, pegs: where they are.
        circle_m: what the station reaches when it falls.
        near: what is typed, the nearest first.
    """

    feet: tuple[OnGround, ...]
    pegs: tuple[OnGround, ...]
    circle_m: float
    near: tuple[NearBy, ...]


def side_view(found: StandAnswer, toward_deg: float) -> SideView:
    """The station with the wind toward a true bearing blowing to the right."""
    stand = found.stand
    angle = math.radians(toward_deg - found.keyway_deg)
    along = (math.sin(angle), math.cos(angle))

    def across(place_m: tuple[float, float]) -> float:
        return place_m[0] * along[0] + place_m[1] * along[1]

    masses = tuple(
        Placed(
            one.name,
            0.0 if one.turns else across(placed_m(one.from_keyway_deg, one.radius_mm)),
            one.height_mm / 1000.0,
            one.mass_kg,
            one.turns,
        )
        for one in stand.masses
    )
    body, support = found.body, found.support
    with_wind = support.normal @ along
    leading = max(range(len(with_wind)), key=lambda edge: float(with_wind[edge]))
    return SideView(
        toward_deg=wrap_360(toward_deg),
        feet=tuple(across((float(x), float(y))) for x, y in support.feet_m),
        masses=masses,
        hung=tuple(Placed(one.name, 0.0, one.height_mm / 1000.0, one.mass_kg) for one in stand.hung),
        areas=tuple(
            Placed(one.name, 0.0, one.height_mm / 1000.0, one.drag * one.area_m2) for one in stand.areas
        ),
        pegs=tuple(
            Placed("guy", across(placed_m(one.from_keyway_deg, one.peg_radius_mm)), one.height_mm / 1000.0)
            for one in guys_of(stand, found.lengths)
        ),
        centre=Placed("centre of mass", across(body.centre_m), body.height_m, body.turning_m),
        tips_at_m=float(support.offset_m[leading] / with_wind[leading]),
        knee_m=_knee_m(found),
        mast_m=max([_knee_m(found), *(one.height_m for one in masses)]),
        highest_m=found.fall.highest_m,
    )


def _knee_m(found: StandAnswer) -> float:
    """Where the legs meet: the clearance's tops, else twice the middle of the tripod's mass."""
    lengths = found.lengths
    if lengths is not None and lengths.legs:
        return max(leg.top_height_mm for leg in lengths.legs) / 1000.0
    return min(2.0 * found.stand.tripod_height_mm / 1000.0, found.fall.highest_m)


def ground_view(found: StandAnswer) -> GroundView:
    """Feet, pegs, the fall circle and what lies near it."""

    def turned(x_m: float, y_m: float) -> OnGround:
        bearing = wrap_360(math.degrees(math.atan2(x_m, y_m)) + found.keyway_deg)
        return OnGround(bearing, math.hypot(x_m, y_m))

    fall = found.fall
    near = [NearBy(one, reached, one.name in fall.overhead, fall.top_known) for one, reached in fall.near]
    return GroundView(
        feet=tuple(turned(float(x), float(y)) for x, y in found.support.feet_m),
        pegs=tuple(
            turned(*placed_m(one.from_keyway_deg, one.peg_radius_mm))
            for one in guys_of(found.stand, found.lengths)
        ),
        circle_m=fall.circle_m,
        near=tuple(sorted(near, key=lambda one: one.near.distance_m)),
    )
