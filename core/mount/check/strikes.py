"""Whether the axes' way strikes something, and what becomes of a way that would: the one place that decides.

The boom's bearing from the keyway is iota + sigma + beta + m: the tripod's frame, in which a strike does not
depend on where the keyway points. Every path of the axes (a way, a part, a split and its move, an option of
the evening) is asked of the same cells (`core.mount.clearance.keep_out`), and so are the arcs of the study of
the seat, which are those cells turned by the pass.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_360
from core.base.runs import runs_of
from core.mount.clearance.gaps import Gaps
from core.mount.clearance.keep_out import STEP_DEG, KeepOut
from core.mount.clearance.lengths import Clearance
from core.mount.drive.aim import off_boresight_deg, on_fraction
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg, fixed_offset_deg
from core.mount.model.results import Pointing
from core.mount.model.station import Mount, Posture, Station


@dataclass(frozen=True, eq=False)
class Barring:
    """What the axes of a mount must keep out of.

    Attributes:
        keep_out: in the tripod's frame.
        boom_at_stop_deg: bearing of the boom from the keyway on the counter-clockwise stop, by the hole.
    """

    keep_out: KeepOut
    boom_at_stop_deg: float

    def steps(self, m_deg: Floats, e_deg: Floats) -> Flags:
        """(..., N - 1) the steps of paths (..., N) that strike."""
        return self.keep_out.steps(m_deg + self.boom_at_stop_deg, e_deg)

    def strikes(self, pointing: Pointing) -> bool:
        """Some of it does."""
        return bool(self.steps(pointing.m_deg, pointing.e_deg).any())


def barring_of(station: Station, mount: Mount | None = None) -> Barring | None:
    """What a station must keep out of; None where no lengths are given, or none of them can strike.

    Args:
        station: whose lengths.
        mount: with which hole in use; the station's own where left out.
    """
    if station.clearance is None or not station.clearance.keep_out.any:
        return None
    return Barring(station.clearance.keep_out, fixed_offset_deg(mount or station.mount))


@dataclass(frozen=True)
class Strike:
    """Where a way comes nearest to what it would strike.

    Attributes:
        posture, turn: the way that is refused.
        utc_s: when it is nearest; where it touches, the first moment.
        boom_from_keyway_deg: bearing of the boom from the keyway then, 0 to 360.
        m_deg, e_deg: the axes then.
        turning, standing: what comes too near to what.
        gap_mm, wanted_mm: the gap there and the least one stated; where the gap is the greater it is too near
            to tell, by the steps in which it is reckoned.
    """

    posture: Posture
    turn: int
    utc_s: float
    boom_from_keyway_deg: float
    m_deg: float
    e_deg: float
    turning: str
    standing: str
    gap_mm: float
    wanted_mm: float


def strike_of(
    pointing: Pointing, barring: Barring, lengths: Clearance, way: tuple[Posture, int]
) -> Strike | None:
    """Where a pointing strikes, its posture and turn going along; None where it does not."""
    struck = np.flatnonzero(barring.steps(pointing.m_deg, pointing.e_deg))
    if not struck.size:
        return None
    utc_s, m_deg, e_deg = _finely(pointing, struck)
    boom_deg = m_deg + barring.boom_at_stop_deg
    gaps = Gaps(lengths)
    gap_mm, turning, standing = gaps.least(boom_deg, e_deg)
    at = int(np.argmin(gap_mm))
    names = gaps.names(int(turning[at]), int(standing[at]))
    return Strike(
        *way,
        float(utc_s[at]),
        wrap_360(float(boom_deg[at])),
        float(m_deg[at]),
        float(e_deg[at]),
        *names,
        float(gap_mm[at]),
        lengths.gap_mm,
    )


def _finely(pointing: Pointing, steps: Indices) -> tuple[Floats, Floats, Floats]:
    """Moments and both axes along some steps of a pointing, no further apart than the map's own."""
    columns = (pointing.utc_s, pointing.m_deg, pointing.e_deg)
    longest = np.maximum(*(np.abs(np.diff(axis)[steps]) for axis in columns[1:]))
    number = np.ceil(longest / STEP_DEG).astype(np.intp) + 1
    step = np.repeat(steps, number)
    nth = np.arange(step.size) - np.repeat(np.cumsum(number) - number, number)
    share = nth / np.repeat(number - 1, number).clip(1)
    utc_s, m_deg, e_deg = (one[step] + share * (one[step + 1] - one[step]) for one in columns)
    return utc_s, m_deg, e_deg


def held_before(struck: Flags, on_s: Floats) -> tuple[int, int] | None:
    """First and last sample of the free stretch of a path that is on the beam for longest.

    Args:
        struck: (N - 1,) the steps that strike.
        on_s: (N - 1,) seconds on the beam in each.

    Returns:
        None where no free stretch is on the beam at all.
    """
    best, best_s = None, 0.0
    for first, beyond in runs_of(~struck):
        kept_s = float(on_s[first:beyond].sum())
        if kept_s > best_s:
            best, best_s = (first, beyond), kept_s
    return best


def kept_clear(
    pointing: Pointing,
    track: MountTrack,
    posture: Posture,
    offset_deg: float,
    barring: Barring | None,
    limit: float,
) -> Pointing | None:
    """A pointing that stays in one way, held still before and after what it would strike.

    Held at the ends of the free stretch that is on the beam for longest, so that no piece of it strikes. The
    pointing itself where it strikes nothing; None where no free stretch is on the beam.

    Args:
        pointing: of the way, at the track's samples.
        track: the pass.
        posture, offset_deg: the way, and what it adds to azimuth.
        barring: what to keep out of; None: nothing.
        limit: half the beamwidth.
    """
    if barring is None:
        return pointing
    struck = barring.steps(pointing.m_deg, pointing.e_deg)
    if not struck.any():
        return pointing
    span = held_before(struck, on_fraction(pointing.off_deg, limit) * track.interval_s)
    if span is None:
        return None
    at = np.clip(np.arange(pointing.utc_s.size), *span)
    m_deg, e_deg = pointing.m_deg[at], pointing.e_deg[at]
    apart = m_deg - track.azimuth_deg - offset_deg
    off_deg = off_boresight_deg(apart, e_deg, axis_elevation_deg(track.elevation_deg, posture))
    return replace(pointing, m_deg=m_deg, e_deg=e_deg, off_deg=off_deg)
