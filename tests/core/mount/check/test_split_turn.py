"""What a turn keeps, told by two roots, against the move looked at sample by sample."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.base.angles import Flags, Floats, Indices
from core.mount.check.followed import FollowedPasses
from core.mount.check.split_moves import Arrivals, Moves, arrivals, kept_in_move
from core.mount.check.split_turn import kept_in_turn
from core.mount.drive.aim import half_chord, on_fraction
from core.mount.drive.motion import steer_all
from core.mount.drive.tracks import MountTrack
from tests.core.mount.check.test_followed import MOUNT, followed

GUARDS_DEG = (3.0, 357.0)


def turns_of(passes: FollowedPasses) -> Moves:
    """Full turns in both senses from many moments of every pass, in ways all round the circle."""
    of_pass, share, offset, turn = (
        side.ravel()
        for side in np.meshgrid(
            [0, 1, 2],
            np.linspace(0.0, 0.95, 12),
            -np.arange(0.0, 360.0, 40.0),
            [-360.0, 360.0],
            indexing="ij",
        )
    )
    of_pass = of_pass.astype(np.intp)
    start_s = passes.begin_s[of_pass] + share * (passes.end_s - passes.begin_s)[of_pass]
    upright: Indices = np.zeros(of_pass.size, dtype=np.intp)
    return Moves(of_pass, upright, upright, offset, offset + turn, start_s)


def looked_at(
    passes: FollowedPasses, tracks: tuple[MountTrack, ...], moves: Moves, there: Arrivals, samples: int
) -> Floats:
    """(R,) seconds over the mask in the beam, by so many moments of each move."""
    limit, kept = float(np.sin(np.radians(passes.limit_deg) / 2.0)), []
    for index, start_s in enumerate(moves.start_s):
        track, begin_s = tracks[moves.of_pass[index]], passes.begin_s[moves.of_pass[index]]
        clock_s, offset = track.utc_s - track.utc_s[0] + begin_s, moves.from_offset_deg[index]
        moments_s = np.linspace(start_s, min(there.there_s[index], clock_s[-1]), samples + 1)
        azimuth, elevation = (
            np.interp(moments_s, clock_s, side) for side in (track.azimuth_deg, track.elevation_deg)
        )
        own = slice(passes.first[moves.of_pass[index]], None)
        turned_deg = passes.turned_deg.values[own][: clock_s.size]
        m_start = np.clip(np.interp(start_s, clock_s, turned_deg) + offset, *GUARDS_DEG)
        arrives = np.interp(min(there.azimuth_s[index], clock_s[-1]), clock_s, turned_deg)
        by = np.clip(arrives + moves.to_offset_deg[index], *GUARDS_DEG) - m_start
        m_deg = m_start + np.sign(by) * np.minimum(6.0 * (moments_s - start_s), abs(by))
        e_deg = np.interp(moments_s, clock_s, passes.axis_deg.values[own][: clock_s.size])
        chord = half_chord(m_deg - azimuth - offset, e_deg, elevation)
        over_s = np.diff(np.interp(moments_s, clock_s, np.concatenate([[0.0], np.cumsum(track.interval_s)])))
        kept.append(float((on_fraction(chord, limit) * over_s).sum()))
    return np.array(kept)


def hidden_at_times(track: MountTrack) -> MountTrack:
    """The same pass under a mask that hides it a minute in every two."""
    over: Flags = (np.arange(track.utc_s.size) // 60) % 2 == 0
    return replace(track, worked=over, interval_s=track.interval_s * (over[1:] & over[:-1]))


@pytest.mark.parametrize("hides", [False, True])
@pytest.mark.parametrize("half_beam", [1.0, 15.0, 40.0])
def test_what_a_turn_keeps_is_what_its_samples_keep(half_beam: float, hides: bool) -> None:
    tracks, _steered = followed()
    if hides:
        tracks = tuple(hidden_at_times(track) for track in tracks)
    passes = FollowedPasses(tracks, steer_all(tracks, MOUNT), MOUNT, half_beam)
    moves = turns_of(passes)
    there = arrivals(passes, moves)
    kept, told = kept_in_turn(passes, moves, there)
    assert told[moves.of_pass == 0].mean() > 0.6
    finely = np.flatnonzero(told)
    fine = looked_at(passes, tracks, moves.some(finely), there.some(finely), 3000)
    assert kept[finely] == pytest.approx(fine, abs=0.05)
    assert (kept[finely] > 0.1).sum() > 20
    # The others are looked at sample by sample.
    rest = np.flatnonzero(~told)
    assert rest.size
    roughly = looked_at(passes, tracks, moves.some(rest), there.some(rest), 40)
    assert kept_in_move(passes, moves, there, 40)[rest] == pytest.approx(roughly, abs=1e-5)


def test_near_the_zenith_nothing_is_told_by_roots() -> None:
    tracks, steered = followed()
    passes = FollowedPasses(tracks, steered, MOUNT, 15.0)
    highest = np.array([np.argmax(track.elevation_deg) for track in tracks])
    every, upright = np.arange(3), np.zeros(3, dtype=np.intp)
    start_s = passes.clock_s[passes.first + highest]
    moves = Moves(every, upright, upright, np.full(3, -80.0), np.full(3, 280.0), start_s)
    _kept, told = kept_in_turn(passes, moves, arrivals(passes, moves))
    assert told.tolist() == [True, False, False]


def test_an_axis_that_gains_speed_is_not_told_by_roots() -> None:
    tracks, _steered = followed()
    slow = MOUNT.model_copy(update={"azimuth": MOUNT.azimuth.model_copy(update={"acceleration_deg_s2": 3.0})})
    passes = FollowedPasses(tracks, steer_all(tracks, slow), slow, 15.0)
    moves = turns_of(passes)
    assert not kept_in_turn(passes, moves, arrivals(passes, moves))[1].any()
