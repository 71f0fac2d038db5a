"""Splits by simple rules: one move, a full turn at the crossing or a change of posture at the peak.

Every function works on Z seats at once, since the study of the seat asks the same of many bearings.
The move runs at the axes' rates, without settling; seconds off the beam come from where the axes are.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.angles import Flags, Floats
from core.mount.motion import Steered, aim, off_boresight_deg, seconds_off
from core.mount.stack import (
    POSTURES,
    Mount,
    Posture,
    axis_elevation_deg,
    guarded_travel_deg,
    posture_shift_deg,
)
from core.mount.tracks import MountTrack


@dataclass(frozen=True, eq=False)
class SplitRun:
    """One kind of split simulated for Z seats.

    Attributes:
        kind: "full turn" or "change of posture".
        from_posture, to_posture: the two ways' postures.
        from_k, to_k: (Z,) full turns added to m before and after.
        start_utc_s: (Z,) when the satellite is left; nan where this split makes no sense.
        m_deg, e_deg, off_deg: (Z, N).
        moving: (Z, N) bool, an axis still on its way.
        seconds_lost: (Z,) infinite where start is nan.
    """

    kind: str
    from_posture: Posture
    to_posture: Posture
    from_k: Floats
    to_k: Floats
    start_utc_s: Floats
    m_deg: Floats
    e_deg: Floats
    off_deg: Floats
    moving: Flags
    seconds_lost: Floats


def _at(utc_s: Floats, rows: Floats, moments: Floats) -> Floats:
    """(Z,) each row (Z, N) at its own moment (Z,); the row's first value where the moment is nan."""
    pairs = zip(np.nan_to_num(moments, nan=utc_s[0]), rows, strict=True)
    return np.array([np.interp(moment, utc_s, row) for moment, row in pairs])


def _catch_up(
    utc_s: Floats, before: Floats, target: Floats, start_s: Floats, rate: float
) -> tuple[Floats, Flags]:
    """An axis that follows ``before`` to start, then runs to ``target`` at its rate and follows that.

    Args:
        utc_s: (N,).
        before, target: (Z, N) where the axis is before, and where it should be after.
        start_s: (Z,) the move's start; nan means never.
        rate: degrees a second.

    Returns:
        (Z, N) the axis, and (Z, N) bool while it runs.
    """
    start = start_s[:, None]
    after = utc_s[None, :] > start
    left, there = _at(utc_s, before, start_s), _at(utc_s, target, start_s)
    sense = np.where(there >= left, 1.0, -1.0)[:, None]
    line = left[:, None] + sense * rate * (utc_s[None, :] - np.where(np.isnan(start), 0.0, start))
    behind = (sense * (target - line) > 0.0) | ~after
    running = np.logical_and.accumulate(behind, axis=1) & after
    return np.where(running, line, np.where(after, target, before)), running


def _crossing_s(track: MountTrack, m_deg: Floats, guard: float, top: float) -> tuple[Floats, Floats]:
    """First guard crossing outward: (Z,) its moment, nan if none, and (Z,) +1 upward or -1 downward."""
    inside = (m_deg >= guard) & (m_deg <= top)
    leaves = inside[:, :-1] & ~inside[:, 1:] & (track.interval_s > 0.0)
    has = leaves.any(axis=1)
    index = np.argmax(leaves, axis=1)
    rows = np.arange(m_deg.shape[0])
    a, b = m_deg[rows, index], m_deg[rows, index + 1]
    up = b > a
    edge = np.where(up, top, guard)
    share = np.where(b != a, (edge - a) / np.where(b != a, b - a, 1.0), 0.0)
    moment = track.utc_s[index] + np.clip(share, 0.0, 1.0) * (track.utc_s[index + 1] - track.utc_s[index])
    return np.where(has, moment, np.nan), np.where(up, 1.0, -1.0)


