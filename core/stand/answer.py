"""The stand's whole answer: load, wind by direction, what holds it, what leans, what it could fall on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, wrap_360
from core.mount.clearance.lengths import Clearance
from core.stand.body import Body, Support, body_of, feet_of, guys_of, support_of
from core.stand.ground import Fall, Settling, fall_of, settlings
from core.stand.guys import Guys, guys_in
from core.stand.holding import Stake, ballast_kg, slide_gust_m_s, stakes
from core.stand.model import Stand
from core.stand.tipping import Tipping, tipping_of
from core.stand.wind import Advice, Limits, Wind, advice_of, limits_of, pressure_pa, wind_of

#: The rose has a direction every so many degrees, and the exact ones of the edges and corners between.
ROSE_STEP_DEG = 5.0
#: Directions nearer than this are one.
_SAME_DEG = 1e-6


@dataclass(frozen=True)
class Load:
    """What the tripod carries against what it is rated for.

    Attributes:
        kg: masses and what hangs.
        rating_kg: None where it is not told.
        with_ballast_kg: with the ballast wanted hung from it.
        with_guys_kg: with the guys pressing it down in the gust.
    """

    kg: float
    rating_kg: float | None
    with_ballast_kg: float
    with_guys_kg: float

    @property
    def holds(self) -> bool | None:
        """It is within the rating; None where there is none."""
        return None if self.rating_kg is None else self.kg <= self.rating_kg


@dataclass(frozen=True, eq=False)
class Rose:
    """The mean wind that tips the stand in its gusts, over the directions.

    Attributes:
        toward_deg: (N,) true bearings that the wind blows toward, rising from 0.
        mean_m_s: (N,) without the margin.
    """

    toward_deg: Floats
    mean_m_s: Floats


@dataclass(frozen=True, eq=False)
class StandAnswer:
    """All that is told of a stand in a wind.

    Attributes:
        stand, lengths, keyway_deg: of what, and where the keyway points, true.
        body, support, tipping: its sums, its feet, and its tipping at any direction from the keyway.
        wind, limits, advice: the wind reckoned with, and what to do in it.
        rose: by true bearing.
        weakest_deg, strongest_deg: true bearings toward which least and most wind tips it.
        slide_gust_m_s: the gust that slides it.
        load, stakes, guys, settlings, fall: as their modules say.
        ballast_kg: to be hung on the axis in this gust; None where none helps.
    """

    stand: Stand
    lengths: Clearance | None
    keyway_deg: float
    body: Body
    support: Support
    tipping: Tipping
    wind: Wind
    limits: Limits
    advice: Advice
    rose: Rose
    weakest_deg: float
    strongest_deg: float
    slide_gust_m_s: float
    load: Load
    ballast_kg: float | None
    stakes: tuple[Stake, ...]
    guys: Guys
    settlings: tuple[Settling, ...]
    fall: Fall

    def tip_mean_m_s(self, toward_deg: float) -> float:
        """The mean wind toward a true bearing that tips it in its gusts, without the margin."""
        at = np.array([toward_deg - self.keyway_deg])
        return float(self.tipping.gust_m_s(at)[0]) / self.stand.gust_factor

    @property
    def slide_mean_m_s(self) -> float:
        """The mean wind that slides it in its gusts."""
        return self.slide_gust_m_s / self.stand.gust_factor


def stand_tipping(stand: Stand, lengths: Clearance | None) -> Tipping:
    """How the stand tips, in the tripod's frame.

    Raises:
        ValueRangeError: too few feet, no mass or no area.
    """
    return tipping_of(support_of(feet_of(stand, lengths)), body_of(stand), stand.air_density_kg_m3)


def stand_answer(
    stand: Stand,
    lengths: Clearance | None,
    keyway_deg: float,
    mean_m_s: float | None = None,
    gust_m_s: float | None = None,
) -> StandAnswer:
    """Everything of a stand in a wind; pure.

    Args:
        stand: the plan's.
        lengths: the plan's clearance: legs, guys and booms that the stand leaves out.
        keyway_deg: true bearing of the keyway.
        mean_m_s, gust_m_s: the wind; left out, the stand's forecast, else the top of force 4.

    Raises:
        ValueRangeError: too few feet, no mass, no area, or no such wind.
    """
    wind = wind_of(stand, mean_m_s, gust_m_s)
    tipping = stand_tipping(stand, lengths)
    body, support = tipping.body, tipping.support
    gust_pa = pressure_pa(wind.gust_m_s, stand.air_density_kg_m3)
    ballast = ballast_kg(tipping, gust_pa, stand.margin)
    pegged = guys_of(stand, lengths)
    guys = guys_in(pegged, stand.margin * gust_pa * body.drag_moment_m3, wind.gust_m_s)
    slide = slide_gust_m_s(body, stand.friction, stand.air_density_kg_m3)
    limits = _limits(tipping, slide, guys, stand.margin)
    carried = body.carried_kg
    return StandAnswer(
        stand=stand,
        lengths=lengths,
        keyway_deg=keyway_deg,
        body=body,
        support=support,
        tipping=tipping,
        wind=wind,
        limits=limits,
        advice=advice_of(wind, limits),
        rose=_rose(tipping, keyway_deg, stand.gust_factor),
        weakest_deg=wrap_360(tipping.weakest_deg + keyway_deg),
        strongest_deg=wrap_360(tipping.strongest_deg + keyway_deg),
        slide_gust_m_s=slide,
        load=Load(carried, stand.tripod_rating_kg, carried + (ballast or 0.0), carried + guys.down_kg),
        ballast_kg=ballast,
        stakes=stakes(tipping, gust_pa, stand.margin),
        guys=guys,
        settlings=settlings(support, body.centre_m, stand.settling_mm / 1000.0),
        fall=fall_of(stand, lengths, pegged, support),
    )


def _limits(tipping: Tipping, slide_gust_m_s: float, guys: Guys, margin: float) -> Limits:
    """Guys count where they hold every wind and what they hold is told; not against sliding, though."""
    tips = float(tipping.gust_m_s(np.array([tipping.weakest_deg]))[0])
    by_guys = 0.0 if guys.gust_m_s is None else guys.gust_m_s * margin**0.5  # its margin is in it already
    return limits_of(min(max(tips, by_guys), slide_gust_m_s), margin)


def _rose(tipping: Tipping, keyway_deg: float, gust_factor: float) -> Rose:
    """Even steps of true bearing, with the exact bearings of edges and corners among them."""
    exact = np.concatenate([tipping.edges_deg(), tipping.corners_deg()])
    toward = np.concatenate([np.arange(0.0, 360.0, ROSE_STEP_DEG), np.asarray(wrap_360(exact + keyway_deg))])
    toward = np.sort(toward, kind="stable")
    toward = toward[np.concatenate([[True], np.diff(toward) > _SAME_DEG])]
    return Rose(toward, tipping.gust_m_s(toward - keyway_deg) / gust_factor)
