"""The arithmetic of a season's arcs, against counting pass by pass at bearings drawn at random."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.seat.arcs import Arcs
from core.mount.seat.season.not_clear import NotClear, StepCurve

#: Of a pass: its evening, start and width of the clear arc of each posture; whole degrees, so that ends meet.
passes = st.lists(
    st.tuples(
        st.integers(0, 4),
        st.integers(-400, 760),
        st.integers(-30, 390),
        st.integers(-400, 760),
        st.integers(-30, 390),
    ),
    min_size=1,
    max_size=12,
)
bearings = st.lists(st.integers(-360, 719), min_size=1, max_size=12)


def season_of(rows: list[tuple[int, int, int, int, int]]) -> NotClear:
    evening, *columns = np.array(rows).T
    one, other = (Arcs(*(column.astype(float) for column in pair)) for pair in (columns[:2], columns[2:]))
    return NotClear.of(evening, 5, one, other)


def is_clear(row: tuple[int, int, int, int, int], bearing: float) -> bool:
    """By walking the turns of both arcs."""
    return any(
        width >= 0 and any(start <= bearing + 360.0 * k <= start + width for k in range(-6, 7))
        for start, width in (row[1:3], row[3:5])
    )


def counted_shares(rows: list[tuple[int, int, int, int, int]], bearing: float) -> list[float]:
    """Of each evening that has passes the share that is not clear."""
    evenings = sorted({row[0] for row in rows})
    own = [[row for row in rows if row[0] == evening] for evening in evenings]
    return [sum(not is_clear(row, bearing) for row in some) / len(some) for some in own]


@given(rows=passes, places=bearings)
def test_shares_are_what_counting_gives(rows, places):
    """Between whole degrees, where every arc's end lies."""
    season = season_of(rows)
    curve = season.mean_share()
    for place in places:
        between = place + 0.37
        told = counted_shares(rows, between)
        assert season.shares_at(between).tolist() == pytest.approx(told, abs=1e-12)
        assert curve.at(np.array([between]))[0] == pytest.approx(np.mean(told), abs=1e-11)


@given(rows=passes)
def test_shares_round_the_circle_are_those_at_each_bearing(rows):
    season = season_of(rows)
    for count in (360, 90):
        table = season.shares_round(count)
        for column in range(0, count, 7):
            told = season.shares_at(column * 360.0 / count)
            assert table[:, column].tolist() == pytest.approx(told.tolist(), abs=1e-12)


@given(rows=passes, weight=st.lists(st.floats(-3.0, 3.0), min_size=5, max_size=5), by=st.integers(-400, 400))
def test_a_curve_is_a_sum_over_evenings_and_turns_with_its_arcs(rows, weight, by):
    season = season_of(rows)
    weights = np.array(weight[: season.evenings])
    middles = np.arange(0.5, 360.0, 31.0)
    told = [float(weights @ (season.shares_at(place) * season.passes)) for place in middles]
    assert season.weighted(weights).at(middles).tolist() == pytest.approx(told, abs=1e-9)
    for turned in (season.turned(float(by)).weighted(weights), season.weighted(weights).turned(float(by))):
        assert turned.at(middles + by).tolist() == pytest.approx(told, abs=1e-9)


@given(rows=passes)
def test_the_mean_round_the_circle_is_the_arcs_width(rows):
    season = season_of(rows)
    share = season.width_deg / 360.0 / season.passes[season.evening] / season.evenings
    assert season.mean_share().mean() == pytest.approx(share.sum(), abs=1e-9)


def test_some_evenings_are_the_season_of_their_passes():
    rows = [(0, 10, 100, 0, -1), (1, 20, 50, 200, 10), (3, 0, 360, 0, -1), (3, 5, 90, 0, -1)]
    season = season_of(rows)
    assert season.passes.tolist() == [1, 1, 2]
    some = season.some(np.array([2, 0]))
    assert some.passes.tolist() == [2, 1]
    assert some.shares_at(200.0).tolist() == [0.5, 1.0]
    assert some.shares_at(50.0).tolist() == [0.0, 0.0]


def test_an_arc_that_is_everything_or_nothing():
    season = season_of([(0, 0, -1, 0, -1), (1, 0, 400, 0, -1)])
    assert season.width_deg.tolist() == [360.0]
    assert season.mean_share() == StepCurve(pytest.approx([0.0]), pytest.approx([0.5]))


@given(st.lists(st.tuples(st.floats(0.01, 359.0), st.floats(0.0, 1.0)), max_size=60), st.integers(4, 90))
def test_a_curve_for_a_picture_keeps_its_mean_and_its_means_of_even_pieces(pieces, most):
    """Held to a mean over many sampled bearings."""
    start = np.unique([0.0, *(at for at, _ in pieces)])
    curve = StepCurve(start, np.linspace(0.0, 1.0, start.size) ** 2)
    drawn = curve.for_picture(most)
    assert drawn.start_deg.size <= most
    assert drawn.mean() == pytest.approx(curve.mean())
    if start.size <= most:
        assert drawn is curve
        return
    width = 360.0 / most
    samples = curve.at((np.arange(400.0 * most) + 0.5) * width / 400.0).reshape(most, 400)
    assert drawn.value == pytest.approx(samples.mean(axis=1), abs=1.0 / 50.0)
