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
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import axis_elevation_deg, fixed_offset_deg, posture_shift_deg
from core.mount.model.results import Pointing, Strike
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

    def holds(self, m_deg: Floats, e_deg: Floats) -> Flags:
        """(...) the places of the axes that are to be kept out of."""
        return self.keep_out.holds(m_deg + self.boom_at_stop_deg, e_deg)

    def steps(self, m_deg: Floats, e_deg: Floats) -> Flags:
        """(..., N - 1) the steps of paths (..., N) that strike."""
        return self.keep_out.steps(m_deg + self.boom_at_stop_deg, e_deg)

    def along(self, m_deg: Floats, e_deg: Floats, joined: Flags) -> Flags:
        """(N - 1,) the same of paths that follow one another; ``joined`` as in `KeepOut.steps`."""
        return self.keep_out.steps(m_deg + self.boom_at_stop_deg, e_deg, joined)

    def strikes(self, pointing: Pointing) -> bool:
        """Some of it does."""
        return bool(self.steps(pointing.m_deg, pointing.e_deg).any())

    def struck_arcs(self, steered: Steered, posture: Posture, mount: Mount) -> tuple[Floats, Floats]:
        """The arcs of zeta, from where over how much (K,), at which a pass with no stop in its way strikes.

        The boom's bearing from the keyway is azimuth less zeta, and what the hole adds to it: another hole
        has other arcs of zeta, and the same arcs of keyway bearings.
        """
        here = steered.in_posture(posture)
        boom = here.azimuth_deg + posture_shift_deg(posture) + self.boom_at_stop_deg
        told = axis_elevation_deg(here.elevation_deg, posture)
        e_deg = np.clip(told, mount.elevation.minimum_deg, mount.elevation.maximum_deg)
        return self.keep_out.struck_turns(boom, e_deg)


def barring_of(station: Station, mount: Mount | None = None) -> Barring | None:
    """What a station must keep out of; None where no lengths are given, or none of them can strike.

    Args:
        station: whose lengths.
        mount: with which hole in use; the station's own where left out.
    """
    if station.clearance is None or not station.clearance.keep_out.any:
        return None
    return Barring(station.clearance.keep_out, fixed_offset_deg(mount or station.mount))


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
