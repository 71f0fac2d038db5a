"""Ways of following as one table, against each worked out alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.mount.check.ways import offset_in_turn, pointing_of_way
from core.mount.drive.aim import on_fraction
from core.mount.drive.motion import steer_all
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.joined import JoinedTracks, Spread, joined_tracks
from core.mount.evening.order.lines import CLEAR_ENOUGH_DEG, FollowedLines, followed_lines
from core.mount.evening.order.options import Option, options_of
from core.mount.evening.order.rules import GRID_S, Wanted
from core.mount.evening.question import EveningQuestion
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import Pointing
from core.mount.model.station import POSTURES, Antenna, AzimuthAxis, ElevationAxis, Mount, Posture, Station
from core.passes.track import Pass, cut_pass
from tests.core.mount.evening.order.evenings import a_pass, order_of, question_of
from tests.stays import arc_stay

WIDE = Station(
    Mount(azimuth=AzimuthAxis(travel_deg=450.0, guard_deg=5.0), elevation=ElevationAxis(maximum_deg=180.0)),
    (Antenna(beamwidth_deg=24.0),),
)


def options(passes: tuple[Pass, ...], station: Station = WIDE) -> tuple[Option, ...]:
    question = question_of(passes, station)
    return options_of(question.checks, question.tracks, station, question.wanted, 60.0, False)


def joined_of(tracks: tuple[MountTrack, ...]) -> JoinedTracks:
    return joined_tracks(tracks, steer_all(tracks, WIDE.mount), WIDE.mount.elevation, WIDE.beam_limit_deg)


def lines_of(question: EveningQuestion) -> FollowedLines:
    return followed_lines(question.checks, question.tracks, joined_of(question.tracks), WIDE, question.wanted)


def alone(track: MountTrack, way: tuple[Posture, int]) -> Pointing:
    (steered,) = steer_all((track,), WIDE.mount)
    return pointing_of_way(track, steered, WIDE.mount, way[0], offset_in_turn(track, WIDE.mount, *way))


@pytest.mark.parametrize("azimuth_deg", [10.0, 75.0, 200.0])
def test_each_line_is_its_way_followed_alone(azimuth_deg: float) -> None:
    question = question_of((a_pass(1, 0.0, azimuth_deg), a_pass(2, 300.0, azimuth_deg + 90.0, 500.0)), WIDE)
    lines = lines_of(question)
    low, high = guarded_travel_deg(WIDE.mount.azimuth)
    stopped = []
    for line, (want, way) in enumerate(zip(lines.want.tolist(), lines.way, strict=True)):
        here = slice(lines.samples.offsets[line], lines.samples.offsets[line + 1])
        if way is None or here.start == here.stop:
            continue
        track, utc_s = question.tracks[want], lines.samples.utc_s[here]
        pointing = alone(track, way)
        on_s = on_fraction(pointing.off_deg, WIDE.beam_limit_deg) * track.interval_s
        heard_s = np.interp(utc_s, track.utc_s, np.append(0.0, np.cumsum(on_s)))
        for values, own in ((lines.samples.m_deg, pointing.m_deg), (lines.samples.e_deg, pointing.e_deg)):
            np.testing.assert_allclose(values[here], np.interp(utc_s, track.utc_s, own), atol=1e-9)
        np.testing.assert_allclose(lines.samples.signal_s[here], heard_s - heard_s[0], atol=1e-6)
        assert heard_s[-1] - heard_s[0] == pytest.approx(on_s.sum(), abs=1e-6)
        assert set(lines.samples.over[here]) == {way[0] == "over the top"}
        m_deg = lines.samples.m_deg[here]
        off_stops_deg = np.minimum(np.minimum(m_deg - low, high - m_deg), CLEAR_ENOUGH_DEG)
        clear = np.diff(heard_s) * (off_stops_deg[1:] + off_stops_deg[:-1]) / 2.0
        np.testing.assert_allclose(np.diff(lines.clear_deg_s[here]), clear, atol=1e-6)
        stopped.append(bool(((m_deg == low) | (m_deg == high)).any()))
    assert len(stopped) > 4
    assert len(set(stopped)) == 2


def test_lines_come_by_posture_then_by_pass_and_turn() -> None:
    question = question_of(tuple(a_pass(n, 300.0 * n, 70.0 * n) for n in range(4)), WIDE)
    lines = lines_of(question)
    told = [
        (POSTURES.index(way[0]), lines.want[line], way[1]) for line in lines.order if (way := lines.way[line])
    ]
    assert told == sorted(told)
    assert len(told) > 8


def test_the_first_and_the_last_moment_are_on_the_grid_and_no_multiple_is_left_out() -> None:
    (one, *_rest) = options((a_pass(1, 2.6, 60.0, 601.0),))
    inner = one.utc_s[1:-1]
    np.testing.assert_allclose(inner, GRID_S * np.round(inner / GRID_S))
    np.testing.assert_allclose(np.diff(inner), GRID_S)
    assert 0.0 < inner[0] - one.utc_s[0] < GRID_S
    assert 0.0 < one.utc_s[-1] - inner[-1] < GRID_S


def test_signal_and_turning_are_the_fine_line_s() -> None:
    passes = (a_pass(1, 0.0, 75.0),)
    (track,) = question_of(passes, WIDE).tracks
    (one, *_rest) = options(passes)
    assert one.way is not None
    on_s = on_fraction(alone(track, one.way).off_deg, WIDE.beam_limit_deg) * track.interval_s
    assert one.signal_s[-1] == pytest.approx(on_s.sum(), abs=1e-6)
    assert one.turned_deg[-1] == pytest.approx(np.abs(np.diff(one.m_deg)).sum())


def test_a_pass_wholly_in_the_gap_of_the_guards_is_worked_at_rest() -> None:
    """South of a mount of 340 deg travel lie 26 deg that no m points to; the beam reaches into them."""
    narrow = Station(
        Mount(
            keyway_bearing_deg=193.0,
            azimuth=AzimuthAxis(travel_deg=340.0, guard_deg=3.0),
            elevation=ElevationAxis(maximum_deg=90.0),
        ),
        (Antenna(beamwidth_deg=60.0),),
    )
    seen = 0
    for azimuth_deg in range(0, 360, 4):
        short = cut_pass(arc_stay(1, 0.0, float(azimuth_deg), 600.0, 20.0), (), 19.7)
        assert short is not None
        question = question_of((short,), narrow, picks=(Wanted(0, 1.0),))
        (check,), m_deg = question.checks, (question.tracks[0].azimuth_deg - 193.0) % 360.0
        if check.resting and ((m_deg > 337.0) | (m_deg < 3.0)).all():
            (contact,) = order_of(question).contacts
            seen += 1
            assert contact.check.seconds_lost == pytest.approx(check.seconds_lost, abs=0.1)
            assert contact.end_utc_s - contact.start_utc_s == pytest.approx(check.seconds_in_all, abs=0.1)
    assert seen


@pytest.mark.parametrize("seed", range(4))
def test_what_lies_outside_a_stretch_is_off_the_beam_of_the_axis(seed: int) -> None:
    """Against each sample by itself, the axis as near as its travel lets it, at the satellite's elevation."""
    random = np.random.default_rng(seed)
    passes = tuple(a_pass(n, 400.0 * n, float(random.uniform(0.0, 360.0))) for n in range(4))
    tracks = question_of(passes, WIDE).tracks
    joined = joined_of(tracks)
    if seed % 2:  # seen from no more azimuths than need be
        up = np.radians(np.concatenate([track.elevation_deg for track in tracks]))
        most = (np.cos(np.radians(WIDE.beam_limit_deg)) - np.sin(up) ** 2) / np.cos(up) ** 2
        lag_deg = np.degrees(np.arccos(np.clip(most, -1.0, 1.0)))
        seen = joined.azimuth_deg - lag_deg, joined.azimuth_deg + lag_deg
        joined = replace(joined, spread=Spread.of(joined.clock.offsets, *seen))
    begins, ends = joined.clock.samples_of(np.arange(4))
    shorter = 0
    for _ in range(60):
        n = int(random.integers(4))
        low, high = np.sort(random.uniform(-500.0, 900.0, 2))
        found = joined.within(np.array([n]), np.array([low]), np.array([high]))
        own, up = tracks[n].azimuth_deg, np.radians(tracks[n].elevation_deg)
        away = np.radians(own - np.clip(own, low, high))
        off = np.degrees(np.arccos(np.clip(np.sin(up) ** 2 + np.cos(up) ** 2 * np.cos(away), -1.0, 1.0)))
        near = begins[n] + np.flatnonzero(off <= WIDE.beam_limit_deg)
        assert begins[n] <= found.begins[0] < found.ends[0] <= ends[n]
        if near.size:
            assert found.begins[0] <= max(near[0] - 1, begins[n])
            assert found.ends[0] >= min(near[-1] + 2, ends[n])
            shorter += bool(found.ends[0] - found.begins[0] < own.size)
    assert shorter > 3
