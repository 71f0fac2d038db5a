"""How bolt and plates share a load that pulls them apart, and the wind that does. N, mm, MPa."""

from __future__ import annotations

import math

import numpy as np

#: Young's modulus of a screw, MPa.
STEEL_MPA = 205_000.0
#: Directions in which the wind is tried, one a degree.
_DIRECTIONS = 360


def bolt_stiffness(area_mm2: float, grip_mm: float) -> float:
    """A E / l, N/mm: threads all along the grip (Shigley 9th ed., eq. 8-16, thread part alone)."""
    return area_mm2 * STEEL_MPA / grip_mm


def member_stiffness(diameter_mm: float, grip_mm: float, modulus_mpa: float) -> float:
    """E d A exp(B d / l), N/mm: Shigley 9th ed., eq. 8-23, with the constants of aluminium.

    A = 0.79670 and B = 0.63816 (table 8-8, from memory; steel's 0.78715 and 0.62873 differ by a hundredth).
    """
    return modulus_mpa * diameter_mm * 0.79670 * math.exp(0.63816 * diameter_mm / grip_mm)


def load_share(bolt: float, members: float) -> float:
    """C = kb / (kb + km): the share of an outer load that the bolt takes (Shigley 9th ed., eq. 8-24f)."""
    return bolt / (bolt + members)


def bolt_stress(outer_n: float, preload_n: float, share: float, area_mm2: float) -> float:
    """(C P + Fi) / At: Shigley 9th ed., eq. 8-24 and example 8-3."""
    return (share * outer_n + preload_n) / area_mm2


def torque_by_friction(
    force_n: float, diameter_mm: float, root_mm: float, pitch_mm: float, thread: float, collar: float
) -> float:
    """Torque, N mm, with these coefficients of friction in thread and collar: Shigley 9th ed., eq. 8-26.

    F dm/2 (tan l + f sec a) / (1 - f tan l sec a) + 0.625 F fc d; dm the mean of nominal and root, a = 30
    deg, tan l = pitch / (pi dm).
    """
    mean_mm = (diameter_mm + root_mm) / 2.0
    lead, secant = pitch_mm / (math.pi * mean_mm), 1.0 / math.cos(math.radians(30.0))
    turned = (lead + thread * secant) / (1.0 - thread * lead * secant)
    return force_n * mean_mm / 2.0 * turned + 0.625 * force_n * collar * diameter_mm


def greatest_pull_n(places_mm: tuple[tuple[float, float], ...], moment_nm: float) -> float:
    """The greatest tension of a bolt under a moment from any side: M y / sum(y^2) about the pattern's middle.

    A rigid plate on elastic bolts (Shigley, bolt groups); infinite where the bolts lie in a line across it.
    """
    places = np.array(places_mm, dtype=np.float64) - np.mean(places_mm, axis=0)
    angles = np.linspace(0.0, 2.0 * math.pi, _DIRECTIONS, endpoint=False)
    away = places @ np.stack([np.cos(angles), np.sin(angles)])
    squares = (away**2).sum(axis=0)
    if squares.min() < 1e-6:
        return math.inf if moment_nm > 0.0 else 0.0
    return float((moment_nm * 1000.0 * away.max(axis=0) / squares).max())
