import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial import Polynomial

from core.base.curves import (
    corrected_roots,
    cubic_roots,
    find_roots,
    halve_bracket,
    halve_brackets,
    hermite_values,
    near_cubic_roots,
    turns_of_cubic,
)


@given(
    roots=st.lists(st.floats(-0.999, 0.999), min_size=1, max_size=20),
    power=st.sampled_from([1, 3, 5]),
    scale=st.floats(1e-6, 1e6),
)
def test_roots_are_found_to_the_tolerance(roots, power, scale):
    at = np.array(roots)
    found = find_roots(
        lambda x: scale * ((x - at) ** power + 0.1 * (x - at)),
        np.full(at.size, -1.0),
        np.full(at.size, 1.0),
        1e-9,
    )
    assert found == pytest.approx(at, abs=1e-9)


def test_roots_of_nothing_and_at_an_end():
    assert find_roots(lambda x: x, np.zeros(0), np.zeros(0), 1e-6).size == 0
    assert find_roots(lambda x: x - 1.0, np.array([1.0]), np.array([2.0]), 1e-6)[0] == pytest.approx(1.0)


ENDS = st.floats(-1e3, 1e3)


@given(bad=ENDS, good=ENDS, share=st.floats(0.0, 1.0), rounds=st.integers(0, 40))
def test_halving_closes_on_the_edge_from_either_side(bad, good, share, rounds):
    edge = bad + share * (good - bad)
    rising = good >= bad
    last_bad, last_good = halve_bracket(bad, good, lambda x: x >= edge if rising else x <= edge, rounds)
    width = abs(good - bad)
    assert abs(last_good - last_bad) <= width * 0.5**rounds + 1e-12 * (1.0 + width)
    slack = 1e-9 * (1.0 + width)
    assert min(last_bad, last_good) - slack <= edge <= max(last_bad, last_good) + slack


@given(brackets=st.lists(st.tuples(ENDS, ENDS, st.floats(0.0, 1.0)), max_size=12), rounds=st.integers(0, 40))
def test_columns_are_halved_as_one_by_one(brackets, rounds):
    bad, good, share = np.array(brackets, dtype=float).reshape(-1, 3).T
    edge, rising = bad + share * (good - bad), good >= bad

    def is_good(x, row=slice(None)):
        return np.where(rising[row], x >= edge[row], x <= edge[row])

    columns = halve_brackets(bad, good, is_good, rounds)
    for row in range(bad.size):
        one = halve_bracket(bad[row], good[row], lambda x, row=row: bool(is_good(x, row)), rounds)
        assert (columns[0][row], columns[1][row]) == one


def test_columns_stop_at_the_tolerance_and_at_rounding():
    asked = []

    def is_good(x):
        asked.append(x.copy())
        return x >= 0.3

    bad, good = halve_brackets(np.zeros(2), np.array([1.0, 8.0]), is_good, tolerance=0.5)
    assert len(asked) == 4
    assert good == pytest.approx([0.3125, 0.5])
    assert bad == pytest.approx([0.25, 0.0])
    asked.clear()
    assert halve_brackets(np.array([2.0]), np.array([2.0]), is_good)[1] == 2.0
    assert not asked


NUMBERS = st.integers(-20, 20).map(float)


@given(
    coefficients=st.lists(NUMBERS, min_size=4, max_size=4),
    low=st.floats(-3.0, 3.0),
    width=st.floats(0.1, 5.0),
    share=st.floats(0.0, 1.0),
)
def test_a_cubic_through_two_ends_is_that_cubic(coefficients, low, width, share):
    cubic = Polynomial(coefficients)
    slope = cubic.deriv()
    ends = [np.array([f(at)]) for f in (cubic, slope) for at in (low, low + width)]
    values = hermite_values(
        np.array([0.0, share, 1.0]), np.full(2, width), *(np.repeat(end, 2) for end in ends)
    )
    wanted = [cubic(low), cubic(low + share * width), cubic(low + width)]
    assert values == pytest.approx(np.array([wanted, wanted]), abs=1e-8)


