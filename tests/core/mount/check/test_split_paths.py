"""The whole path of a split: what is asked is what is told, and between its moments it is straight."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from core.mount.check.followed import FollowedPasses
from core.mount.check.split_moves import Arrivals, Moves, arrivals, axes_at
from core.mount.check.split_paths import moves_strike, paths_strike, told_s, whole_paths
from core.mount.check.strikes import barring_of
from core.mount.check.verdict import check_passes
from core.mount.clearance.keep_out import BEND_DEG
from core.mount.drive.motion import steer_all
from core.mount.model.station import Station
from core.mount.seat.study import seated
from tests.core.mount.clearance.samples import station as clearance_of
from tests.seat_evening import seat_evening, seat_plan


def clear_station(**changes: object) -> Station:
    plan = seat_plan(mount__elevation__maximum_deg=180.0, **changes)
    return replace(plan.station, clearance=clearance_of())


def drawn_moves(number: int, **changes: object) -> tuple[FollowedPasses, Moves, Arrivals]:
    """Moves of all passes, from any way to any, at any moment."""
    here, tracks, draw = clear_station(**changes), seat_evening()[1].tracks, np.random.default_rng(7)
    followed = steer_all(tracks, here.mount, here.steering)
    passes = FollowedPasses(tracks, followed, here.mount, here.beam_limit_deg, barring_of(here))
    of_pass = draw.integers(0, len(tracks), number)
    rows = (draw.integers(0, 2, number) for _ in range(2))
    offsets = (draw.uniform(-200.0, 200.0, number) for _ in range(2))
    start_s = draw.uniform(passes.begin_s[of_pass], passes.end_s[of_pass])
    moves = Moves(of_pass, *rows, *offsets, told_s(start_s))
    return passes, moves, arrivals(passes, moves)


DRIVES = {
    "by its rates": {},
    "one axis at a time": {"mount__drive__both_axes_at_once": False},
    "gaining speed": {
        "mount__azimuth__acceleration_deg_s2": 5.0,
        "mount__elevation__acceleration_deg_s2": 2.0,
    },
}


@pytest.mark.parametrize("name", DRIVES)
def test_straight_between_its_moments_a_path_is_the_move(name: str) -> None:
    passes, moves, there = drawn_moves(30, **DRIVES[name])
    paths = whole_paths(passes, moves, there)
    assert (np.diff(paths.row) >= 0).all()
    for row in range(30):
        one = slice(row, row + 1)
        end_s = min(float(there.there_s[row]), float(passes.end_s[moves.of_pass[row]]))
        own = (paths.row == row) & (paths.moments_s >= moves.start_s[row]) & (paths.moments_s <= end_s)
        moments_s = np.linspace(moves.start_s[row], end_s, 200)
        axes = axes_at(passes, moves.some(one), there.some(one), moments_s[None], passes.at(moments_s[None]))
        asked = np.stack([paths.m_deg[own], paths.e_deg[own]], axis=1)
        assert off_lines_deg(np.stack([axis[0] for axis in axes], axis=1), asked).max() < BEND_DEG


def off_lines_deg(points: np.ndarray, ends: np.ndarray) -> np.ndarray:
    """How far points (N, 2) lie off the nearest of the lines from end to end (M, 2)."""
    along = np.diff(ends, axis=0)
    square = np.maximum((along**2).sum(axis=1), 1e-300)
    share = np.clip(((points[:, None] - ends[:-1]) * along).sum(axis=2) / square, 0.0, 1.0)
    nearest = ends[:-1] + share[..., None] * along
    return np.asarray(np.sqrt(((points[:, None] - nearest) ** 2).sum(axis=2)).min(axis=1))


def test_a_path_is_asked_wherever_its_move_is() -> None:
    passes, moves, there = drawn_moves(400)
    in_move, whole = moves_strike(passes, moves, there), paths_strike(passes, moves, there)
    assert 0 < in_move.sum() < whole.sum() < 400
    # One that only touches a cell may be found at other points: it is a few of them at most.
    assert (in_move & ~whole).sum() <= 4


def test_a_split_that_is_told_has_the_moments_at_which_its_move_bends() -> None:
    _plan, result, _study = seat_evening()
    told = 0
    for bearing in (20.0, 79.5, 98.2, 306.7):
        here = clear_station()
        here = replace(here, mount=seated(here.mount, bearing, "A"))
        barring = barring_of(here)
        assert barring is not None
        for check, track in zip(check_passes(result.passes, result.tracks, here), result.tracks, strict=True):
            if check.split is None or check.pointing is None:
                continue
            told += 1
            utc_s = check.pointing.utc_s
            assert np.isin(track.utc_s, utc_s).all()
            assert (np.diff(utc_s) > 0.0).all()
            assert check.split.start_utc_s in utc_s
            assert not barring.strikes(check.pointing)
            where = np.searchsorted(utc_s, track.utc_s)
            assert (check.pointing.worked[where] <= track.worked).all()
    assert told >= 3


def test_without_lengths_a_split_is_told_at_the_samples_of_the_track() -> None:
    _plan, result, _study = seat_evening()
    here = replace(clear_station(), clearance=None)
    checks = check_passes(result.passes, result.tracks, replace(here, mount=seated(here.mount, 40.0, "A")))
    for check, track in zip(checks, result.tracks, strict=True):
        assert check.pointing is None or check.pointing.utc_s is track.utc_s
