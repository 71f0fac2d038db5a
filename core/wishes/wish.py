"""A wish of where the keyway points: how far a bearing falls short of it, and where that bends.

A shortfall is 0 where the wish is met best and 1 where it is met worst. Up to a quarter of that it is granted
and costs nothing; beyond, it costs its worth in proportion. Between its bends what it costs has no valley (it
is straight, or bulges up), so the least of several wishes together lies on a bend of one of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

import numpy as np

from core.base.angles import Floats, wrap_180, wrap_360
from core.stand.tipping import Tipping

WishName = Literal["seconds lost", "a leg downhill", "the lee", "the cable's side"]

#: Up to this shortfall a wish is granted.
GRANTED = 0.25


class Wish(Protocol):
    """What is wished of the keyway's bearing, whichever the hole."""

    @property
    def name(self) -> WishName:
        """By which it is told."""

    @property
    def worth_s(self) -> float:
        """Seconds of signal it is worth."""

    def shortfall(self, keyway_deg: Floats) -> Floats:
        """(N,) from 0 to 1 at keyway bearings (N,)."""

    def bends_deg(self) -> Floats:
        """Keyway bearings at which the shortfall bends, or comes to be granted."""

    def words(self, keyway_deg: float) -> str:
        """What becomes of it at a keyway bearing, one sentence, number first."""


def cost_s(wish: Wish, keyway_deg: Floats) -> Floats:
    """(N,) what a wish costs: nothing where it is granted, its worth where it is met worst."""
    over = np.maximum(wish.shortfall(keyway_deg) - GRANTED, 0.0) / (1.0 - GRANTED)
    return np.asarray(wish.worth_s * over)


@dataclass(frozen=True)
class LegDownhill:
    """A leg stands where the ground falls, so that the stand does not roll over its lower edge.

    Attributes:
        worth_s: seconds.
        legs_deg: of each leg from the keyway.
        downhill_deg: true bearing in which the ground falls.
    """

    worth_s: float
    legs_deg: tuple[float, ...]
    downhill_deg: float
    name: WishName = "a leg downhill"

    def off_deg(self, keyway_deg: Floats) -> Floats:
        """(N,) from downhill to the nearest leg."""
        legs = keyway_deg[..., None] + np.array(self.legs_deg)
        return np.asarray(np.abs(wrap_180(legs - self.downhill_deg)).min(axis=-1))

    @property
    def worst_deg(self) -> float:
        """In the middle of the widest gap between two legs."""
        return float(self._gaps_deg().max()) / 2.0

    def _sorted(self) -> Floats:
        return np.sort(np.asarray(wrap_360(np.array(self.legs_deg))))

    def _gaps_deg(self) -> Floats:
        legs = self._sorted()
        return np.diff(np.append(legs, legs[0] + 360.0))

    def shortfall(self, keyway_deg: Floats) -> Floats:
        """As `Wish`: in proportion to the degrees off."""
        return self.off_deg(keyway_deg) / self.worst_deg

    def bends_deg(self) -> Floats:
        """As `Wish`: a leg downhill, the end of what is granted, the middle between two legs."""
        legs = self._sorted()
        granted = GRANTED * self.worst_deg
        at = np.concatenate([legs, legs - granted, legs + granted, legs + self._gaps_deg() / 2.0])
        return np.asarray(wrap_360(self.downhill_deg - at))

    def words(self, keyway_deg: float) -> str:
        """As `Wish`."""
        return f"{float(self.off_deg(np.array([keyway_deg]))[0]):.0f} deg from downhill to the nearest leg."


@dataclass(frozen=True, eq=False)
class Lee:
    """The stand is strong toward where the wind blows.

    Attributes:
        worth_s: seconds.
        tipping: the stand's.
        wind_from_deg: true bearing that the wind comes from.
        gust_factor: the speeds told are means.
    """

    worth_s: float
    tipping: Tipping
    wind_from_deg: float
    gust_factor: float
    name: WishName = "the lee"

    def _toward(self, keyway_deg: Floats) -> Floats:
        """From the keyway, where the wind blows toward."""
        return self.wind_from_deg + 180.0 - keyway_deg

    def _ends(self) -> tuple[float, float]:
        """The gusts that tip it in its weakest and in its strongest direction."""
        both = np.array([self.tipping.weakest_deg, self.tipping.strongest_deg])
        weakest, strongest = self.tipping.gust_m_s(both).tolist()
        return weakest, strongest

    def mean_m_s(self, keyway_deg: Floats) -> Floats:
        """(N,) the mean wind from there that tips it in its gusts."""
        return self.tipping.gust_m_s(self._toward(keyway_deg)) / self.gust_factor

    def shortfall(self, keyway_deg: Floats) -> Floats:
        """As `Wish`: in proportion to the speed, from the strongest direction's to the weakest's."""
        weakest, strongest = self._ends()
        if strongest - weakest < 1e-9:
            return np.zeros(keyway_deg.shape)
        gust = self.tipping.gust_m_s(self._toward(keyway_deg))
        return np.asarray(np.clip((strongest - gust) / (strongest - weakest), 0.0, 1.0))

    def bends_deg(self) -> Floats:
        """As `Wish`: square to edges, at corners, and where V^2 = held / cos is just granted."""
        weakest, strongest = self._ends()
        edges = self.tipping.edges_deg()
        toward = [edges, self.tipping.corners_deg()]
        if weakest > 0.0:
            granted = strongest - GRANTED * (strongest - weakest)
            cosine = self.tipping.holding_m * self.tipping.per_metre / granted**2
            some = cosine <= 1.0
            beside = np.degrees(np.arccos(cosine[some]))
            toward += [edges[some] - beside, edges[some] + beside]
        return np.asarray(wrap_360(self.wind_from_deg + 180.0 - np.concatenate(toward)))

    def words(self, keyway_deg: float) -> str:
        """As `Wish`."""
        mean = float(self.mean_m_s(np.array([keyway_deg]))[0])
        weakest, strongest = (gust / self.gust_factor for gust in self._ends())
        wind = f"{mean:.1f} m/s mean from {self.wind_from_deg % 360.0:.0f} deg"
        return f"{wind} tips it (other ways {weakest:.1f} to {strongest:.1f})."


@dataclass(frozen=True)
class CableSide:
    """The cable leaves toward where it is wanted.

    Attributes:
        worth_s: seconds.
        exit_deg: of the cable from the keyway.
        toward_deg: true bearing it should leave to.
    """

    worth_s: float
    exit_deg: float
    toward_deg: float
    name: WishName = "the cable's side"

    def off_deg(self, keyway_deg: Floats) -> Floats:
        """(N,) from where it leaves to where it should."""
        return np.asarray(np.abs(wrap_180(keyway_deg + self.exit_deg - self.toward_deg)))

    def shortfall(self, keyway_deg: Floats) -> Floats:
        """As `Wish`: in proportion to the degrees off."""
        return self.off_deg(keyway_deg) / 180.0

    def bends_deg(self) -> Floats:
        """As `Wish`."""
        off = np.array([0.0, -180.0 * GRANTED, 180.0 * GRANTED, 180.0])
        return np.asarray(wrap_360(self.toward_deg - self.exit_deg + off))

    def words(self, keyway_deg: float) -> str:
        """As `Wish`."""
        off = float(self.off_deg(np.array([keyway_deg]))[0])
        return f"{off:.0f} deg from where the cable leaves to where it should."