@given(
    coefficients=st.lists(st.tuples(NUMBERS, NUMBERS, NUMBERS, NUMBERS), min_size=1, max_size=6),
    width=st.floats(0.1, 50.0),
)
def test_a_cubic_is_zero_where_it_is_said_to_be(coefficients, width):
    """However it winds between its ends: where Newton's steps stray, the bracket is halved."""
    cubics = [Polynomial(one) for one in coefficients]
    ends = [
        np.array([f(at) for f in row])
        for row in (cubics, [cubic.deriv() for cubic in cubics])
        for at in (0.0, width)
    ]
    differ = np.sign(ends[0]) * np.sign(ends[1]) < 0.0
    share = cubic_roots(np.full(differ.sum(), width), *(end[differ] for end in ends))
    assert ((share >= 0.0) & (share <= 1.0)).all()
    for cubic, where in zip(np.array(cubics)[differ], share, strict=True):
        # A change of sign within a billionth of the interval, or nothing but rounding.
        near = cubic(width * np.clip(where + np.array([-2e-7, 0.0, 2e-7]), 0.0, 1.0))
        assert near.min() <= 1e-9 * np.abs(cubic.coef).sum() * max(1.0, width) ** 3
        assert near.max() >= -1e-9 * np.abs(cubic.coef).sum() * max(1.0, width) ** 3


def test_only_what_is_not_settled_is_asked_again():
    asked = []

    def square(which, x):
        asked.append(which.size)
        return x * x - np.array([2.0, 3.0])[which], 2.0 * x

    guess = np.array([1.4142, 1.5])
    found = corrected_roots(square, guess, np.ones(2), np.full(2, 2.0), 1e-8)
    assert found == pytest.approx(np.sqrt([2.0, 3.0]), abs=1e-8)
    assert asked == [2, 2, 1, 1]


@given(
    top=st.floats(0.05, 0.95), bottom=st.floats(0.05, 0.95), scale=st.sampled_from([-7.0, -0.5, 1.0, 30.0])
)
def test_turns_of_cubics_are_where_their_slopes_are_nothing(top, bottom, scale):
    slope = scale * Polynomial.fromroots([top, bottom])
    cubic = slope.integ()
    stretched = Polynomial([0.0, 1.0 / 3.0])
    wide = [np.array([f(at)]) for f in (cubic(stretched), slope(stretched) / 3.0) for at in (0.0, 3.0)]
    which, share = turns_of_cubic(np.array([3.0]), *wide)
    if abs(top - bottom) > 1e-3:
        assert which.tolist() == [0, 0]
        assert sorted(share) == pytest.approx(sorted([top, bottom]), abs=1e-6)


def test_a_straight_line_and_a_curve_that_only_rises_have_no_turns():
    flat = turns_of_cubic(
        np.ones(2), np.zeros(2), np.array([1.0, 0.0]), np.array([1.0, 0.0]), np.array([1.0, 0.0])
    )
    assert flat[0].size == flat[1].size == 0
    rising = turns_of_cubic(np.ones(1), np.zeros(1), np.ones(1), np.full(1, 0.5), np.full(1, 0.5))
    assert rising[0].size == 0


def test_a_guess_of_a_root_is_near_it_and_never_outside():
    """A low satellite's height over a cone, which is nearly straight; and cubics that wind."""
    shares = np.linspace(0.05, 0.95, 19)
    low, high = -shares, 1.0 - shares
    gentle = np.ones(19), low, high, np.full(19, 1.3), np.full(19, 0.6)
    assert near_cubic_roots(*gentle) == pytest.approx(cubic_roots(*gentle), abs=1e-6)
    wild = np.ones(19), low, high, np.full(19, -40.0), np.full(19, 30.0)
    guess = near_cubic_roots(*wild)
    assert ((guess >= 0.0) & (guess <= 1.0)).all()
    level = near_cubic_roots(np.ones(1), np.array([-1.0]), np.array([1.0]), np.zeros(1), np.zeros(1))
    assert level == pytest.approx([0.5])
