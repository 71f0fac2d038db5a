"""The pixel side of the Evening page's views: axes, dial marks, places for names."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QRectF, QSizeF

from app.window.pages.evening.dial.dial_frame import DialFrame, dial_marks_deg
from app.window.pages.evening.dial.dial_names import short_name
from app.window.views.label_places import Ground, Wish, place_names
from app.window.views.time_axis import TimeAxis, tick_words
from core.base.times import parse_iso
from core.mount.dial.readings import azimuth_dial
from core.mount.model.station import AzimuthAxis, Mount

BOX = QRectF(50.0, 20.0, 400.0, 300.0)
START = parse_iso("2024-11-01T16:00:00Z")


@given(
    travel_deg=st.floats(90.0, 900.0),
    at_stop_deg=st.floats(-360.0, 360.0),
    scale=st.sampled_from([1.0, -1.0, 0.98, 2.0]),
)
@settings(max_examples=60)
def test_dial_marks_are_every_round_figure_between_the_stops(travel_deg, at_stop_deg, scale):
    axis = AzimuthAxis(travel_deg=travel_deg, dial_at_stop_deg=at_stop_deg, dial_scale=scale)
    marks = dial_marks_deg(Mount(azimuth=axis), 30.0)
    assert marks == sorted(marks)
    for m in marks:
        assert 0.0 < m < travel_deg
        figure = azimuth_dial(m, axis).value_deg
        assert figure == pytest.approx(30.0 * round(figure / 30.0), abs=1e-6)
    assert len(marks) == pytest.approx(travel_deg * abs(scale) / 30.0, abs=1.01)


def test_the_frame_puts_stops_at_the_edges():
    mount = Mount(azimuth=AzimuthAxis(travel_deg=450.0))
    axis = TimeAxis(START, START + 3600.0, 50.0, 450.0)
    frame = DialFrame(axis, mount, 20.0, 320.0)
    assert (frame.y(0.0), frame.y(450.0)) == (320.0, 20.0)
    points = frame.points(np.array([START, START + 3600.0]), np.array([0.0, 450.0]))
    assert points.tolist() == [[50.0, 320.0], [450.0, 20.0]]


def test_the_axis_goes_there_and_back_and_holds_its_ends():
    axis = TimeAxis(START, START + 3600.0, 50.0, 450.0)
    assert axis.utc_s(axis.x(START + 777.0)) == pytest.approx(START + 777.0)
    assert axis.utc_s(0.0) == START
    assert axis.utc_s(9999.0) == START + 3600.0


@pytest.mark.parametrize("hours", [0.2, 1.0, 4.0, 24.0, 360.0])
def test_ticks_are_round_and_apart(hours):
    axis = TimeAxis(START, START + 3600.0 * hours, 50.0, 850.0)
    ticks = axis.ticks(60.0)
    assert all(tick % 60.0 == 0.0 for tick in ticks)
    if hours < 99.0:  # ticks of two days are the widest there are
        assert all((b - a) * axis.px_s >= 60.0 - 1e-9 for a, b in pairwise(ticks))


def test_clocks_in_words():
    assert tick_words(START) == "16:00"
    assert tick_words(START + 8 * 3600.0) == "2 Nov"
    assert tick_words(START, "Europe/Zurich") == "17:00"


def test_short_names():
    assert short_name("Alder 3 (west)") == "Alder 3"
    assert short_name("(west)") == "(west)"
    assert short_name("A very long name") == "A very lon…"


def stroke(x: float, y: float) -> np.ndarray:
    return np.array([[x, y], [x + 30.0, y - 60.0], [x + 60.0, y]])


@given(
    places=st.lists(st.tuples(st.floats(60.0, 380.0), st.floats(90.0, 300.0)), min_size=1, max_size=25),
    reach_px=st.floats(0.0, 90.0),
)
@settings(max_examples=40, deadline=None)
def test_names_cover_nothing(places, reach_px):
    ground = Ground(BOX)
    strokes = [stroke(*place) for place in places]
    for points in strokes:
        ground.take_lines(points, [len(points)])
    wishes = [Wish(index, QSizeF(48.0, 12.0), points) for index, points in enumerate(strokes)]
    placed = place_names(wishes, ground, reach_px)
    rects = [spot.rect for spot in placed.values()]
    for index, rect in enumerate(rects):
        assert BOX.contains(rect)
        assert not any(rect.intersects(other) for other in rects[index + 1 :])
        for points in strokes:
            along = np.linspace(0.0, 2.0, 241)
            x = np.interp(along, [0.0, 1.0, 2.0], points[:, 0])
            y = np.interp(along, [0.0, 1.0, 2.0], points[:, 1])
            under = (x > rect.left()) & (x < rect.right()) & (y > rect.top()) & (y < rect.bottom())
            assert not under.any()


def test_a_lone_name_stands_over_its_stroke():
    ground = Ground(BOX)
    points = stroke(200.0, 200.0)
    ground.take_lines(points, [len(points)])
    spot = place_names([Wish(7, QSizeF(48.0, 12.0), points)], ground, 0.0)[7]
    assert spot.rect.center().x() == pytest.approx(230.0)
    assert spot.rect.bottom() <= 140.0
    assert not spot.far
