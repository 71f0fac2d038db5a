"""The dial's face: where its figures, divisions and wraps stand, by hand and by stepping along the axis."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.dial.face import dial_face
from core.mount.dial.readings import azimuth_dial
from core.mount.model.calibration import CalibrationPoint
from core.mount.model.station import AzimuthAxis


def axis(travel: float, at_stop: float = 0.0, wraps: bool = False, **more: object) -> AzimuthAxis:
    wrap = {"dial_wraps_at_deg": 360.0, "dial_wraps_to_deg": 0.0} if wraps else {}
    return AzimuthAxis(travel_deg=travel, dial_at_stop_deg=at_stop, **wrap, **more)  # type: ignore[arg-type]


def figures(face_axis: AzimuthAxis, **most: int) -> list[tuple[float, float]]:
    return [(round(m, 6), reading.shown_deg) for m, reading in dial_face(face_axis, **most).figures]


@pytest.mark.parametrize(
    ("travel", "step", "count"),
    [
        (450.0, 90.0, 6),
        (405.0, 90.0, 5),  # every 45 would be ten
        (400.0, 45.0, 9),
        (360.0, 45.0, 9),
        (120.0, 15.0, 9),
        (8.5, 1.0, 9),
        (1440.0, 180.0, 9),
    ],
)
def test_figures_are_round_and_at_most_nine(travel: float, step: float, count: int) -> None:
    assert figures(axis(travel)) == [(step * k, step * k) for k in range(count)]


def test_a_dial_that_runs_on_and_on_has_whole_turns_for_figures() -> None:
    """A scale of 3: 4320 deg of dial on 1440 of travel, twelve turns, so every second one."""
    assert figures(axis(1440.0, dial_scale=3.0)) == [(240.0 * k, 720.0 * k) for k in range(7)]
    assert figures(axis(1440.0), most_figures=2) == [(0.0, 0.0), (720.0, 720.0), (1440.0, 1440.0)]


def test_figures_stand_where_the_dial_shows_them() -> None:
    assert figures(axis(360.0, 20.0)) == [(25.0 + 45.0 * k, 45.0 + 45.0 * k) for k in range(8)]
    falling = axis(360.0, 300.0, dial_scale=-1.0)
    assert figures(falling) == [(30.0 + 45.0 * k, 270.0 - 45.0 * k) for k in range(8)]
    (first, *_), (*_, last) = dial_face(axis(360.0, wraps=True)).figures, dial_face(axis(360.0)).figures
    assert first[1].times_in_all == 2
    assert last[1].times_in_all == 1


def test_divisions_are_drawn_up_to_a_hundred_and_twenty() -> None:
    assert dial_face(axis(360.0, dial_division_deg=3.0)).divisions_m_deg == pytest.approx(
        3.0 * np.arange(121)
    )
    assert dial_face(axis(360.0, dial_division_deg=2.9)).divisions_m_deg == ()
    assert len(dial_face(axis(360.0, 1.0, dial_division_deg=90.0)).divisions_m_deg) == 4
    assert dial_face(axis(50.0, 1.0, dial_division_deg=10.0), most_divisions=4).divisions_m_deg == ()


@pytest.mark.parametrize(
    ("face_axis", "wraps"),
    [
        (axis(450.0), ()),
        (axis(450.0, wraps=True), (0.0, 360.0)),
        (axis(450.0, 180.0, wraps=True), (180.0,)),
        (axis(600.0, 180.0, wraps=True), (180.0, 540.0)),
        (axis(450.0, 90.0, wraps=True, dial_scale=-1.0), (90.0, 450.0)),
        (AzimuthAxis(travel_deg=450.0, dial_wraps_at_deg=180.0, dial_wraps_to_deg=-180.0), (180.0,)),
        (
            AzimuthAxis(travel_deg=450.0, dial_wraps_at_deg=400.0, dial_wraps_to_deg=200.0),
            (0.0, 200.0, 400.0),
        ),
    ],
)
def test_the_dial_jumps_where_its_running_figure_comes_to_the_wrap(
    face_axis: AzimuthAxis, wraps: tuple[float, ...]
) -> None:
    assert dial_face(face_axis).wraps_m_deg == pytest.approx(wraps)
    for m in wraps:
        if 0.0 < m < face_axis.travel_deg:
            before, after = (azimuth_dial(m + aside, face_axis).value_deg for aside in (-1e-3, 1e-3))
            assert face_axis.dial_wraps_at_deg is not None
            assert face_axis.dial_wraps_to_deg is not None
            span = face_axis.dial_wraps_at_deg - face_axis.dial_wraps_to_deg
            assert abs(after - before) == pytest.approx(span, abs=0.01)


@settings(max_examples=60, deadline=None)
@given(
    travel=st.integers(100, 900),
    pairs=st.lists(st.tuples(st.integers(20, 120), st.floats(0.7, 1.4)), min_size=1, max_size=5),
    start=st.integers(-100, 300),
    falling=st.booleans(),
)
def test_the_figures_of_a_crooked_dial_are_all_that_stepping_finds(travel, pairs, start, falling) -> None:
    sense = -1.0 if falling else 1.0
    table, m_deg, dial_deg = [], 0.0, float(start)
    for width, slope in pairs:
        table.append(CalibrationPoint(axis_deg=m_deg, dial_deg=dial_deg))
        m_deg, dial_deg = m_deg + width, dial_deg + sense * slope * width
    crooked = AzimuthAxis(travel_deg=travel, dial_scale=sense, calibration=tuple(table))
    face = dial_face(crooked)
    told = [(m, reading.value_deg) for m, reading in face.figures]
    assert 1 <= len(told) <= 9
    step = abs(told[1][1] - told[0][1]) if len(told) > 1 else 360.0
    m_steps = np.linspace(0.0, travel, 2001)
    whole = np.floor(np.array([azimuth_dial(m, crooked).value_deg for m in m_steps]) / step)
    assert abs(np.abs(np.diff(whole)).sum() - len(told)) <= 1  # one may stand on the stop itself
    for m, value in told:
        assert azimuth_dial(m, crooked).value_deg == pytest.approx(value)
        assert value / step == pytest.approx(round(value / step), abs=1e-6)
    assert [m for m, _ in told] == sorted(m for m, _ in told)
