"""The chosen split of one pass, told and simulated: the move, and where the axes are along the pass."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.base.angles import Floats
from core.base.units import INSIDE_DEG
from core.mount.check.parts import beside_the_move
from core.mount.check.split_moves import Arrivals, FollowedPass, Moves
from core.mount.check.split_search import SplitBest
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
    track: MountTrack, steered: Steered, mount: Mount, best: SplitBest, limit_deg: float
) -> tuple[Split, Pointing]:
    """The split at the first seat of ``best``, which is the mount's, and the pointing it makes.

    Args:
        track, steered, mount: the pass, what the axes do, the mount where it stands.
        best: a split that is to be had.
        limit_deg: half the beamwidth.
    """
    followed = FollowedPass(track, steered, mount, limit_deg)
    before, after = POSTURES[int(best.from_row[0])], POSTURES[int(best.to_row[0])]
    from_deg, to_deg = (
        offset_deg(mount, before, int(best.from_k[0])),
        offset_deg(mount, after, int(best.to_k[0])),
    )
    start_s = float(best.start_utc_s[0])
    move = Moves(
        best.from_row[:1], best.to_row[:1], np.array([from_deg]), np.array([to_deg]), best.start_utc_s[:1]
    )
    there = followed.arrivals(move)
    end_s = min(float(there.back_on_s[0]), float(track.utc_s[-1]))
    end = np.array([[end_s]])
    m_end, _e_end = followed.axes_at(move, there, end, followed.at(end))
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
        lost_waiting_s=_lost_s(followed, replace(move, start_s=np.array([met[1]]))) if met else None,
        settling_utc_s=min(float(there.there_s[0]), end_s) if mount.drive.settle_s > 0.0 else None,
    )
    absences, pointing = beside_the_move(_pointing(followed, move, there, end_s), end_s, limit_deg)
    return replace(split, absences=absences), pointing


def _lost_s(followed: FollowedPass, move: Moves) -> float:
    """Seconds lost by one move."""
    return followed.track.seconds_in_all - float(followed.seconds_kept(move, _SAMPLES)[0])


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


def _pointing(followed: FollowedPass, move: Moves, there: Arrivals, end_s: float) -> Pointing:
    """The axes at the track's samples."""
    track, start_s = followed.track, float(move.start_s[0])
    utc_s = track.utc_s
    at = followed.at(utc_s)
    row = np.broadcast_to(move.from_row, utc_s.shape)
    m_before = followed.m_deg(at, row, move.from_offset_deg)
    e_before = at.of_rows(followed.axis_deg, row)
    moving_s = np.maximum(utc_s, start_s)[None]
    m_after, e_after = followed.axes_at(move, there, moving_s, followed.at(utc_s[None]))
    left = utc_s > start_s
    m_deg, e_deg = np.where(left, m_after[0], m_before), np.where(left, e_after[0], e_before)
    apart = m_deg - at.of(track.azimuth_deg) - move.from_offset_deg
    off_deg = off_boresight_deg(apart, e_deg, at.of_rows(followed.wanted_deg, row))
    return Pointing(utc_s, m_deg, e_deg, off_deg, track.worked, left & (utc_s < end_s))
