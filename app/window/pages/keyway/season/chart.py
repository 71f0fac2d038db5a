"""Where the stops are met least: the share of passes that are not clear over the keyway's bearing."""

from __future__ import annotations

import math

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.window.look.scheme import Scheme, font
from app.window.views.painting import painting
from core.mount.seat.season.study import HoleSeason, SeasonStudy
from core.mount.seat.season.words import curve_sentence

_LEFT, _RIGHT, _TOP, _FOOT = 56.0, 12.0, 12.0, 30.0
_NAMED = {0: "N", 90: "E 90", 180: "S 180", 270: "W 270", 360: "N"}


class SeasonChart(QWidget):
    """One line a hole, that of the hole in use strong, with a ring where it is best."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scheme = scheme
        self._study: SeasonStudy | None = None
        self._hole = ""
        self.setMinimumHeight(150)
        self.setAccessibleName("Share of passes that are not clear, against keyway bearing")

    def show_study(self, study: SeasonStudy | None, hole: str, scheme: Scheme) -> None:
        """Another answer, hole in use or scheme."""
        self._study, self._hole, self._scheme = study, hole, scheme
        holes = () if study is None else study.holes
        self.setAccessibleDescription(" ".join(curve_sentence(one) for one in holes))
        self.update()

    @property
    def top_share(self) -> float:
        """The share at the chart's upper edge: a tenth, or so many as are needed."""
        most = 0.0 if self._study is None else max(float(one.curve.value.max()) for one in self._study.holes)
        return max(math.ceil(10.0 * most - 1e-9), 1) / 10.0

    def frame(self) -> QRectF:
        """Where the curves are."""
        return QRectF(self.rect()).adjusted(_LEFT, _TOP, -_RIGHT, -_FOOT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.fillRect(self.frame(), self._scheme.color("card"))
            self._paint_axes(painter)
            if self._study is None:
                return
            in_use = [one for one in self._study.holes if one.hole.name == self._hole]
            for hole in [*(one for one in self._study.holes if one not in in_use), *in_use]:
                self._paint_curve(painter, hole, strong=hole in in_use)

    def _paint_axes(self, painter: QPainter) -> None:
        frame, scheme = self.frame(), self._scheme
        painter.setFont(font(9))
        for tenth in range(round(10.0 * self.top_share) + 1):
            y = self._y(tenth / 10.0)
            painter.setPen(QPen(scheme.color("edge"), 1.0))
            painter.drawLine(QPointF(frame.left(), y), QPointF(frame.right(), y))
            painter.setPen(scheme.color("ink"))
            place = QRectF(0.0, y - 9.0, _LEFT - 8.0, 18.0)
            painter.drawText(
                place, int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter), f"{10 * tenth} %"
            )
        for bearing, words in _NAMED.items():
            x = self._x(float(bearing))
            place = QRectF(x - 40.0, frame.bottom() + 4.0, 80.0, 20.0)
            painter.drawText(place, int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop), words)

    def _paint_curve(self, painter: QPainter, hole: HoleSeason, strong: bool) -> None:
        curve = hole.curve
        edges = np.repeat(np.append(curve.start_deg, 360.0), 2)[1:-1]
        shares = np.repeat(curve.value, 2)
        line = QPolygonF(
            [QPointF(self._x(x), self._y(y)) for x, y in zip(edges.tolist(), shares.tolist(), strict=True)]
        )
        scheme = self._scheme
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(scheme.color("ink" if strong else "faint"), 2.0 if strong else 1.0))
        painter.drawPolyline(line)
        if strong:
            at = QPointF(self._x(hole.best_deg), self._y(float(curve.at(np.array([hole.best_deg]))[0])))
            painter.setBrush(scheme.color("card"))
            painter.drawEllipse(at, 5.0, 5.0)

    def _x(self, bearing_deg: float) -> float:
        frame = self.frame()
        return frame.left() + frame.width() * bearing_deg / 360.0

    def _y(self, share: float) -> float:
        frame = self.frame()
        return frame.bottom() - frame.height() * share / self.top_share
