"""What the ground forbids: arcs of keyway bearing where a rock, a wall or a leg is in the way.

A forbidden arc is open: the keyway may point at its very ends. Where two arcs touch, the bearing between them
is an end of both, and a test of one arc after the other would leave it open; nobody means a gap without
width.
"""

from typing import Self

import numpy as np
from pydantic import Field, model_validator

from core.base.angles import Flags, Floats
from core.base.model import Model, Real
from core.base.text import Line
from core.base.units import INSIDE_DEG
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.station import Mount
from core.mount.seat.arcs import Arcs

#: A bearing is shut where the arcs reach past it on both sides by this much.
_BESIDE_DEG = 10.0 * INSIDE_DEG


class SeatLimit(Model):
    """Forbidden keyway bearings, clockwise from one to the other, and why (a rock, a leg, the slope)."""

    from_deg: Real = Field(ge=0.0, le=360.0)
    to_deg: Real = Field(ge=0.0, le=360.0)
    why: Line = ""

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.from_deg == self.to_deg or (self.from_deg, self.to_deg) == (360.0, 0.0):
            raise ValueError("from_deg and to_deg are the same bearing: a forbidden arc needs two")
        return self

    @property
    def width_deg(self) -> float:
        """How wide, above 0 and up to 360."""
        width = (self.to_deg - self.from_deg) % 360.0
        return width or 360.0  # only from 0 to 360 comes out as nothing

    def holds(self, bearing_deg: float) -> bool:
        """The bearing lies strictly inside."""
        past = (bearing_deg - self.from_deg) % 360.0
        return self.width_deg == 360.0 or INSIDE_DEG < past < self.width_deg - INSIDE_DEG


def limit_arcs(limits: tuple[SeatLimit, ...], mount: Mount) -> Arcs:
    """The forbidden arcs over zeta, once for every hole: their ends are ends of the study's pieces."""
    shifts = [fixed_offset_deg(mount, hole) for hole in mount.index_holes]
    pairs = [(limit.from_deg + shift, limit.width_deg) for limit in limits for shift in shifts]
    return Arcs(np.array([start for start, _ in pairs]), np.array([width for _, width in pairs]))


def forbidden_at(bearing_deg: Floats, limits: tuple[SeatLimit, ...]) -> Flags:
    """(M,) keyway bearings that lie in a forbidden arc, or between two that touch."""
    shut = np.zeros((2, bearing_deg.size), dtype=bool)
    for limit in limits:
        past = np.mod(bearing_deg - limit.from_deg + np.array([[-_BESIDE_DEG], [_BESIDE_DEG]]), 360.0)
        shut |= past <= limit.width_deg
    return np.asarray(shut.all(axis=0))


def limits_at(bearing_deg: float, limits: tuple[SeatLimit, ...]) -> tuple[SeatLimit, ...]:
    """The forbidden arcs a keyway bearing lies in or between, for words about it; none where it may point."""
    at = np.array([bearing_deg])
    if not forbidden_at(at, limits)[0]:
        return ()
    beside = np.array([-_BESIDE_DEG, 0.0, _BESIDE_DEG])
    return tuple(limit for limit in limits if any(limit.holds(bearing_deg + by) for by in beside.tolist()))
