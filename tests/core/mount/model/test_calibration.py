from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pydantic import ValidationError
from scipy.interpolate import PchipInterpolator

from core.mount.dial.readings import (
    azimuth_dial,
    azimuth_from_dial,
    dial_at_stop_for_true,
    elevation_dial,
    elevation_from_dial,
    m_of_bearing,
    reading_true,
    shifted_dial,
)
from core.mount.model.calibration import CalibrationPoint, DialCurve, dial_curve
from core.mount.model.station import AzimuthAxis, ElevationAxis, IndexHole, Mount, Tilt

Pairs = list[tuple[float, float]]


@st.composite
def crooked(draw: st.DrawFn, least: int = 2) -> tuple[Pairs, float]:
    """Strictly monotone pairs and the scale whose sense they have."""
    sense = draw(st.sampled_from([1.0, -1.0]))
    steps = draw(st.lists(st.tuples(st.floats(1.0, 90.0), st.floats(0.2, 120.0)), min_size=least, max_size=9))
    axis, dial = draw(st.floats(-20.0, 40.0)), draw(st.floats(-200.0, 200.0))
    pairs = []
    for across, up in steps:
        pairs.append((axis, dial))
        axis, dial = axis + across, dial + sense * up
    return pairs, sense * draw(st.floats(0.3, 3.0))


def table(pairs: Pairs) -> tuple[CalibrationPoint, ...]:
    return tuple(CalibrationPoint(axis_deg=axis, dial_deg=dial) for axis, dial in pairs)


def curve_of(pairs: Pairs, scale: float) -> DialCurve:
    return dial_curve(table(pairs), scale, 0.0)


@given(case=crooked(), at=st.floats(0.0, 1.0))
def test_between_the_pairs_the_curve_is_the_monotone_cubic(case: tuple[Pairs, float], at: float) -> None:
    pairs, scale = case
    axis = [pair[0] for pair in pairs]
    m = axis[0] + at * (axis[-1] - axis[0])
    expected = float(PchipInterpolator(axis, [pair[1] for pair in pairs])(m))
    assert math.isclose(curve_of(pairs, scale).dial_at(m), expected, abs_tol=1e-6)


@given(case=crooked(least=1), beyond=st.floats(0.0, 500.0))
def test_beyond_the_pairs_the_dial_goes_on_by_its_scale(case: tuple[Pairs, float], beyond: float) -> None:
    pairs, scale = case
    curve = curve_of(pairs, scale)
    for axis, dial in pairs:
        assert curve.dial_at(axis) == dial
    first, last = pairs[0], pairs[-1]
    assert math.isclose(curve.dial_at(first[0] - beyond), first[1] - scale * beyond, abs_tol=1e-9)
    assert math.isclose(curve.dial_at(last[0] + beyond), last[1] + scale * beyond, abs_tol=1e-9)


@given(case=crooked(least=1), first=st.floats(-100.0, 900.0), gap=st.floats(0.01, 50.0))
def test_the_dial_never_turns_back(case: tuple[Pairs, float], first: float, gap: float) -> None:
    curve = curve_of(*case)
    rise = curve.dial_at(first + gap) - curve.dial_at(first)
    assert rise * case[1] > 0.0


@given(case=crooked(least=1), m=st.floats(-100.0, 900.0))
def test_a_figure_gives_back_its_axis_angle(case: tuple[Pairs, float], m: float) -> None:
    curve = curve_of(*case)
    dial = curve.dial_at(m)
    back = curve.axis_at(dial)
    assert abs(curve.dial_at(back) - dial) <= 1e-9 * max(abs(dial), 1.0) * max(abs(case[1]), 1.0)
    # Where a flat end makes the dial all but stand still, a figure cannot tell angles apart finely.
    slope = abs(curve.dial_at(m + 1e-3) - curve.dial_at(m - 1e-3)) / 2e-3
    assume(slope > 0.01)
    assert math.isclose(back, m, abs_tol=1e-6)


