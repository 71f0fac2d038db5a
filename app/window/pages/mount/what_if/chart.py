"""Each row's curve against the keyway's bearing, with a legend by name beside it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.window.look.scheme import Scheme, font
from app.window.pages.mount.what_if.lines import ChartLine, Scale, Stroke, scale_of
from app.window.views.painting import painting

_LEFT, _RIGHT, _TOP, _FOOT = 56.0, 14.0, 10.0, 28.0
_NAMED = {
    0: "N",
    45: "45",
    90: "E 90",
    135: "135",
    180: "S 180",
    225: "225",
    270: "W 270",
    315: "315",
    360: "N",
}
#: The legend: its lines' length and height, and what part of the width it may take.
_SAMPLE, _ROW, _SHARE = 44.0, 19.0, 0.34


class WhatIfChart(QWidget):
    """The plan as it is strong, each change in a pattern of its own, a ring where each is best."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scheme = scheme
        self.lines: tuple[ChartLine, ...] = ()
        self.scale: Scale = scale_of((), of_season=False)
        self._keyway_deg: float | None = None
        #: What the legend's names take, and where the curves are while they are painted.
        self._names_px, self._frame = 0.0, QRectF()
        self.setMinimumHeight(170)
        self.setAccessibleName("What is lost against keyway bearing")

    def show_lines(
        self, lines: tuple[ChartLine, ...], of_season: bool, keyway_deg: float, words: str, scheme: Scheme
    ) -> None:
        """Other lines, or another scheme.

        Args:
            lines: the rows' curves.
            of_season: they are shares of a season's passes; else seconds of an evening's.
            keyway_deg: where the keyway points.
            words: what the lines say, for who cannot see them.
            scheme: the colours.
        """
        self.lines, self._scheme = lines, scheme
        self.scale = scale_of(lines, of_season)
        self._keyway_deg = keyway_deg if lines else None
        metrics = QFontMetricsF(font(9.5))
        self._names_px = max((metrics.horizontalAdvance(line.name) for line in lines), default=0.0)
        self.setAccessibleDescription(words)
        self.update()

    def legend_width(self) -> float:
        """What the legend takes."""
        if not self.lines:
            return 0.0
        return min(self._names_px + _SAMPLE + 24.0, _SHARE * self.width())

    def frame(self) -> QRectF:
        """Where the curves are."""
        return QRectF(self.rect()).adjusted(_LEFT, _TOP, -_RIGHT - self.legend_width(), -_FOOT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._frame = self.frame()
            painter.fillRect(self._frame, self._scheme.color("card"))
            self._paint_axes(painter)
            if self._keyway_deg is not None:
                painter.setPen(QPen(self._scheme.color("accent"), 1.0))
                x = self._x(self._keyway_deg % 360.0)
                painter.drawLine(QPointF(x, self._frame.top()), QPointF(x, self._frame.bottom() + 5.0))
            for line in self.lines:
                self._paint_curve(painter, line)
            for line in self.lines:
                self._paint_ring(painter, line)
            self._paint_legend(painter)

    def _paint_axes(self, painter: QPainter) -> None:
        frame, scheme = self._frame, self._scheme
        painter.setFont(font(9))
        right = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        middle = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        for place in range(self.scale.steps + 1):
            y = self._y(self.scale.top * place / self.scale.steps)
            painter.setPen(QPen(scheme.color("edge"), 1.0))
            painter.drawLine(QPointF(frame.left(), y), QPointF(frame.right(), y))
            painter.setPen(scheme.color("ink"))
            painter.drawText(QRectF(0.0, y - 9.0, _LEFT - 8.0, 18.0), right, self.scale.words(place))
        for bearing, words in _NAMED.items():
            if bearing % 90 and frame.width() < 400.0:
                continue
            box = QRectF(self._x(float(bearing)) - 40.0, frame.bottom() + 6.0, 80.0, 20.0)
            painter.drawText(box, middle, words)

    def pen(self, stroke: Stroke) -> QPen:
        """A line's pen in the present colours."""
        made = QPen(self._scheme.color(stroke.role), stroke.width)
        made.setCapStyle(Qt.PenCapStyle.FlatCap)
        if stroke.dashes:
            made.setDashPattern(list(stroke.dashes))
        return made

    def _paint_curve(self, painter: QPainter, line: ChartLine) -> None:
        bearings, values = line.line
        corners = zip(bearings, values, strict=True)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(self.pen(line.stroke))
        painter.drawPolyline(QPolygonF([QPointF(self._x(x), self._y(y)) for x, y in corners]))

    def _paint_ring(self, painter: QPainter, line: ChartLine) -> None:
        painter.setBrush(self._scheme.color("card"))
        painter.setPen(QPen(self._scheme.color(line.stroke.role), 1.8))
        painter.drawEllipse(QPointF(self._x(line.best_deg % 360.0), self._y(line.best_value)), 4.5, 4.5)

    def _paint_legend(self, painter: QPainter) -> None:
        painter.setFont(font(9.5))
        metrics = QFontMetricsF(font(9.5))
        left, room = self._frame.right() + 16.0, self.legend_width() - _SAMPLE - 24.0
        across = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        for place, line in enumerate(self.lines):
            y = _TOP + _ROW * (place + 0.5)
            painter.setPen(self.pen(line.stroke))
            painter.drawLine(QPointF(left, y), QPointF(left + _SAMPLE, y))
            painter.setPen(self._scheme.color("ink"))
            box = QRectF(left + _SAMPLE + 8.0, y - _ROW / 2.0, room + 4.0, _ROW)
            words = metrics.elidedText(line.name, Qt.TextElideMode.ElideRight, room + 4.0)
            painter.drawText(box, across, words)

    def _x(self, bearing_deg: float) -> float:
        frame = self._frame
        return frame.left() + frame.width() * bearing_deg / 360.0

    def _y(self, value: float) -> float:
        frame = self._frame
        return frame.bottom() - frame.height() * value / self.scale.top