def full_turns(
    track: MountTrack,
    steered: Steered,
    mount: Mount,
    zetas: Floats,
    posture: Posture,
    k: int,
    limit_deg: float,
) -> SplitRun:
    """Follow in turn k to the guard, turn back a full circle, follow on.

    Args:
        track, steered: the pass and what the axes are told.
        mount: travel, guard, rates, elevation range.
        zetas: (Z,) zeta of each seat in this posture.
        posture: kept throughout.
        k: full turns added to m at first.
        limit_deg: half the beamwidth.
    """
    guard, top = guarded_travel_deg(mount.azimuth)
    offsets = posture_shift_deg(posture) - zetas + 360.0 * k
    first = aim(track, steered, posture, offsets, mount)
    start, sense = _crossing_s(track, steered.azimuth_deg + offsets[:, None], guard, top)
    second = aim(track, steered, posture, offsets - 360.0 * sense, mount)
    m_deg, running = _catch_up(track.utc_s, first.m_deg, second.m_deg, start, mount.azimuth.rate_deg_s)
    e_deg = first.e_deg
    wanted = axis_elevation_deg(track.elevation_deg, posture)
    off = off_boresight_deg(m_deg - (track.azimuth_deg + offsets[:, None]), e_deg, wanted)
    lost = np.where(np.isnan(start), np.inf, seconds_off(track, off, limit_deg))
    from_k = np.full(zetas.size, float(k))
    return SplitRun(
        "full turn", posture, posture, from_k, from_k - sense, start, m_deg, e_deg, off, running, lost
    )


def posture_changes(
    track: MountTrack,
    steered: Steered,
    mount: Mount,
    zetas: dict[Posture, Floats],
    ways: tuple[tuple[Posture, int], tuple[Posture, int]],
    limit_deg: float,
) -> SplitRun:
    """Follow in the first way to the pass' highest worked moment, change posture there, follow on.

    Args:
        track, steered, mount: as in `full_turns`.
        zetas: per posture (Z,).
        ways: (posture, k) before and after.
        limit_deg: half the beamwidth.
    """
    (first_posture, first_k), (second_posture, second_k) = ways
    count = zetas[first_posture].size
    first_offsets = posture_shift_deg(first_posture) - zetas[first_posture] + 360.0 * first_k
    second_offsets = posture_shift_deg(second_posture) - zetas[second_posture] + 360.0 * second_k
    first = aim(track, steered, first_posture, first_offsets, mount)
    second = aim(track, steered, second_posture, second_offsets, mount)
    peak = int(np.argmax(np.where(track.worked, track.elevation_deg, -np.inf)))
    start = np.full(count, track.utc_s[peak])
    m_deg, turning = _catch_up(track.utc_s, first.m_deg, second.m_deg, start, mount.azimuth.rate_deg_s)
    e_deg, tipping = _catch_up(track.utc_s, first.e_deg, second.e_deg, start, mount.elevation.rate_deg_s)
    wanted = axis_elevation_deg(track.elevation_deg, first_posture)
    off = off_boresight_deg(m_deg - (track.azimuth_deg + first_offsets[:, None]), e_deg, wanted)
    return SplitRun(
        kind="change of posture",
        from_posture=first_posture,
        to_posture=second_posture,
        from_k=np.full(count, float(first_k)),
        to_k=np.full(count, float(second_k)),
        start_utc_s=start,
        m_deg=m_deg,
        e_deg=e_deg,
        off_deg=off,
        moving=turning | tipping,
        seconds_lost=seconds_off(track, off, limit_deg),
    )


def possible_postures(mount: Mount) -> tuple[Posture, ...]:
    """Upright always; over the top needs an elevation range above 90."""
    return POSTURES if mount.elevation.maximum_deg > 90.0 else POSTURES[:1]


def turns_in_travel(track: MountTrack, mount: Mount, zetas: Floats, posture: Posture) -> range:
    """Every k with which some of the pass lies inside the guarded travel at some of the seats."""
    guard, top = guarded_travel_deg(mount.azimuth)
    azimuth = track.azimuth_deg + posture_shift_deg(posture)
    first = np.ceil((guard - (azimuth.max() - zetas.min())) / 360.0)
    last = np.floor((top - (azimuth.min() - zetas.max())) / 360.0)
    return range(int(first), int(last) + 1)
