"""Bearings of the seat at which passes are told whatever is sampled: the circle's ends, and breaks.

A break is where a way begins or ceases to hold, or a turn comes into the travel or leaves it: what a pass
loses may jump there, so both sides of each are told.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Floats, Indices, wrap_360
from core.base.units import INSIDE_DEG
from core.mount.check.ways import possible_postures
from core.mount.model.chain import guarded_travel_deg, posture_shift_deg
from core.mount.model.station import Mount, Posture
from core.mount.seat.arcs import Arcs, own_ends_deg
from core.mount.seat.losses.sampling import BESIDE_DEG


def fixed_bearings(
    low_deg: Floats, high_deg: Floats, mount: Mount, families: tuple[dict[Posture, Arcs], ...]
) -> tuple[Indices, Floats]:
    """(K,) which pass, rising, and (K,) zetas that are told of it, from 0 to 360 and rising.

    Args:
        low_deg, high_deg: (P,) least and greatest azimuth of each pass.
        mount: for its travel and postures.
        families: per posture the arcs in which each pass holds in one manner or another.
    """
    guard, top = guarded_travel_deg(mount.azimuth)
    every, postures = np.arange(low_deg.size), possible_postures(mount)
    shifts = [posture_shift_deg(posture) for posture in postures]
    turns = [side for shift in shifts for side in (high_deg + shift - guard, low_deg + shift - top)]
    of_arcs = [own_ends_deg(arcs[posture]) for posture in postures for arcs in families]
    of_pass, ends = _distinct(*(np.concatenate(column) for column in zip(*of_arcs, strict=True)))
    turning, turned = _distinct(np.tile(every, len(turns)), np.concatenate(turns))
    breaks = np.concatenate([ends, turned])
    bearings = [0.0 * every, 0.0 * every + 360.0, ends, breaks - BESIDE_DEG, breaks + BESIDE_DEG]
    zeta = np.clip(np.concatenate(bearings), 0.0, 360.0)
    row = np.concatenate([every, every, of_pass, *2 * [of_pass, turning]])
    order = np.lexsort((zeta, row))
    return row[order], zeta[order]


def _distinct(of_pass: Indices, bearings: Floats) -> tuple[Indices, Floats]:
    """Bearings on the circle but for north, which is told anyway; those of a pass that touch counted once."""
    rising = wrap_360(bearings)
    order = np.lexsort((rising, of_pass))
    order = order[(rising[order] > 2.0 * BESIDE_DEG) & (rising[order] < 360.0 - 2.0 * BESIDE_DEG)]
    row, rising = of_pass[order], rising[order]
    apart = np.diff(rising, prepend=-1.0) > INSIDE_DEG
    apart |= np.diff(row, prepend=-1) > 0
    return row[apart], rising[apart]
