"""The chosen split of one pass, told and simulated: the move, and where the axes are along the pass."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.base.angles import Floats
from core.base.units import INSIDE_DEG
from core.mount.check.parts import beside_the_move
from core.mount.check.split_run import (
    Arrivals,
    Lookup,
    Moves,
    PassTable,
    arrivals,
    axes_at,
    look_up,
    m_at,
    pass_table,
    place_of,
    seconds_kept,
)
from core.mount.check.splits import SplitBest
from core.mount.check.ways import offset_deg, turn_of
from core.mount.drive.motion import Steered, off_boresight_deg
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import Pointing, Split
from core.mount.model.station import POSTURES, Mount, Posture

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
    table = pass_table(track, steered, mount, limit_deg)
    before, after = POSTURES[int(best.from_row[0])], POSTURES[int(best.to_row[0])]
    offsets = (
        offset_deg(mount, before, int(best.from_k[0])),
        offset_deg(mount, after, int(best.to_k[0])),
    )
    moves = _one(table, (before, after), offsets, float(best.start_utc_s[0]))
    there = arrivals(table, moves)
    end_s = min(float(there.back_on_s[0]), float(track.utc_s[-1]))
    end = look_up(track.utc_s, np.array([end_s]))
    m_end, _e_end = axes_at(
        table, moves, there, np.array([[end_s]]), Lookup(end.index[None], end.share[None])
    )
    met = _meets_guard(track, steered.in_posture(before).azimuth_deg + offsets[0], mount)
    if met is not None and met[1] <= moves.start_s[0] + _EARLY_S:
        met = None
    split = Split(
        start_utc_s=float(moves.start_s[0]),
        end_utc_s=end_s,
        from_posture=before,
        from_turn=turn_of(track, offsets[0]),
        to_posture=after,
        to_turn=turn_of(track, offsets[1]),
        m_from_deg=float(there.m_deg[0]),
        m_to_deg=float(m_end[0, 0]),
        kind="full turn" if before == after else "change of posture",
        stop_met=met[0] if met else None,
        stop_met_utc_s=met[1] if met else None,
        lost_waiting_s=_lost(table, (before, after), offsets, met[1]) if met else None,
        settling_utc_s=min(float(there.there_s[0]), end_s) if mount.drive.settle_s > 0.0 else None,
    )
    absences, pointing = beside_the_move(_pointing(table, moves, there, end_s), end_s, limit_deg)
    return replace(split, absences=absences), pointing


def _one(
    table: PassTable, postures: tuple[Posture, Posture], offsets: tuple[float, float], start_s: float
) -> Moves:
    rows = [np.array([place_of(posture)]) for posture in postures]
    return Moves(rows[0], rows[1], np.array([offsets[0]]), np.array([offsets[1]]), np.array([start_s]))


def _lost(
    table: PassTable, postures: tuple[Posture, Posture], offsets: tuple[float, float], start_s: float
) -> float:
    """Seconds lost by the same move begun at another moment."""
    kept = seconds_kept(table, _one(table, postures, offsets, start_s), _SAMPLES)
    return table.track.seconds_in_all - float(kept[0])


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


def _pointing(table: PassTable, moves: Moves, there: Arrivals, end_s: float) -> Pointing:
    """The axes at the track's samples."""
    track, start_s = table.track, float(moves.start_s[0])
    utc_s = track.utc_s
    at = look_up(track.utc_s, utc_s)
    row = np.broadcast_to(moves.from_row, utc_s.shape)
    m_before = m_at(table, at, row, moves.from_offset_deg)
    e_before = at.of_rows(table.axis_deg, row)
    later = Lookup(at.index[None], at.share[None])
    m_after, e_after = axes_at(table, moves, there, np.maximum(utc_s, start_s)[None], later)
    left = utc_s > start_s
    m_deg, e_deg = np.where(left, m_after[0], m_before), np.where(left, e_after[0], e_before)
    apart = m_deg - at.of(track.azimuth_deg) - moves.from_offset_deg
    off_deg = off_boresight_deg(apart, e_deg, at.of_rows(table.wanted_deg, row))
    return Pointing(utc_s, m_deg, e_deg, off_deg, track.worked, left & (utc_s < end_s))
