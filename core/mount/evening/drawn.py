"""A pass as it is drawn: its sky and its axes on one time scale, each moment with how it is worked.

The screen's strokes, hills, polar plots and strips and the sheet's plots and tables are made from this one
object, so that paper and screen cannot tell a pass differently. How a moment is worked is decided here alone,
from the pointing's ``worked`` and ``moving``. The verdict and the first and last worked moment do not tell
it: a part may lose the satellite in the middle (past the highest elevation, past a stop), and after a split's
move the axes may have to wait for the satellite to come down to them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace
from enum import IntEnum
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats, unwrap_deg, wrap_360
from core.base.runs import runs_alike, runs_of
from core.base.units import INSIDE_DEG
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import PassCheck
from core.mount.model.station import OVER_THE_TOP, Mount, Posture

Kinds = NDArray[np.int8]

#: A thinned pass keeps samples at most about this far apart, in time, in mechanical azimuth and in elevation.
_STEP_S = 10.0
_STEP_DEG = 1.0
#: Moments closer than this are the same.
_SAME_S = 1e-6


class Kind(IntEnum):
    """How a moment of a pass is worked."""

    UPRIGHT = 0
    OVER_THE_TOP = 1
    MOVING = 2  # off the satellite in a split's move
    LET_GO = 3  # over the mask, and not on the beam or not worked
    HIDDEN = 4  # behind the mask


@dataclass(frozen=True, eq=False)
class DrawnPass:
    """A pass sampled for drawing.

    Attributes:
        utc_s: (N,) from AOS to LOS, rising.
        azimuth_deg: (N,) true azimuth of the satellite, unwrapped.
        elevation_deg: (N,) of the satellite.
        range_km: (N,).
        m_deg, e_deg, off_deg: (N,) the axes and the angle off the satellite; NaN where out of reach.
        kind: (N,) a `Kind` each.
        resting: (N,) bool, azimuth held at a guard while the satellite goes past it.
        start_utc_s, end_utc_s: first and last worked moment; AOS and LOS where none is.
    """

    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    range_km: Floats
    m_deg: Floats
    e_deg: Floats
    off_deg: Floats
    kind: Kinds
    resting: Flags
    start_utc_s: float
    end_utc_s: float

    @property
    def in_reach(self) -> bool:
        """There is a pointing."""
        return not bool(np.isnan(self.m_deg[0]))

    def covers(self, utc_s: float) -> bool:
        """The moment lies between AOS and LOS."""
        return bool(self.utc_s[0] <= utc_s <= self.utc_s[-1])

    def at(self, values: Floats, utc_s: float) -> float:
        """One of the arrays of angles or ranges at a moment, held at the ends."""
        return float(np.interp(utc_s, self.utc_s, values))

    def bearing_at(self, utc_s: float) -> float:
        """True azimuth of the satellite at a moment, 0 to 360."""
        return wrap_360(self.at(self.azimuth_deg, utc_s))

    def runs(self) -> list[tuple[Kind, int, int]]:
        """Stretches worked alike: (kind, first index, last index), each reaching to where the next begins."""
        last = self.kind.size - 1
        runs = [(Kind(int(self.kind[a])), a, min(b, last)) for a, b in runs_alike(self.kind)]
        return [(kind, a, b) for kind, a, b in runs if b > a]

    def resting_runs(self) -> list[tuple[int, int]]:
        """Stretches of resting at a guard: (first index, last index)."""
        last = self.resting.size - 1
        return [(a, min(b, last)) for a, b in runs_of(self.resting) if a < last]

    def whole_minutes(self) -> Floats:
        """(M,) the whole minutes of UTC from AOS to LOS."""
        first, last = math.ceil(self.utc_s[0] / 60.0), math.floor(self.utc_s[-1] / 60.0)
        return np.asarray(60.0 * np.arange(first, last + 1), dtype=np.float64)

    @cached_property
    def thinned(self) -> DrawnPass:
        """As much of it as a screen shows, so that an evening of 150 passes is drawn at once.

        Kept are both sides of every change of kind or resting, the extremes, and about one sample a step.
        """
        keep = _kept(self)
        columns = {field.name: getattr(self, field.name) for field in fields(self)}
        kept: dict[str, Any] = {n: v[keep] for n, v in columns.items() if isinstance(v, np.ndarray)}
        return replace(self, **kept)


def drawn_pass(check: PassCheck, mount: Mount) -> DrawnPass:
    """A pass as its verdict works it, at every sample of its pointing (of the pass, where out of reach)."""
    pass_, pointing = check.pass_, check.pointing
    utc_s = pass_.utc_s if pointing is None else pointing.utc_s
    kind = kinds_at(check, utc_s)
    nowhere = np.full(utc_s.size, np.nan)
    m_deg, e_deg, off_deg = (
        (nowhere, nowhere, nowhere)
        if pointing is None
        else (pointing.m_deg, pointing.e_deg, pointing.off_deg)
    )
    here = np.flatnonzero(pointing.worked) if pointing is not None else np.zeros(0, dtype=np.intp)
    first, last = (here[0], here[-1]) if here.size else (0, -1)
    return DrawnPass(
        utc_s=utc_s,
        azimuth_deg=np.interp(utc_s, pass_.utc_s, unwrap_deg(pass_.azimuth_deg)),
        elevation_deg=np.interp(utc_s, pass_.utc_s, pass_.elevation_deg),
        range_km=np.interp(utc_s, pass_.utc_s, pass_.range_km),
        m_deg=m_deg,
        e_deg=e_deg,
        off_deg=off_deg,
        kind=kind,
        resting=_at_a_guard(m_deg, mount) & (off_deg > 1e-3) & (kind < Kind.MOVING) & check.resting,
        start_utc_s=float(utc_s[first]),
        end_utc_s=float(utc_s[last]),
    )


def kinds_at(check: PassCheck, utc_s: Floats) -> Kinds:
    """How each moment of a pass is worked: the one place where that is decided.

    Between two samples of the pointing a moment is worked where both are, so that an absence reaches to the
    samples beside it, as it is told; the end of a move is on the satellite again.

    Args:
        check: the pass; a contact that is cut has a pointing that is worked no further than the contact.
        utc_s: (N,) POSIX seconds from AOS to LOS.

    Returns:
        (N,) a `Kind` each.
    """
    over = np.zeros(utc_s.size, dtype=bool)
    for start, end in check.pass_.stretches:
        over |= (utc_s >= start - _SAME_S) & (utc_s <= end + _SAME_S)
    kind = np.where(over, Kind.LET_GO, Kind.HIDDEN).astype(np.int8)
    pointing = check.pointing
    if pointing is not None:
        last = pointing.utc_s.size - 1
        left = np.clip(np.searchsorted(pointing.utc_s, utc_s + _SAME_S, side="right") - 1, 0, last)
        right = np.clip(np.searchsorted(pointing.utc_s, utc_s - _SAME_S, side="left"), 0, last)
        worked = over & pointing.worked[left] & pointing.worked[right]
        kind[worked] = np.where(_over_the_top(check, utc_s)[worked], Kind.OVER_THE_TOP, Kind.UPRIGHT)
        kind[over & pointing.moving[right]] = Kind.MOVING
    return kind


def postures_of(check: PassCheck) -> tuple[Posture, Posture]:
    """The posture a pass begins and ends in: a split's two, else the same twice (upright out of reach)."""
    if check.split is not None:
        return check.split.from_posture, check.split.to_posture
    one = check.part.posture if check.part else check.chosen.posture if check.chosen else "upright"
    return one, one


