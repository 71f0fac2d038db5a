"""The panorama's painting: the sky and the dial behind, the mask's silhouette and its points in front."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPainterPath, QPen, QPolygonF

from app.window.look.marks import hatch
from app.window.look.scheme import Scheme, font
from app.window.pages.site.panorama_scene import Axes, PanoramaScene, SkyLine
from app.window.views.polygons import pixels, polygon
from core.base.angles import Floats, wrap_360
from core.base.runs import runs_of
from core.mount.dial.readings import azimuth_dial, dial_figure
from core.mount.dial.unrolled import (
    bearing_places_deg,
    dial_ticks,
    repeated_deg,
    unrolled_lines,
    unrolled_mask,
)
from core.place.site import HorizonPoint
from core.place.sun import SunPath
from core.place.zones import local_time

_CARDINAL = {0.0: "N", 90.0: "E", 180.0: "S", 270.0: "W"}
_TICK_PX = 62.0
#: How finely it is looked for where the ridge changed, and room for a handle, pixels.
_COLUMN_PX, _HANDLE_PX = 8.0, 14.0
_STEPS_DEG = (10.0, 15.0, 30.0, 45.0, 90.0, 180.0)
_LEFT_TEXT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


def paint_sky(painter: QPainter, axes: Axes, scene: PanoramaScene, scheme: Scheme) -> None:
    """The fixed layer: ground, overlap, passes, Sun, guards, stops and all figures."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(axes.plot, scheme.color("card"))
    _paint_repeats(painter, axes, scene, scheme)
    _paint_grid(painter, axes, scene, scheme)
    painter.save()
    painter.setClipRect(axes.plot)
    for line in sorted(scene.lines, key=lambda line: line.picked):
        _paint_line(painter, axes, line, scheme)
    if scene.sun is not None:
        _paint_sun(painter, axes, scene.sun, scene.zone, scheme)
    painter.restore()
    _paint_figures(painter, axes, scene, scheme)


