"""Where a quantity is over zero: against a wave whose crossings are known in closed form."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.passes.over_zero import Curve, over_zero
from core.passes.paths import Paths

#: Pieces, and intervals of a piece: so long that a wave's top or trough lies between two moments.
PIECES, INTERVALS, STEP_S = 3, 6, 1.1


def waves(levels: list[float], phase: float, gap: float = 0.0) -> tuple[Paths, Curve]:
    """For every level a path over which sin(t + phase) - level is the quantity."""
    owner = np.repeat(np.arange(len(levels)), PIECES)
    length = INTERVALS * STEP_S
    begins = np.tile(np.arange(PIECES) * length, len(levels))
    paths = Paths(
        owner, begins + length / 2.0, np.full(owner.size, length / 2.0), np.zeros((owner.size, 3, 1))
    )
    piece = np.repeat(np.arange(owner.size), INTERVALS)
    low = begins[piece] + STEP_S * np.tile(np.arange(INTERVALS), owner.size)

    def at(which: np.ndarray, utc_s: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return np.sin(utc_s + phase) - np.array(levels)[owner[piece[which]]], np.cos(utc_s + phase)

    every = np.arange(piece.size)
    (f_low, d_low), (f_high, d_high) = at(every, low), at(every, low + STEP_S)
    return paths, Curve(piece, low + gap, low + STEP_S, (f_low, f_high, d_low, d_high), at)


def runs_over(level: float, phase: float) -> list[tuple[float, float]]:
    """When sin(t + phase) is over a level, from 0 to the end."""
    rise, end = np.arcsin(level), PIECES * INTERVALS * STEP_S
    begins = rise - phase + 2.0 * np.pi * np.arange(-2, 6)
    found = [(max(b, 0.0), min(b + np.pi - 2.0 * rise, end)) for b in begins]
    return [pair for pair in found if pair[1] - pair[0] > 2e-3]


@given(levels=st.lists(st.floats(-0.99, 0.99), min_size=1, max_size=4), phase=st.floats(0.0, 2.0 * np.pi))
def test_a_wave_is_over_its_level_just_then(levels, phase):
    paths, curve = waves(levels, phase)
    found = over_zero(paths, curve)
    lasting = found.end_utc_s - found.start_utc_s > 2e-3
    owner = paths.owner[found.piece]
    assert (paths.owner[found.last_piece] == owner).all()
    for row, level in enumerate(levels):
        mine = lasting & (owner == row)
        pairs = np.stack([found.start_utc_s[mine], found.end_utc_s[mine]], axis=1)
        assert pairs == pytest.approx(np.array(runs_over(level, phase)).reshape(-1, 2), abs=1e-5)
        begins = paths.start_utc_s[found.piece[mine]]
        assert ((pairs[:, 0] > begins - 1e-9) & (pairs[:, 0] < begins + INTERVALS * STEP_S + 1e-9)).all()


def test_what_is_over_zero_all_along_ends_with_its_path_to_the_bit():
    paths, curve = waves([-2.0, 2.0, -2.0], 0.3)
    found = over_zero(paths, curve)
    assert paths.owner[found.piece].tolist() == [0, 2]
    assert found.start_utc_s.tolist() == [0.0, 0.0]
    assert found.end_utc_s.tolist() == [curve.high_utc_s[-1]] * 2
    assert found.last_piece.tolist() == [PIECES - 1, 3 * PIECES - 1]


@pytest.mark.parametrize(("gap", "count"), [(5e-4, 1), (2e-3, PIECES * INTERVALS)])
def test_gaps_of_less_than_a_millisecond_part_nothing(gap, count):
    paths, curve = waves([-2.0], 0.3, gap)
    assert over_zero(paths, curve).piece.size == count
