"""The wind that tips the stand, for every direction it blows toward, exact about each edge.

About an edge with outward normal n that lies d beyond the centre of mass, wind toward u tips when
q (u . n) sum(Cd A h) exceeds W g d: moments about a line (statics). For three legs wind toward a leg
needs the root of two more speed than wind toward the edge opposite.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats, wrap_360
from core.stand.body import Body, Support
from core.stand.wind import GRAVITY_M_S2

#: Sines below this are 0: wind along an edge does not tip about it.
_ALONG = 1e-12


@dataclass(frozen=True, eq=False)
class Tipping:
    """One stand, asked at any direction.

    Attributes:
        support, body: of what.
        holding_m: (E,) how far inside each edge the centre of mass lies at worst; below 0 it falls by itself.
        per_metre: square of the speed, m2/s2, that a metre of it holds off.
    """

    support: Support
    body: Body
    holding_m: Floats
    per_metre: float

    def gust_m_s(self, toward_deg: Floats) -> Floats:
        """(N,) the speed that tips it; 0 every way where it falls without wind.

        Args:
            toward_deg: (N,) where the wind blows toward, clockwise from the keyway.
        """
        angle = np.radians(toward_deg)
        along = np.stack([np.sin(angle), np.cos(angle)], axis=-1) @ self.support.normal.T
        held = (
            self.holding_m * self.per_metre if self.holding_m.min() > 0.0 else np.zeros(self.holding_m.size)
        )
        square = np.where(along > _ALONG, held / np.maximum(along, _ALONG), np.inf)
        return np.asarray(np.sqrt(square.min(axis=-1)))

    def edges_deg(self) -> Floats:
        """(E,) the directions square to each edge, where it holds least, clockwise from the keyway."""
        return np.asarray(wrap_360(np.degrees(np.arctan2(*self.support.normal.T))))

    def corners_deg(self) -> Floats:
        """The directions in which two edges give way together and none before: the strongest ones.

        With d_i / (u . n_i) = d_j / (u . n_j), u is square to d_j n_i - d_i n_j.
        """
        normal, held = self.support.normal, self.holding_m
        first, second = np.triu_indices(len(held), 1)
        square = held[second, None] * normal[first] - held[first, None] * normal[second]
        u = np.column_stack([square[:, 1], -square[:, 0]])
        u *= np.sign(np.einsum("ij,ij->i", u, normal[first]))[:, None]
        length = np.hypot(*u.T)
        u, first = u[length > _ALONG], first[length > _ALONG]
        u /= np.hypot(*u.T)[:, None]
        toward = wrap_360(np.degrees(np.arctan2(*u.T)))
        along = np.einsum("ij,ij->i", u, normal[first])
        both = np.sqrt(np.maximum(held[first], 0.0) * self.per_metre / np.maximum(along, _ALONG))
        return np.unique(toward[self.gust_m_s(toward) >= both * (1.0 - 1e-9)])

    @property
    def weakest_deg(self) -> float:
        """Where the least wind tips it: square to the edge nearest to the centre of mass, exactly."""
        return float(self.edges_deg()[np.argmin(self.holding_m)])

    @property
    def strongest_deg(self) -> float:
        """Where it takes the most wind; where it falls by itself, any direction."""
        corners = self.corners_deg()
        return float(corners[np.argmax(self.gust_m_s(corners))]) if corners.size else self.weakest_deg


def tipping_of(support: Support, body: Body, air_density_kg_m3: float) -> Tipping:
    """Ready to be asked: V^2 = 2 W g d / (rho sum(Cd A h) (u . n))."""
    holding = support.inset_m(*body.centre_m) - body.turning_m
    per_metre = 2.0 * body.mass_kg * GRAVITY_M_S2 / (air_density_kg_m3 * body.drag_moment_m3)
    return Tipping(support, body, holding, per_metre)
