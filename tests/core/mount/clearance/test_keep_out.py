"""The cells: none that is free holds a place that strikes, and few are forbidden for nothing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.clearance.gaps import Gaps
from core.mount.clearance.keep_out import BEND_DEG, CELL_DEG, STEP_DEG, KeepOut
from core.mount.clearance.lengths import Boom, Clearance
from tests.core.mount.clearance.samples import TWO_YAGIS, station
from tests.oracles.clearance_points import sampled_gap

LENGTHS = station()
DRAWN = np.random.default_rng(20261127)


def test_no_free_cell_strikes_nor_does_what_is_half_a_step_beside_it():
    boom = DRAWN.uniform(0.0, 360.0, 12_000)
    e = DRAWN.uniform(0.0, 180.0, 12_000)
    free = ~LENGTHS.keep_out.holds(boom, e)
    by = STEP_DEG / 2.0 + BEND_DEG
    beside = [DRAWN.uniform(-by, by, 12_000) for _ in range(2)]
    gap, _turning, _standing = Gaps(LENGTHS).least((boom + beside[0])[free], (e + beside[1])[free])
    assert free.sum() > 10_000
    assert gap.min() >= LENGTHS.gap_mm


def test_the_bound_holds_how_fast_a_gap_changes():
    """Lipschitz: of every line, by its reach from either axis times what the axes move."""
    gaps = Gaps(LENGTHS)
    boom, e = DRAWN.uniform(0.0, 360.0, 4000), DRAWN.uniform(-90.0, 180.0, 4000)
    turned, tipped = DRAWN.uniform(-5.0, 5.0, 4000), DRAWN.uniform(-5.0, 5.0, 4000)
    for line, (turned_mm, tipped_mm) in enumerate(zip(*gaps.turning.reach_mm(), strict=True)):
        here, there = gaps.of_line(line, boom, e), gaps.of_line(line, boom + turned, e + tipped)
        most = np.radians(np.abs(turned)) * turned_mm + np.radians(np.abs(tipped)) * tipped_mm
        assert (np.abs(here - there) <= most[:, None] + 1e-6).all()


def test_what_is_forbidden_is_near_what_strikes():
    """A forbidden cell's middle lacks no more than what the longest line moves in the seam."""
    rows, columns = np.nonzero(LENGTHS.keep_out.struck[round(90.0 / CELL_DEG) :])
    rows, columns = rows[::7], columns[::7]
    gap, _turning, _standing = Gaps(LENGTHS).least((columns + 0.5) * CELL_DEG, (rows + 0.5) * CELL_DEG)
    reach = sum(float(side.max()) for side in Gaps(LENGTHS).turning.reach_mm())
    assert gap.max() < LENGTHS.gap_mm + np.radians((CELL_DEG + STEP_DEG) / 2.0 + BEND_DEG) * reach


@settings(max_examples=40)
@given(st.floats(0.0, 360.0), st.floats(0.0, 180.0), st.floats(-40.0, 40.0), st.floats(-40.0, 40.0))
def test_a_path_that_is_free_strikes_at_none_of_its_points(boom_deg, e_deg, turned, tipped):
    boom, e = np.array([boom_deg, boom_deg + turned]), np.clip([e_deg, e_deg + tipped], 0.0, 180.0)
    if LENGTHS.keep_out.steps(boom, e)[0]:
        return
    for share in np.linspace(0.0, 1.0, 23):
        at = [float(side[0] + share * (side[1] - side[0])) for side in (boom, e)]
        assert sampled_gap(TWO_YAGIS, *at, number=30) >= LENGTHS.gap_mm


def test_a_path_across_the_leg_strikes_though_its_samples_do_not():
    boom = np.array([90.0, 140.0])
    e = np.array([75.0, 75.0])
    ends = LENGTHS.keep_out.holds(boom, e)
    assert not ends.any()
    assert LENGTHS.keep_out.steps(boom, e).tolist() == [True]
    assert LENGTHS.keep_out.steps(boom + 720.0, e).tolist() == [True]


def test_paths_keep_their_shape():
    keep_out = LENGTHS.keep_out
    assert keep_out.steps(np.zeros((3, 5)), np.zeros(5)).shape == (3, 4)
    assert keep_out.steps(np.zeros((3, 1)), np.zeros((3, 1))).shape == (3, 0)
    assert keep_out.steps(np.zeros((0, 4)), np.zeros((0, 4))).shape == (0, 3)
    assert not KeepOut(np.zeros((1080, 1440), dtype=bool), False).steps(np.zeros(4), np.zeros(4)).any()


def test_a_copy_that_is_changed_works_its_own_out():
    assert LENGTHS.keep_out.any
    bare = LENGTHS.model_copy(update={"legs": (), "guys": (), "booms": (Boom(tail_mm=0.0, front_mm=10.0),)})
    assert bare.keep_out.struck[:, 0].sum() < LENGTHS.keep_out.struck.any(axis=1).sum()
    assert bare.keep_out is bare.keep_out
    assert LENGTHS.model_copy(deep=True) == LENGTHS


def test_lengths_that_are_equal_are_equal_whatever_was_asked_of_them():
    fresh = station()
    assert LENGTHS.keep_out.any
    assert fresh == LENGTHS
    assert hash(fresh) == hash(LENGTHS)


def test_nothing_that_turns_strikes_nothing():
    assert not Clearance(booms=()).keep_out.any


@pytest.mark.parametrize("e_deg", [-90.0, 180.0, 181.0])
def test_the_ends_of_elevation_have_cells(e_deg):
    assert LENGTHS.keep_out.holds(np.array([359.99999, -1e-12]), np.array([e_deg, e_deg])).shape == (2,)


def test_equal_lengths_have_one_map() -> None:
    assert station().keep_out is station().keep_out
    assert station(gap_mm=51.0).keep_out is not station().keep_out
