"""What holds the stand in a gust: ballast, stakes at the feet, friction."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.stand.body import Body
from core.stand.tipping import Tipping
from core.stand.wind import GRAVITY_M_S2, pressure_pa

#: Less than this is rounding, N m.
_NOTHING_NM = 1e-9


@dataclass(frozen=True)
class Stake:
    """What the stake at one foot must hold, straight up."""

    from_keyway_deg: float
    pull_n: float


def missing_nm(tipping: Tipping, gust_pa: float, margin: float) -> Floats:
    """(E,) moment about each edge that weight leaves to be held, at least 0 (moments about a line, statics).

    Args:
        tipping: of the stand.
        gust_pa: pressure of the gust, which blows square to the edge.
        margin: on the wind's moment.
    """
    body = tipping.body
    wind = margin * gust_pa * body.drag_moment_m3
    left = wind - body.mass_kg * GRAVITY_M_S2 * tipping.holding_m
    return np.asarray(np.where(left > _NOTHING_NM, left, 0.0))


def ballast_kg(tipping: Tipping, gust_pa: float, margin: float) -> float | None:
    """Mass hung on the axis that makes up for what is missing; None where the axis is outside the feet.

    m g a = margin q sum(Cd A h) - W g d about the worst edge, a being the axis' distance from it (statics).
    For three legs a = R/2, and the same mass shared equally on the feet does the same.
    """
    missing = missing_nm(tipping, gust_pa, margin)
    lever = tipping.support.offset_m
    wanted = missing > 0.0
    if (lever[wanted] <= 0.0).any():
        return None
    return float((missing[wanted] / lever[wanted]).max(initial=0.0)) / GRAVITY_M_S2


def stakes(tipping: Tipping, gust_pa: float, margin: float) -> tuple[Stake, ...]:
    """What a stake at each foot must hold if every foot has one, and those that lift share alike.

    About an edge the stakes pull at their feet's distances from it: T = missing / sum of the distances
    (statics); 1.5 R for the one foot opposite an edge of three.
    """
    support = tipping.support
    inside = support.offset_m[:, None] - support.normal @ support.feet_m.T
    inside = np.where(inside > 1e-6, inside, 0.0)
    pull = missing_nm(tipping, gust_pa, margin) / inside.sum(axis=1)
    worst = np.where(inside > 0.0, pull[:, None], 0.0).max(axis=0)
    angle = np.degrees(np.arctan2(*support.feet_m.T)) % 360.0
    return tuple(Stake(float(at), float(one)) for at, one in zip(angle, worst, strict=True))


def slide_gust_m_s(body: Body, friction: float, air_density_kg_m3: float) -> float:
    """The speed at which the feet slide: mu W g = q sum(Cd A) (Coulomb's friction)."""
    return math.sqrt(
        friction * body.mass_kg * GRAVITY_M_S2 / (pressure_pa(1.0, air_density_kg_m3) * body.drag_area_m2)
    )
