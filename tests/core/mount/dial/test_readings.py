from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.dial.readings import (
    azimuth_dial,
    azimuth_from_dial,
    dial_figure,
    elevation_dial,
    round_to_half_division,
)
from core.mount.model.station import AzimuthAxis, ElevationAxis


def compass(travel: float = 450.0, at_stop: float = 0.0, division: float = 1.0) -> AzimuthAxis:
    return AzimuthAxis(
        travel_deg=travel,
        dial_at_stop_deg=at_stop,
        dial_wraps_at_deg=360.0,
        dial_wraps_to_deg=0.0,
        dial_division_deg=division,
    )


def test_a_dial_that_runs_on_shows_the_mechanical_azimuth() -> None:
    assert azimuth_dial(385.2, AzimuthAxis()).text == "385"


def test_a_wrapping_dial_says_which_time_round() -> None:
    assert azimuth_dial(20.0, compass()).text == "20, first time round"
    assert azimuth_dial(380.0, compass()).text == "20, second time round"
    assert azimuth_dial(200.0, compass()).text == "200"


def test_a_south_stop_scale_shows_180_at_the_stop_and_wraps_at_north() -> None:
    axis = compass(travel=360.0, at_stop=180.0)
    assert azimuth_dial(0.0, axis).value_deg == 180.0
    assert azimuth_dial(179.0, axis).text == "359"
    assert azimuth_dial(181.0, axis).text == "1"


def test_what_rounds_up_to_the_wrap_reads_as_the_wrap_and_is_the_second_time_round() -> None:
    """Else "0" would send the hand to the counter-clockwise stop, a whole turn away."""
    assert azimuth_dial(359.9, compass(travel=359.95)).text == "0, second time round"
    assert azimuth_dial(0.0, compass(travel=359.95)).text == "0, first time round"


def test_a_dial_may_count_downward() -> None:
    axis = AzimuthAxis(travel_deg=360.0, dial_at_stop_deg=360.0, dial_scale=-1.0)
    assert azimuth_dial(90.0, axis).text == "270"


def test_the_division_sets_what_can_be_read() -> None:
    assert azimuth_dial(42.4, AzimuthAxis(dial_division_deg=5.0)).text == "42.5"
    assert azimuth_dial(41.2, AzimuthAxis(dial_division_deg=5.0)).text == "40"


def test_elevation_dial_adds_its_offset() -> None:
    assert elevation_dial(175.0, ElevationAxis(dial_offset_deg=-2.0)).text == "173"


@pytest.mark.parametrize(
    ("value", "text"), [(212.0, "212"), (212.5, "212.5"), (212.25, "212.25"), (-0.0, "0")]
)
def test_figures_have_no_needless_decimals(value: float, text: str) -> None:
    assert dial_figure(value) == text


@given(
    m=st.floats(0.0, 700.0),
    at_stop=st.floats(-360.0, 360.0),
    scale=st.sampled_from([1.0, -1.0, 0.5, 2.0, 1.08]),
    span=st.sampled_from([360.0, 400.0, 90.0]),
    to=st.sampled_from([0.0, -180.0, 20.0]),
)
def test_wrapped_readings_return_to_their_m(
    m: float, at_stop: float, scale: float, span: float, to: float
) -> None:
    """The figure with its time round names one m only: undone by walking the travel, figure by figure."""
    axis = AzimuthAxis(
        travel_deg=700.0,
        dial_at_stop_deg=at_stop,
        dial_scale=scale,
        dial_wraps_at_deg=to + span,
        dial_wraps_to_deg=to,
    )
    reading = azimuth_dial(m, axis)
    assert to <= reading.value_deg <= to + span
    running = [at_stop + scale * step / 64.0 for step in range(int(700.0 * 64.0) + 1)]
    shown = sorted({math.floor(value * 2.0 + 0.5) / 2.0 for value in running}, reverse=scale < 0.0)
    same = [value for value in shown if (value - reading.shown_deg) % span == 0.0]
    assert reading.times_in_all == len(same)
    assert abs(same[reading.time_round - 1] - (at_stop + scale * m)) <= 0.25 + 1e-6


@given(value=st.floats(-1000.0, 1000.0), division=st.sampled_from([0.5, 1.0, 2.0, 5.0, 10.0]))
def test_rounding_is_to_the_nearest_half_division(value: float, division: float) -> None:
    rounded = round_to_half_division(value, division)
    assert abs(rounded - value) <= division / 4.0 + 1e-9
    assert math.isclose(rounded / (division / 2.0), round(rounded / (division / 2.0)), abs_tol=1e-9)


def test_a_wrapping_dial_shows_no_figure_beyond_its_own_circle():
    axis = AzimuthAxis(travel_deg=450.0, dial_wraps_at_deg=360.0, dial_wraps_to_deg=0.0)
    assert azimuth_from_dial(400.0, axis) == azimuth_from_dial(-5.0, axis) == ()
    assert azimuth_from_dial(360.0, axis) == azimuth_from_dial(0.0, axis) == (0.0, 360.0)
