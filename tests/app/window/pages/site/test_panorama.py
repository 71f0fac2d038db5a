"""While a point is dragged only what it changes is painted, and the picture is as if all had been."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QImage, QMouseEvent, QRegion
from PySide6.QtWidgets import QApplication

from app.window.pages.site.panorama import Panorama
from app.window.pages.site.panorama_scene import PanoramaScene
from core.mount.dial.unrolled import bearing_places_deg
from core.mount.model.station import AzimuthAxis, Mount
from core.place.site import HorizonPoint

HEIGHTS = (3.0, 20.0, 8.0, 12.0, 5.0, 17.0)


@pytest.fixture
def panorama(qtbot):
    view = Panorama()
    qtbot.addWidget(view)
    view.resize(900, 300)
    view.show_scene(
        PanoramaScene(Mount(keyway_bearing_deg=184.0, azimuth=AzimuthAxis(travel_deg=450.0)), 5.0),
        view.scheme,
    )
    view.show_points(
        tuple(HorizonPoint(azimuth_deg=60.0 * i, elevation_deg=e) for i, e in enumerate(HEIGHTS))
    )
    return view


def pixels(image: QImage) -> np.ndarray:
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    flat = np.frombuffer(plain.constBits(), dtype=np.uint32)
    return flat.reshape(plain.height(), -1)


def mouse(view: Panorama, kind: QEvent.Type, place: QPointF) -> None:
    left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(view, QMouseEvent(kind, place, view.mapToGlobal(place), left, left, none))


@pytest.mark.parametrize("index", range(len(HEIGHTS)))
def test_a_dragged_point_is_painted_as_if_all_were(panorama, monkeypatch, index):
    point, axes = panorama.points[index], panorama.axes()
    start = axes.point(bearing_places_deg(point.azimuth_deg, axes.zeta, axes.span)[0], point.elevation_deg)
    mouse(panorama, QEvent.Type.MouseButtonPress, start)
    assert panorama.chosen == index
    asked: list[QRegion] = []
    monkeypatch.setattr(panorama, "update", asked.append)
    shown = panorama.grab().toImage()
    # A little, level, past a neighbour, and to both ends of the axis.
    for aside, up in ((2.0, 5.0), (9.0, 0.0), (200.0, 30.0), (-900.0, 10.0), (900.0, -4.0)):
        before = shown.copy()
        mouse(panorama, QEvent.Type.MouseMove, start + QPointF(aside, -up))
        region = asked.pop()
        panorama.render(shown, QPoint(region.boundingRect().topLeft()), region)
        whole = panorama.grab().toImage()
        assert not (pixels(whole) == pixels(before)).all()
        assert (pixels(whole) == pixels(shown)).all()


def test_a_small_move_leaves_most_of_the_picture_alone(panorama, monkeypatch):
    point, axes = panorama.points[5], panorama.axes()
    start = axes.point(bearing_places_deg(point.azimuth_deg, axes.zeta, axes.span)[0], point.elevation_deg)
    mouse(panorama, QEvent.Type.MouseButtonPress, start)
    asked: list[QRegion] = []
    monkeypatch.setattr(panorama, "update", asked.append)
    mouse(panorama, QEvent.Type.MouseMove, start + QPointF(1.0, -2.0))
    [region] = asked
    columns = sum(one.width() for one in region)
    assert columns < 0.6 * panorama.width()