def paint_stop_seams(
    painter: QPainter, axes: Axes, scene: PanoramaScene, scheme: Scheme, exposed: QRectF
) -> None:
    """Guards and stops, over the silhouette: they hold for it too; hatched where ``exposed`` reaches them."""
    axis = scene.mount.azimuth
    plot = axes.plot
    for low, high in ((0.0, axis.guard_deg), (axis.travel_deg - axis.guard_deg, axis.travel_deg)):
        box = QRectF(axes.x(low), plot.top(), axes.x(high) - axes.x(low), plot.height())
        if not exposed.intersects(box.adjusted(-2.0, -2.0, 2.0, 2.0)):
            continue
        path = QPainterPath()
        path.addRect(box)
        painter.fillPath(path, scheme.color("accent_soft", 120))
        hatch(painter, path, scheme.color("accent", 130), 6.0)
    painter.setPen(QPen(scheme.color("accent"), 2.0))
    for m in (0.0, axis.travel_deg):
        painter.drawLine(axes.point(m, axes.low_deg), axes.point(m, axes.high_deg))
    painter.setFont(font(9, True))
    first = f"counter-clockwise stop {axes.zeta:.1f} deg true"
    last = f"clockwise stop {wrap_360(axes.zeta + axis.travel_deg):.1f} deg true"
    left = axes.x(axis.guard_deg) + 5.0
    right = axes.x(axis.travel_deg - axis.guard_deg) - 5.0
    for text, at_left in ((first, True), (last, False)):
        width = painter.fontMetrics().horizontalAdvance(text) + 10.0
        box = QRectF(left if at_left else right - width, plot.top() + 5, width, 18)
        painter.fillRect(box, scheme.color("card", 215))
        painter.setPen(scheme.color("accent"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def paint_mask(
    painter: QPainter,
    axes: Axes,
    points: tuple[HorizonPoint, ...],
    chosen: int,
    focus: bool,
    scheme: Scheme,
    exposed: QRectF,
) -> None:
    """The silhouette and its points; the chosen one is filled, ringed where the view has the focus.

    No more is painted than reaches into ``exposed``: a wide line takes long where it goes up and down.
    """
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if points:
        ridge = _places(axes, *unrolled_mask(points, axes.zeta, axes.span))
        first = int(np.searchsorted(ridge[:, 0], exposed.left() - _HANDLE_PX)) - 1
        last = int(np.searchsorted(ridge[:, 0], exposed.right() + _HANDLE_PX, side="right"))
        ridge = ridge[max(first, 0) : last + 1]
        (left, right), bottom = ridge[[0, -1], 0], axes.plot.bottom()
        painter.save()
        painter.setClipRect(axes.plot, Qt.ClipOperation.IntersectClip)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(scheme.color("edge", 225))
        painter.drawPolygon(polygon(np.vstack([(left, bottom), ridge, (right, bottom)])))
        painter.setPen(QPen(scheme.color("ink"), 2.0))
        painter.drawPolyline(polygon(ridge))
        painter.restore()
    _paint_points(painter, axes, points, chosen, focus, scheme, exposed)


def _paint_points(
    painter: QPainter,
    axes: Axes,
    points: tuple[HorizonPoint, ...],
    chosen: int,
    focus: bool,
    scheme: Scheme,
    exposed: QRectF,
) -> None:
    # Hundreds of surveyed points are a line; handles on each would hide it.
    radius = 4.5 if len(points) <= 90 else 0.0
    left, right = exposed.left() - _HANDLE_PX, exposed.right() + _HANDLE_PX
    for index, point in enumerate(points):
        mine = index == chosen
        size = 6.5 if mine else radius
        if not size:
            continue
        for m in bearing_places_deg(point.azimuth_deg, axes.zeta, axes.span):
            if not left < axes.x(m) < right:
                continue
            centre = axes.point(m, min(max(point.elevation_deg, axes.low_deg), axes.high_deg))
            painter.setPen(QPen(scheme.color("accent" if mine else "ink"), 2.0))
            painter.setBrush(scheme.color("accent" if mine else "card"))
            painter.drawEllipse(centre, size, size)
            if mine and focus:
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(centre, 11.0, 11.0)
    if 0 <= chosen < len(points):
        _paint_label(painter, axes, points[chosen], scheme)


def _paint_label(painter: QPainter, axes: Axes, point: HorizonPoint, scheme: Scheme) -> None:
    """Figures beside the chosen point, at its first place on the dial."""
    text, box = _label(axes, point)
    painter.setFont(font(10, True))
    painter.setPen(QPen(scheme.color("edge"), 1.0))
    painter.setBrush(scheme.color("card", 235))
    painter.drawRoundedRect(box, 4.0, 4.0)
    painter.setPen(scheme.color("ink"))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def _label(axes: Axes, point: HorizonPoint) -> tuple[str, QRectF]:
    """The figures and where they stand."""
    places = bearing_places_deg(point.azimuth_deg, axes.zeta, axes.span)
    text = f"{point.azimuth_deg:.1f} deg true, {point.elevation_deg:.1f} high"
    width = QFontMetrics(font(10, True)).horizontalAdvance(text) + 16.0
    centre = axes.point(places[0], min(point.elevation_deg, axes.high_deg))
    left = min(max(centre.x() - width / 2.0, axes.plot.left() + 4), axes.plot.right() - width - 4)
    top = centre.y() - 38.0 if centre.y() - 38.0 > axes.plot.top() + 24 else centre.y() + 16.0
    return text, QRectF(left, top, width, 23.0)


def touched(
    axes: Axes, before: tuple[HorizonPoint, ...], after: tuple[HorizonPoint, ...], moved: int
) -> list[tuple[float, float]]:
    """Columns, from and to in pixels, that another place of one point changes: handle, figures and ridge."""
    x = np.linspace(axes.plot.left(), axes.plot.right(), int(axes.plot.width() / _COLUMN_PX) + 2)
    m = (x - axes.plot.left()) / axes.plot.width() * axes.span
    heights = [np.interp(m, *unrolled_mask(points, axes.zeta, axes.span)) for points in (before, after)]
    around = x[1] - x[0] + _HANDLE_PX
    found = [(x[a] - around, x[b - 1] + around) for a, b in runs_of(heights[0] != heights[1])]
    for point in (before[moved], after[moved]):
        label = _label(axes, point)[1]
        found.append((label.left() - 2.0, label.right() + 2.0))
        places = bearing_places_deg(point.azimuth_deg, axes.zeta, axes.span)
        found += [(axes.x(m) - _HANDLE_PX, axes.x(m) + _HANDLE_PX) for m in places]
    return found


def paint_empty(painter: QPainter, axes: Axes, scheme: Scheme) -> None:
    """What to do first."""
    painter.setFont(font(12))
    painter.setPen(scheme.color("faint"))
    words = "No horizon yet. Double-click where a tree or a hill stands up,\n"
    words += "or drop a file of bearings and elevations."
    painter.drawText(axes.plot, Qt.AlignmentFlag.AlignCenter, words)


# --- the fixed layer --------------------------------------------------------------------------------------


def _paint_repeats(painter: QPainter, axes: Axes, scene: PanoramaScene, scheme: Scheme) -> None:
    plot = axes.plot
    for low, high in repeated_deg(scene.mount):
        box = QRectF(axes.x(low), plot.top(), axes.x(high) - axes.x(low), plot.height())
        painter.fillRect(box, scheme.color("overlap"))
    repeats = repeated_deg(scene.mount)
    if len(repeats) == 2:
        low, high = repeats[1]
        _say_in(painter, axes, (low, high), "the same bearings again", scheme.color("faint"))
    travel = scene.mount.azimuth.travel_deg
    if travel < axes.span:
        path = QPainterPath()
        path.addRect(QRectF(axes.x(travel), plot.top(), axes.x(axes.span) - axes.x(travel), plot.height()))
        hatch(painter, path, scheme.color("faint", 90), 8.0)
        _say_in(painter, axes, (travel, axes.span), "out of travel", scheme.color("accent"))


def _say_in(painter: QPainter, axes: Axes, reach: tuple[float, float], words: str, color: QColor) -> None:
    """Words in a stretch of the axis, below the stops' names, where they have room."""
    painter.setFont(font(9))
    left, right = axes.x(reach[0]), axes.x(reach[1])
    if painter.fontMetrics().horizontalAdvance(words) < right - left - 12:
        painter.setPen(color)
        box = QRectF(left, axes.plot.top() + 24, right - left, 18)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)


def _paint_grid(painter: QPainter, axes: Axes, scene: PanoramaScene, scheme: Scheme) -> None:
    plot = axes.plot
    step = 10.0 if (axes.high_deg - axes.low_deg) <= 60.0 else 30.0
    painter.setFont(font(9))
    for elevation in np.arange(np.ceil(axes.low_deg / step) * step, axes.high_deg + 0.1, step):
        y = axes.y(float(elevation))
        painter.setPen(QPen(scheme.color("edge"), 1.0))
        painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
        painter.setPen(scheme.color("faint"))
        box = QRectF(0, y - 9, plot.left() - 8, 18)
        painter.drawText(box, _LEFT_TEXT, f"{elevation:.0f}")
    y = axes.y(scene.minimum_elevation_deg)
    painter.setPen(QPen(scheme.color("faint"), 1.4, Qt.PenStyle.DashLine))
    painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))