@given(
    case=crooked(least=1),
    m=st.floats(0.0, 450.0),
    span=st.sampled_from([360.0, 400.0, 90.0]),
    division=st.sampled_from([0.5, 1.0, 5.0]),
)
def test_a_shown_figure_with_its_time_round_is_the_place_that_was_meant(
    case: tuple[Pairs, float], m: float, span: float, division: float
) -> None:
    pairs, scale = case
    axis = AzimuthAxis(
        dial_scale=scale,
        calibration=table(pairs),
        dial_wraps_at_deg=span,
        dial_wraps_to_deg=0.0,
        dial_division_deg=division,
    )
    reading = azimuth_dial(m, axis)
    places = azimuth_from_dial(reading.shown_deg, axis)
    assert len(places) == reading.times_in_all
    place = places[reading.time_round - 1]
    running = curve_of(pairs, scale)
    assert abs(running.dial_at(place) - running.dial_at(m)) <= division / 4.0 + 1e-6


@given(case=crooked(least=1), reading=st.floats(0.0, 359.99))
def test_a_wrapping_dial_gives_every_place_that_reads_a_figure(
    case: tuple[Pairs, float], reading: float
) -> None:
    pairs, scale = case
    axis = AzimuthAxis(
        dial_scale=scale, calibration=table(pairs), dial_wraps_at_deg=360.0, dial_wraps_to_deg=0.0
    )
    places = azimuth_from_dial(reading, axis)
    assert list(places) == sorted(places)
    curve = curve_of(pairs, scale)
    walked = np.array([curve.dial_at(float(m)) for m in np.linspace(0.0, 450.0, 2251)])
    apart = (walked - reading + 180.0) % 360.0 - 180.0
    crossings = np.flatnonzero(((apart[1:] >= 0.0) != (apart[:-1] >= 0.0)) & (np.abs(np.diff(apart)) < 90.0))
    inside = [place for place in places if 0.21 < place < 449.79]
    # A figure a stop shows by rounding only is that stop, and no crossing.
    assert abs(len(inside) - crossings.size) <= 2
    for place in inside:
        assert np.abs(crossings * 0.2 + 0.1 - place).min() < 0.2


def test_a_figure_outside_a_running_dial_is_nowhere() -> None:
    assert azimuth_from_dial(451.0, AzimuthAxis()) == ()
    assert azimuth_from_dial(450.0, AzimuthAxis()) == (450.0,)
    assert azimuth_from_dial(450.2, AzimuthAxis()) == ()
    assert azimuth_from_dial(0.0, AzimuthAxis(dial_at_stop_deg=0.2)) == (0.0,)


def test_a_wrapping_dial_reads_20_twice() -> None:
    axis = AzimuthAxis(dial_wraps_at_deg=360.0, dial_wraps_to_deg=0.0)
    assert azimuth_from_dial(20.0, axis) == (20.0, 380.0)
    assert azimuth_from_dial(200.0, axis) == (200.0,)


@pytest.mark.parametrize(
    ("pairs", "word"),
    [
        ([(0.0, 0.0), (0.0, 5.0)], "axis 0 deg does not come after 0 deg"),
        ([(10.0, 0.0), (0.0, 5.0)], "rising axis angle"),
        ([(0.0, 0.0), (90.0, 0.0)], "must rise"),
        ([(0.0, 350.0), (20.0, 10.0)], "running figure"),
    ],
)
def test_a_table_that_is_not_monotone_is_refused_in_words(pairs: Pairs, word: str) -> None:
    with pytest.raises(ValidationError, match=word):
        AzimuthAxis(calibration=table(pairs))
    with pytest.raises(ValidationError, match=word):
        ElevationAxis(calibration=table(pairs))


def test_a_dial_that_falls_has_a_table_that_falls() -> None:
    pairs = [(0.0, 360.0), (180.0, 175.0), (360.0, 0.0)]
    axis = AzimuthAxis(dial_scale=-1.0, travel_deg=360.0, calibration=table(pairs))
    assert azimuth_dial(180.0, axis).text == "175"
    with pytest.raises(ValidationError, match="must rise"):
        AzimuthAxis(calibration=table(pairs))


@given(case=crooked(least=1), at=st.floats(0.0, 180.0))
def test_the_elevation_dial_goes_through_its_table_and_back(case: tuple[Pairs, float], at: float) -> None:
    pairs, scale = case
    rising = pairs if scale > 0.0 else [(axis, -dial) for axis, dial in pairs]
    axis = ElevationAxis(calibration=table(rising))
    reading = elevation_dial(at, axis)
    assert math.isclose(reading.value_deg, curve_of(rising, 1.0).dial_at(at), abs_tol=1e-9)
    back = elevation_from_dial(reading.value_deg, axis)
    assert back is not None
    assert abs(elevation_dial(back, axis).value_deg - reading.value_deg) < 1e-6


