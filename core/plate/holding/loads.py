"""What tries to turn the joint, and what the joint holds. Torques in Nm about the azimuth axis."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.mount.clearance.lengths import Clearance
from core.plate.model import Loads

#: Half the density of air at 15 degC, kg/m3: q = 0.613 V^2.
_HALF_DENSITY = 0.613
#: The gust is a guess: a joint holds this much more than its torque (trade practice, the pull test's 1.5).
WIND_SAFETY = 1.5
#: Of a boom where no length is told, mm.
USUAL_BOOM_MM = 1500.0
LOADS_SOURCE = "trade practice: q = 0.613 V^2 on projected area; I w / t at the stop; a hand of 200 N"


@dataclass(frozen=True)
class Turning:
    """Torques about the azimuth axis, Nm, the boom that the hand holds, mm, and what tips the rotator, Nm."""

    wind_nm: float
    stop_nm: float
    hand_nm: float
    boom_mm: float
    overturning_nm: float

    @property
    def by_name(self) -> tuple[tuple[str, float], ...]:
        """Each with its words."""
        return ("wind", self.wind_nm), ("a stop hit", self.stop_nm), ("a hand on the boom tip", self.hand_nm)

    @property
    def to_hold_nm(self) -> float:
        """What a joint must hold: the greatest of them, the wind with its safety."""
        return max(WIND_SAFETY * self.wind_nm, self.stop_nm, self.hand_nm)


def turning(loads: Loads, rate_deg_s: float, clearance: Clearance | None) -> Turning:
    """The loads.

    Wind: 0.613 V^2 Cd A a (drag on projected area, at its lever). Stop: I w / t, the azimuth rate halted
    within t. Hand: F times the boom's length from the axis. Overturning: q sum(Cd A h).
    """
    pressure_pa = _HALF_DENSITY * loads.wind_m_s**2
    wind_nm = pressure_pa * loads.drag * loads.area_m2 * loads.lever_mm / 1000.0
    stop_nm = loads.inertia_kg_m2 * math.radians(rate_deg_s) / loads.stop_s
    boom_mm = boom_length_mm(loads, clearance)
    hand_nm = loads.hand_n * boom_mm / 1000.0
    return Turning(wind_nm, stop_nm, hand_nm, boom_mm, pressure_pa * loads.drag_area_height_m3)


def boom_length_mm(loads: Loads, clearance: Clearance | None) -> float:
    """From the azimuth axis to the furthest boom tip, as told, else by the plan's lengths, else 1500."""
    if loads.boom_mm is not None:
        return loads.boom_mm
    if clearance is None or not clearance.booms:
        return USUAL_BOOM_MM
    forward_mm = clearance.axis_forward_mm
    tips = [(boom.side_mm, boom.front_mm + forward_mm) for boom in clearance.booms]
    tips += [(boom.side_mm, boom.tail_mm - forward_mm) for boom in clearance.booms]
    return max(math.hypot(*tip) for tip in tips)


def bolts_slip_nm(friction: float, preload_n: float, radii_mm: tuple[float, ...]) -> float:
    """Mu F sum(r): each bolt's friction at its own radius; mu n F r on a circle (trade practice)."""
    return friction * preload_n * sum(radii_mm) / 1000.0


def ring_slip_nm(friction: float, preload_n: float, inner_mm: float, outer_mm: float) -> float:
    """Mu F (2/3) (Ro^3 - Ri^3) / (Ro^2 - Ri^2): even pressure on a ring (Shigley, disc clutch).

    Radii in mm, the inner one below the outer.
    """
    mean_mm = 2.0 / 3.0 * (outer_mm**3 - inner_mm**3) / (outer_mm**2 - inner_mm**2)
    return friction * preload_n * mean_mm / 1000.0