def _paint_line(painter: QPainter, axes: Axes, line: SkyLine, scheme: Scheme) -> None:
    working = line.verdict in ("upright", "over the top")
    role = "signal" if working else "accent" if line.verdict else "faint"
    pen = QPen(scheme.color(role, 200 if line.picked else 75), 2.4 if line.picked else 1.3)
    if line.verdict == "over the top":
        pen.setDashPattern([3.0, 2.0])
    elif line.verdict in ("split", "part"):
        pen.setDashPattern([7.0, 3.0])
    elif not working:
        pen.setDashPattern([1.0, 2.5])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for m in unrolled_lines(line.azimuth_deg, axes.zeta, axes.span):
        painter.drawPolyline(_polygon(axes, m, line.elevation_deg))


def _polygon(axes: Axes, m_deg: Floats, elevation_deg: Floats) -> QPolygonF:
    return polygon(_places(axes, m_deg, elevation_deg))


def _places(axes: Axes, m_deg: Floats, elevation_deg: Floats) -> Floats:
    """(N, 2) pixels."""
    share = (elevation_deg - axes.low_deg) / (axes.high_deg - axes.low_deg)
    ys = axes.plot.bottom() - share * axes.plot.height()
    return pixels(axes.plot.left() + m_deg / axes.span * axes.plot.width(), ys)


