"""Paths in pieces: joined, taken and read off, against the closed form they were laid through."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial.chebyshev import chebvander

from core.passes.looks import Looks
from core.passes.paths import Paths, chebyshev_at
from tests.stays import path_through


def circle(utc_s: np.ndarray, start_rad: float) -> tuple[np.ndarray, np.ndarray]:
    """A circle of 1000 km, a radian in 100 s."""
    angle = start_rad + utc_s / 100.0
    position = 1000.0 * np.stack([np.cos(angle), np.sin(angle), 0.3 * np.cos(angle)], axis=1)
    velocity = 10.0 * np.stack([-np.sin(angle), np.cos(angle), -0.3 * np.sin(angle)], axis=1)
    return position, velocity


def one(start_rad: float, pieces: int) -> Paths:
    utc_s = np.linspace(0.0, 100.0, pieces + 1)
    return path_through(utc_s, *circle(utc_s, start_rad))


owners = st.lists(st.tuples(st.floats(0.0, 6.0), st.integers(8, 20)), min_size=1, max_size=5)


@given(owners, st.data())
def test_joined_and_reordered_paths_stay_the_owners_own(drawn, data):
    paths = Paths.joined([one(*each) for each in drawn], [1] * len(drawn))
    order = np.array(data.draw(st.permutations(range(len(drawn)))))
    mixed = paths.of_owners(order, len(drawn))
    assert mixed.owner.tolist() == [row for row, i in enumerate(order) for _ in range(drawn[i][1])]
    utc_s = np.array(data.draw(st.lists(st.floats(0.0, 100.0), min_size=1, max_size=6)))
    for row, index in enumerate(order):
        piece = mixed.piece_at(np.full(utc_s.size, row), utc_s)
        assert (mixed.owner[piece] == row).all()
        position, velocity = mixed.at(piece, utc_s)
        wanted = circle(utc_s, drawn[index][0])
        assert position == pytest.approx(wanted[0], abs=0.05)
        assert velocity == pytest.approx(wanted[1], abs=0.02)


def test_a_moment_outside_lies_on_the_nearest_piece_of_its_owner():
    paths = Paths.joined([one(0.0, 8), one(1.0, 8)], [1, 1])
    assert paths.piece_at(np.array([0, 0, 1, 1]), np.array([-5.0, 105.0, -5.0, 105.0])).tolist() == [
        0,
        7,
        8,
        15,
    ]


def test_pieces_of_few_and_of_many_coefficients_are_joined():
    few = one(0.0, 12)
    longer = np.pad(few.coefficients, ((0, 0), (0, 0), (0, 6)))
    many = Paths(few.owner, few.middle_utc_s, few.half_s, longer)
    both = Paths.joined([few, many], [1, 1])
    utc_s = np.linspace(0.0, 100.0, 37)
    first, second = (both.at(both.piece_at(np.full(37, row), utc_s), utc_s) for row in (0, 1))
    assert first[0] == pytest.approx(second[0], abs=1e-9)
    assert first[1] == pytest.approx(second[1], abs=1e-9)


def test_looks_are_the_paths_own_states_and_turns_are_found_between_them():
    paths = one(1.0, 2)
    looks = Looks.along(paths, 13)
    assert looks.utc_s[:, 0] == pytest.approx([0.0, 50.0])
    assert looks.utc_s[:, -1] == pytest.approx([50.0, 100.0])
    for piece in (0, 1):
        at = looks.utc_s[piece]
        position, velocity = paths.at(np.full(at.size, piece), at)
        assert looks.position_km[piece] == pytest.approx(position, abs=1e-9)
        assert looks.velocity_km_s[piece] == pytest.approx(velocity, abs=1e-9)
    # North is greatest where the angle is a quarter of a turn.
    rate, bend = looks.velocity_km_s[..., 1], looks.acceleration_km_s2[..., 1]
    piece, when = looks.roots((rate[:, :-1] > 0.0) & (rate[:, 1:] <= 0.0), rate, bend)
    assert piece.tolist() == [1]
    assert when == pytest.approx([100.0 * (np.pi / 2.0 - 1.0)], abs=0.1)
    assert paths.at(piece, when)[1][0, 1] == pytest.approx(0.0, abs=1e-6)


def test_roots_of_several_quantities_come_one_after_another():
    looks = Looks.along(one(0.0, 8), 5)
    angle = looks.utc_s / 100.0
    value, slope = np.stack([np.cos(3.0 * angle), np.sin(6.0 * angle - 1.0)]), np.zeros((2, *angle.shape))
    slope[0], slope[1] = -0.03 * np.sin(3.0 * angle), 0.06 * np.cos(6.0 * angle - 1.0)
    piece, when = looks.roots((value[..., :-1] > 0.0) != (value[..., 1:] > 0.0), value, slope)
    wanted = 100.0 * np.array([np.pi / 6.0, 1.0 / 6.0, (1.0 + np.pi) / 6.0])
    assert when == pytest.approx(wanted, abs=1e-3)
    assert piece.tolist() == (wanted // 12.5).astype(int).tolist()


@pytest.mark.parametrize("count", [1, 2, 3, 10, 14])
def test_polynomials_are_numpys_own_to_the_bit(count):
    places = np.linspace(-1.0, 1.0, 23)
    assert np.array_equal(chebyshev_at(places, count), chebvander(places, count - 1))