def _over_the_top(check: PassCheck, utc_s: Floats) -> Flags:
    """(N,) whether each moment is worked over the top, if it is worked."""
    first, last = (posture == OVER_THE_TOP for posture in postures_of(check))
    late = utc_s >= (check.split.end_utc_s - _SAME_S if check.split is not None else np.inf)
    return np.where(late, last, first)


def _at_a_guard(m_deg: Floats, mount: Mount) -> Flags:
    guard, top = guarded_travel_deg(mount.azimuth)
    return (m_deg <= guard + INSIDE_DEG) | (m_deg >= top - INSIDE_DEG)


def _kept(drawn: DrawnPass) -> Flags:
    m_deg, elevation_deg = np.nan_to_num(drawn.m_deg), drawn.elevation_deg
    steps = np.hypot(np.diff(m_deg), np.diff(elevation_deg)) / _STEP_DEG + np.diff(drawn.utc_s) / _STEP_S
    along = np.floor(np.concatenate([[0.0], np.cumsum(steps)]))
    keep: Flags = np.concatenate([[True], np.diff(along) > 0.0])
    keep[-1] = True
    changes = (drawn.kind[1:] != drawn.kind[:-1]) | (drawn.resting[1:] != drawn.resting[:-1])
    turns = np.flatnonzero(changes)
    keep[turns] = keep[turns + 1] = True
    keep[[int(np.argmax(elevation_deg)), int(np.argmax(m_deg)), int(np.argmin(m_deg))]] = True
    return keep
