"""One pass over its own minutes: every turn that fits, and how fast both axes have to turn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QMouseEvent, QPainter, QPainterPath, QPen

from app.window.look.marks import hatch
from app.window.look.scheme import font
from app.window.pages.evening.state import EveningState
from app.window.pages.evening.views.layered import LayeredView
from app.window.pages.evening.views.stroke_paint import courses, paint_stroke, round_pen, tone
from app.window.views.polygons import polyline
from app.window.views.time_axis import TimeAxis
from core.base.angles import Floats
from core.base.times import clock
from core.mount.dial.readings import azimuth_dial
from core.mount.evening.way_curves import WayCurve, axis_rates_deg_s, way_curves

_LEFT_PX, _RIGHT_PX, _TITLE_PX, _FOOT_PX = 46.0, 8.0, 17.0, 17.0
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True, eq=False)
class _Shown:
    """What is drawn of the chosen pass."""

    index: int
    ways: tuple[WayCurve, ...]
    rate_s: Floats
    azimuth_rate: Floats
    elevation_rate: Floats


class PassStrips(LayeredView):
    """Travel with every way that fits, azimuth rate, elevation rate: three strips on one time axis."""

    name = "Travel and rates of the chosen pass"

    def __init__(self, state: EveningState) -> None:
        super().__init__(state)
        self._shown: _Shown | None = None

    def sizeHint(self) -> QSize:
        return QSize(430, 210)

    def minimumSizeHint(self) -> QSize:
        return QSize(260, 140)

    def invalidate(self) -> None:
        self._shown = None
        super().invalidate()

    def on_moved(self) -> None:
        # Another pass is another picture.
        if self._shown is None or self._shown.index != self.state.chosen:
            self._shown = None
            self._layer.forget()
        super().on_moved()

    @property
    def ways(self) -> tuple[WayCurve, ...]:
        """The ways drawn."""
        return self._shown.ways if self._shown is not None else ()

    def _gather(self) -> _Shown | None:
        state, index = self.state, self.state.chosen
        if index is None or state.result is None:
            return None
        track = state.result.tracks[index]
        steering = state.context.evening_plan.steering
        ways = way_curves(state.check(index), track, state.mount, steering)
        return _Shown(index, ways, *axis_rates_deg_s(track))

    @property
    def axis(self) -> TimeAxis:
        """The pass's own minutes."""
        index = self.state.chosen
        path = self.state.paths[index] if index is not None else None
        hours = (float(path.utc_s[0]), float(path.utc_s[-1])) if path is not None else (0.0, 1.0)
        return TimeAxis(*hours, _LEFT_PX, max(self.width() - _RIGHT_PX, _LEFT_PX + 10.0))

    def boxes(self) -> tuple[QRectF, QRectF, QRectF]:
        """Where the three strips are: travel takes half."""
        free = max(self.height() - 3.0 * _TITLE_PX - _FOOT_PX, 30.0)
        left, width = _LEFT_PX, max(self.width() - _LEFT_PX - _RIGHT_PX, 10.0)
        tops, top = [], 0.0
        for share in (0.5, 0.25, 0.25):
            top += _TITLE_PX
            tops.append(QRectF(left, top, width, share * free))
            top += share * free
        return tops[0], tops[1], tops[2]

    # --- painting -----------------------------------------------------------------------------------------

    def paint_fixed(self, painter: QPainter) -> None:
        self._shown = self._shown or self._gather()
        if self._shown is None:
            return
        travel, azimuth, elevation = self.boxes()
        mount = self.state.mount
        self._paint_travel(painter, travel)
        self._paint_rate(painter, azimuth, "azimuth", self._shown.azimuth_rate, mount.azimuth.rate_deg_s)
        self._paint_rate(
            painter, elevation, "elevation", self._shown.elevation_rate, mount.elevation.rate_deg_s
        )
        painter.setFont(font(8.5))
        painter.setPen(self.scheme.color("faint"))
        for utc_s in self.axis.ticks(56.0):
            x = self.axis.x(utc_s)
            box = QRectF(x - 24.0, elevation.bottom() + 1.0, 48.0, _FOOT_PX - 1.0)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, clock(utc_s, False))

    def _ground(self, painter: QPainter, box: QRectF, title: str) -> None:
        scheme = self.scheme
        painter.fillRect(box, scheme.color("card"))
        painter.setPen(QPen(scheme.color("edge"), 1.0))
        for utc_s in self.axis.ticks(56.0):
            x = self.axis.x(utc_s)
            painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
        painter.drawRect(box)
        painter.setFont(font(8.5))
        painter.setPen(scheme.color("faint"))
        painter.drawText(QRectF(box.left(), box.top() - _TITLE_PX, box.width(), _TITLE_PX), _LEFT, title)

    def _paint_travel(self, painter: QPainter, box: QRectF) -> None:
        """The dial between the stops, each way that fits a curve on it, the one followed as its stroke."""
        assert self._shown is not None
        state, scheme, shown = self.state, self.scheme, self._shown
        self._ground(painter, box, _ways_title(shown.ways))
        azimuth = state.mount.azimuth
        guard = max(azimuth.guard_deg / azimuth.travel_deg * box.height(), 3.0)
        for top in (box.top(), box.bottom() - guard):
            strip = QPainterPath()
            strip.addRect(QRectF(box.left(), top, box.width(), guard))
            hatch(painter, strip, scheme.color("accent", 150), 6.0)
        painter.setFont(font(9, True))
        painter.setPen(scheme.color("figure"))
        for m, y in ((azimuth.travel_deg, box.top() + 6.0), (0.0, box.bottom() - 6.0)):
            text = f"{azimuth_dial(m, azimuth).shown_deg:g}"
            painter.drawText(QRectF(0.0, y - 8.0, box.left() - 6.0, 16.0), _RIGHT, text)
        followed = state.check(shown.index).chosen
        for curve in shown.ways:
            dashes = None if curve.way.posture == "upright" else [4.0, 3.0]
            painter.setPen(round_pen(scheme.color("faint"), 1.3, dashes))
            painter.drawPolyline(polyline(self._travel_points(box, curve.utc_s, curve.m_deg)))
        path = state.paths[shown.index]
        if path.in_reach:
            points = self._travel_points(box, path.utc_s, path.m_deg)
            color = tone(scheme, state.check(shown.index).verdict)
            paint_stroke(painter, courses([path], [points])[0], color, scheme, 3.4)
        for curve in shown.ways:
            if len(shown.ways) > 1:
                self._paint_way_name(painter, box, curve, curve.way == followed)

    def _travel_points(self, box: QRectF, utc_s: Floats, m_deg: Floats) -> Floats:
        x = self.axis.left + (utc_s - self.axis.start_s) * self.axis.px_s
        return np.column_stack([x, box.bottom() - m_deg / self.state.mount.azimuth.travel_deg * box.height()])

    def _paint_way_name(self, painter: QPainter, box: QRectF, curve: WayCurve, followed: bool) -> None:
        """The dial to start at, at the curve's start."""
        start = azimuth_dial(curve.way.m_aos_deg, self.state.mount.azimuth)
        words = f"from {start.short}" + (", over the top" if curve.way.posture == "over the top" else "")
        face = font(8, followed)
        metrics = QFontMetricsF(face)
        width, height = metrics.horizontalAdvance(words) + 6.0, metrics.height()
        y = box.bottom() - curve.way.m_aos_deg / self.state.mount.azimuth.travel_deg * box.height()
        rect = QRectF(
            box.left() + 3.0, min(max(y - height - 2.0, box.top()), box.bottom() - height), width, height
        )
        painter.setFont(face)
        painter.fillRect(rect, self.scheme.color("card", 215))
        painter.setPen(self.scheme.color("ink" if followed else "faint"))
        painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, words)

    def _paint_rate(self, painter: QPainter, box: QRectF, word: str, rate: Floats, limit: float) -> None:
        """A rate over time under its limit; what is above the limit is filled."""
        assert self._shown is not None
        scheme, peak = self.scheme, float(rate.max(initial=0.0))
        above = peak > limit
        self._ground(painter, box, f"{word} rate, peak {peak:.2g} deg/s, limit {limit:g}")
        top = 1.25 * (min(peak, 3.0 * limit) if above else max(limit, 1e-9))
        times = self._shown.rate_s
        x = self.axis.left + (times - self.axis.start_s) * self.axis.px_s

        def y(value: Floats | float) -> Floats:
            return np.asarray(box.bottom() - np.minimum(value, top) / top * box.height())

        level = float(y(limit))
        if above:
            points = np.column_stack([x, np.minimum(y(rate), level)])
            area = QPainterPath()
            area.addPolygon(polyline(np.vstack([[x[0], level], points, [x[-1], level]])))
            painter.fillPath(area, scheme.color("accent"))
        painter.setPen(round_pen(scheme.color("signal"), 1.8))
        painter.drawPolyline(polyline(np.column_stack([x, y(rate)])))
        painter.setPen(round_pen(scheme.color("accent"), 1.3, [5.0, 3.0]))
        painter.drawLine(QPointF(box.left(), level), QPointF(box.right(), level))
        painter.setFont(font(8.5))
        painter.setPen(scheme.color("accent"))
        painter.drawText(QRectF(0.0, level - 8.0, box.left() - 6.0, 16.0), _RIGHT, f"{limit:g}")

    def paint_moving(self, painter: QPainter) -> None:
        moment, index = self.state.moment_s, self.state.chosen
        if moment is None or index is None or not self.axis.start_s <= moment <= self.axis.end_s:
            return
        travel, _azimuth, elevation = self.boxes()
        x = self.axis.x(moment)
        painter.setPen(QPen(self.scheme.color("ink"), 1.0))
        painter.drawLine(QPointF(x, travel.top()), QPointF(x, elevation.bottom()))
        path = self.state.paths[index]
        if path.in_reach:
            m_deg = np.array([float(np.interp(moment, path.utc_s, path.m_deg))])
            at = self._travel_points(travel, np.array([moment]), m_deg)[0]
            painter.setPen(QPen(self.scheme.color("card"), 1.4))
            painter.setBrush(self.scheme.color("ink"))
            painter.drawEllipse(QPointF(*at.tolist()), 4.5, 4.5)

    # --- the hand -----------------------------------------------------------------------------------------

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self.state.chosen is not None:
            self.state.point(self.axis.utc_s(event.position().x()), self.state.chosen)

    def mousePressEvent(self, _event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)

    def describe(self) -> str:
        index, state = self.state.chosen, self.state
        if index is None or state.result is None:
            return "No pass is chosen."
        azimuth = state.mount.azimuth
        told = [
            f"{way.posture} from dial {azimuth_dial(way.m_aos_deg, azimuth).text} to "
            f"{azimuth_dial(way.m_los_deg, azimuth).text}{', resting' if way.rests else ''}"
            for way in state.check(index).ways
        ]
        _times, az_rate, el_rate = axis_rates_deg_s(state.result.tracks[index])
        return (
            f"Ways that fit: {'; '.join(told) or 'none'}. "
            f"Azimuth turns at up to {az_rate.max(initial=0.0):.2f} deg/s, limit {azimuth.rate_deg_s:g}; "
            f"elevation at up to {el_rate.max(initial=0.0):.2f} deg/s, "
            f"limit {state.mount.elevation.rate_deg_s:g}."
        )


def _ways_title(ways: tuple[WayCurve, ...]) -> str:
    if not ways:
        return "travel: no way fits the whole pass"
    return "travel: one way fits" if len(ways) == 1 else f"travel: {len(ways)} ways fit"
