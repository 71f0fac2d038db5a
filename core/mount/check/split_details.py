"""The chosen split of one pass, told and simulated: the move, and where the axes are along the pass."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.base.angles import Flags, Floats
from core.base.units import INSIDE_DEG
from core.mount.check.followed import FollowedPasses
from core.mount.check.parts import beside_the_move
from core.mount.check.split_moves import Arrivals, Moves, arrivals, axes_at, seconds_kept
from core.mount.check.split_paths import whole_paths
from core.mount.check.split_search import SplitBest
from core.mount.check.strikes import Barring
from core.mount.check.ways import offset_deg, turn_of
from core.mount.drive.aim import off_boresight_deg
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import Pointing, Split
from core.mount.model.station import POSTURES, Mount

#: Samples of a move whose loss is told.
_SAMPLES = 240
#: Leaving sooner than this before the stop is met is leaving there.
_EARLY_S = 1.0


def split_details(
    track: MountTrack,
    steered: Steered,
    mount: Mount,
    best: SplitBest,
    limit_deg: float,
    barring: Barring | None = None,
) -> tuple[Split, Pointing]:
    """The split at the first seat of ``best``, which is the mount's, and the pointing it makes.

    Args:
        track, steered, mount: the pass, what the axes do, the mount where it stands.
        best: a split that is to be had.
        limit_deg: half the beamwidth.
        barring: what no piece of it strikes: then the pointing has the moments at which the move bends as
            well, so that straight between its own it is what was asked.
    """
    passes = FollowedPasses((track,), (steered,), mount, limit_deg, barring)
    # The passes' clock starts at AOS here.
    aos_s = float(track.utc_s[0])
    before, after = POSTURES[int(best.from_row[0])], POSTURES[int(best.to_row[0])]
    from_deg, to_deg = (
        offset_deg(mount, before, int(best.from_k[0])),
        offset_deg(mount, after, int(best.to_k[0])),
    )
    start_s = float(best.start_utc_s[0])
    rows, offsets = (best.from_row[:1], best.to_row[:1]), (np.array([from_deg]), np.array([to_deg]))
    move = Moves(np.zeros(1, dtype=np.intp), *rows, *offsets, best.start_utc_s[:1] - aos_s)
    there = arrivals(passes, move)
    end = np.minimum(there.back_on_s, passes.end_s)[:, None]
    m_end, _e_end = axes_at(passes, move, there, end, passes.at(end))
    end_s = float(end[0, 0]) + aos_s
    met = _meets_guard(track, steered.in_posture(before).azimuth_deg + from_deg, mount)
    if met is not None and met[1] <= start_s + _EARLY_S:
        met = None
    split = Split(
        start_utc_s=start_s,
        end_utc_s=end_s,
        from_posture=before,
        from_turn=turn_of(track, from_deg),
        to_posture=after,
        to_turn=turn_of(track, to_deg),
        m_from_deg=float(there.m_deg[0]),
        m_to_deg=float(m_end[0, 0]),
        kind="full turn" if before == after else "change of posture",
        stop_met=met[0] if met else None,
        stop_met_utc_s=met[1] if met else None,
        lost_waiting_s=_lost_s(passes, replace(move, start_s=np.array([met[1] - aos_s]))) if met else None,
        settling_utc_s=min(float(there.there_s[0]) + aos_s, end_s) if mount.drive.settle_s > 0.0 else None,
    )
    absences, pointing = beside_the_move(_pointing(passes, move, there, end_s), end_s, limit_deg)
    return replace(split, absences=absences), pointing


def _lost_s(passes: FollowedPasses, move: Moves) -> float:
    """Seconds lost by one move."""
    return passes.tracks[0].seconds_in_all - float(seconds_kept(passes, move, _SAMPLES)[0])


def _meets_guard(track: MountTrack, m_deg: Floats, mount: Mount) -> tuple[str, float] | None:
    """Which stop's guard a way first goes out past, and when; None where it never does."""
    guard, top = guarded_travel_deg(mount.azimuth)
    over = np.maximum(guard - m_deg, m_deg - top)
    leaves = np.flatnonzero((over[:-1] <= INSIDE_DEG) & (over[1:] > INSIDE_DEG))
    if not leaves.size:
        return None
    index = int(leaves[0])
    stop = "clockwise stop" if m_deg[index + 1] > top else "counter-clockwise stop"
    left, right = min(float(over[index]), 0.0), float(over[index + 1])
    share = left / (left - right)
    return stop, float(track.utc_s[index] + share * (track.utc_s[index + 1] - track.utc_s[index]))


def _pointing(passes: FollowedPasses, move: Moves, there: Arrivals, end_s: float) -> Pointing:
    """The axes at the track's samples; where something may strike, along the whole path."""
    track, shift = passes.tracks[0], move.from_row * passes.samples
    every_s, worked = passes.clock_s, track.worked
    utc_s = track.utc_s
    if passes.barring is not None:
        every_s, worked = _all_moments(passes, move, there)
        utc_s = every_s + float(track.utc_s[0])
    at = passes.at(every_s)
    m_before = passes.m_deg(at, move.from_row, move.from_offset_deg)
    e_before = at.of(passes.axis_deg, shift)
    moving_s = np.maximum(every_s, move.start_s)[None]
    m_after, e_after = axes_at(passes, move, there, moving_s, passes.at(moving_s))
    left = every_s > move.start_s
    m_deg, e_deg = np.where(left, m_after[0], m_before), np.where(left, e_after[0], e_before)
    apart = m_deg - at.of(passes.azimuth_deg) - move.from_offset_deg
    off_deg = off_boresight_deg(apart, e_deg, at.of(passes.wanted_deg, shift))
    return Pointing(utc_s, m_deg, e_deg, off_deg, worked, left & (utc_s < end_s))


def _all_moments(passes: FollowedPasses, move: Moves, there: Arrivals) -> tuple[Floats, Flags]:
    """(N,) the clock at the track's samples and the move's moments, (N,) over the mask."""
    track, begin_s = passes.tracks[0], float(passes.tracks[0].utc_s[0])
    every_s = whole_paths(passes, move, there).moments_s
    # Of moments that POSIX seconds cannot tell apart one is enough.
    _utc_s, first = np.unique(every_s + begin_s, return_index=True)
    every_s = every_s[first]
    before = passes.at(every_s).index
    after = np.searchsorted(passes.clock_s, every_s)
    return every_s, track.worked[before] & track.worked[after]