def test_an_elevation_dial_outside_its_range_is_nowhere() -> None:
    assert elevation_from_dial(-3.0, ElevationAxis()) is None
    assert elevation_from_dial(88.0, ElevationAxis(dial_offset_deg=-2.0)) == 90.0


@given(case=crooked(least=1), m=st.floats(0.0, 450.0), true=st.floats(0.0, 359.0))
def test_a_dial_set_at_a_sighting_reads_true_there_and_keeps_its_shape(
    case: tuple[Pairs, float], m: float, true: float
) -> None:
    pairs, scale = case
    for calibration in ((), table(pairs)):
        before = AzimuthAxis(dial_scale=scale, calibration=calibration)
        at_stop = dial_at_stop_for_true(true, m, before)
        after = shifted_dial(before, at_stop - azimuth_dial(0.0, before).value_deg)
        assert math.isclose(azimuth_dial(m, after).value_deg, true, abs_tol=1e-6)
        assert math.isclose(azimuth_dial(0.0, after).value_deg, at_stop, abs_tol=1e-6)
        for (first, _), (last, _) in pairwise(pairs):
            was = azimuth_dial(last, before).value_deg - azimuth_dial(first, before).value_deg
            now = azimuth_dial(last, after).value_deg - azimuth_dial(first, after).value_deg
            assert math.isclose(was, now, abs_tol=1e-6)


def test_a_straight_dial_set_true_in_its_seat_reads_true_all_round() -> None:
    mount = Mount(
        keyway_bearing_deg=143.0,
        index_holes=(IndexHole(name="A", offset_deg=-30.0),),
        azimuth=AzimuthAxis(dial_wraps_at_deg=360.0, dial_wraps_to_deg=0.0),
    )
    axis = reading_true(mount, 200.0)
    assert axis.dial_at_stop_deg == pytest.approx(113.0)
    for m in (0.0, 100.0, 300.0, 450.0):
        assert azimuth_dial(m, axis).value_deg == pytest.approx((113.0 + m) % 360.0)


@given(
    bearing=st.floats(0.0, 359.0),
    lean=st.floats(0.0, 5.0),
    toward=st.floats(0.0, 359.0),
    keyway=st.floats(0.0, 359.0),
    elevation=st.floats(0.0, 60.0),
)
def test_the_places_of_a_bearing_point_there_under_tilt(
    bearing: float, lean: float, toward: float, keyway: float, elevation: float
) -> None:
    """Undone by hand: the mount's up axis turned by the lean about the level axis across it (Rodrigues)."""
    mount = Mount(keyway_bearing_deg=keyway, tilt=Tilt(angle_deg=lean, toward_deg=toward))
    az, el = math.radians(bearing), math.radians(elevation)
    target = np.array([math.sin(az) * math.cos(el), math.cos(az) * math.cos(el), math.sin(el)])
    level = np.array([-math.cos(math.radians(toward)), math.sin(math.radians(toward)), 0.0])
    turn = math.radians(lean)

    def leant(vector: np.ndarray) -> np.ndarray:
        cross = np.cross(level, vector)
        along = float(level @ vector) * level
        return np.asarray(vector * math.cos(turn) + cross * math.sin(turn) + along * (1 - math.cos(turn)))

    up = leant(np.array([0.0, 0.0, 1.0]))
    across = math.cos(math.radians(toward - bearing))
    assert up @ np.array([math.sin(az), math.cos(az), 0.0]) == pytest.approx(
        math.sin(turn) * across, abs=1e-9
    )
    places = m_of_bearing(bearing, mount, elevation)
    assert places
    for m in places:
        there = math.radians(keyway + m)
        plane = leant(np.array([math.cos(there), -math.sin(there), 0.0]))
        assert abs(float(plane @ target)) < 2e-8  # the inside tolerance, in radians
        assert float(leant(np.array([math.sin(there), math.cos(there), 0.0])) @ target) > 0.0