def _paint_sun(painter: QPainter, axes: Axes, sun: SunPath, zone: str, scheme: Scheme) -> None:
    painter.setPen(QPen(scheme.color("ink", 160), 1.6, Qt.PenStyle.DotLine))
    for m in unrolled_lines(sun.azimuth_deg, axes.zeta, axes.span):
        painter.drawPolyline(_polygon(axes, m, sun.elevation_deg))
    painter.setFont(font(9))
    for utc_s, azimuth, elevation in sun.marks:
        words = f"Sun {local_time(utc_s, zone):%H:%M}"
        for place in bearing_places_deg(azimuth, axes.zeta, axes.span):
            centre = axes.point(place, elevation)
            painter.setPen(QPen(scheme.color("ink"), 1.4))
            painter.setBrush(scheme.color("day"))
            painter.drawEllipse(centre, 6.0, 6.0)
            painter.drawText(QPointF(centre.x() + 11.0, centre.y() + 4.0), words)


def _paint_figures(painter: QPainter, axes: Axes, scene: PanoramaScene, scheme: Scheme) -> None:
    """True bearings, and under them what the dial shows there."""
    plot, axis = axes.plot, scene.mount.azimuth
    bearing_y, dial_y = plot.bottom() + 8.0, plot.bottom() + 27.0
    painter.setFont(font(9))
    painter.setPen(scheme.color("faint"))
    painter.drawText(QRectF(0, bearing_y, plot.left() - 28, 18), _LEFT_TEXT, "true")
    painter.setFont(font(9, True))
    painter.setPen(scheme.color("ink"))
    painter.drawText(QRectF(0, dial_y, plot.left() - 28, 20), _LEFT_TEXT, "dial")
    for m in (0.0, axis.travel_deg):
        painter.setFont(font(12, True))
        painter.setPen(scheme.color("figure"))
        _figure(painter, axes.x(m), dial_y, dial_figure(azimuth_dial(m, axis).shown_deg))
    per_deg = plot.width() / axes.span
    step = next((step for step in _STEPS_DEG if step * per_deg >= _TICK_PX), 360.0)
    for tick in dial_ticks(scene.mount, step):
        x = axes.x(tick.m_deg)
        painter.setPen(QPen(scheme.color("faint"), 1.0))
        painter.drawLine(QPointF(x, plot.bottom()), QPointF(x, plot.bottom() + 5.0))
        if not plot.left() + 14 <= x <= plot.right() - 8:
            continue
        letter = _CARDINAL.get(tick.bearing_deg)
        painter.setFont(font(10 if letter else 9, letter is not None))
        painter.setPen(scheme.color("ink" if letter else "faint"))
        _figure(
            painter, x, bearing_y, f"{letter} {tick.bearing_deg:.0f}" if letter else f"{tick.bearing_deg:.0f}"
        )
        near_stop = min(abs(x - axes.x(0.0)), abs(x - axes.x(axis.travel_deg))) < 46.0
        if tick.dial is not None and not near_stop:
            painter.setFont(font(12, True))
            painter.setPen(scheme.color("figure"))
            _figure(painter, x, dial_y, dial_figure(tick.dial.shown_deg))


def _figure(painter: QPainter, x: float, top: float, text: str) -> None:
    painter.drawText(QRectF(x - 48.0, top, 96.0, 20.0), Qt.AlignmentFlag.AlignCenter, text)
