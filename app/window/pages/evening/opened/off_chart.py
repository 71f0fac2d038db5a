"""How far boresight is off the satellite along a pass, one curve per steering, half the beamwidth across."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen

from app.window.look.scheme import Scheme, font
from app.window.pages.evening.state import EveningState
from app.window.pages.evening.views.layered import LayeredView
from app.window.pages.evening.views.stroke_paint import round_pen
from app.window.views.polygons import polyline
from app.window.views.time_axis import TimeAxis
from core.base.angles import Floats
from core.base.times import clock

if TYPE_CHECKING:
    from core.mount.steering.pass_steering import PassSteering

_LEFT_PX, _RIGHT_PX, _TOP_PX, _FOOT_PX = 30.0, 8.0, 18.0, 17.0
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_APART_PX = 13.0
_TICKS_DEG = (0.0, 1.0, 2.0, 5.0, 10.0, 20.0, 45.0, 90.0)
#: Room over half the beamwidth, and no more than so many of it are shown.
_ROOM, _MOST = 1.3, 4.0
#: Colour, width and dashes of each steering's curve, pixels.
_PENS: dict[str, tuple[str, float, list[float] | None]] = {
    "chased": ("ink", 1.5, [6.0, 4.0]),
    "led": ("ink", 1.6, None),
    "held": ("ink", 1.8, [1.8, 3.0]),
    "through the zenith": ("faint", 1.6, [9.0, 3.0, 2.0, 3.0]),
    "best path": ("signal", 2.8, None),
}


def steering_pen(scheme: Scheme, name: str) -> QPen:
    """The pen of a steering's curve, and of its mark in the table."""
    role, width, dashes = _PENS[name]
    return round_pen(scheme.color(role), width, dashes)


class OffChart(LayeredView):
    """Time across the pass; degrees off up, by their square root: one degree is seen beside twenty."""

    name = "Degrees off the satellite for each steering"

    def __init__(self, state: EveningState) -> None:
        super().__init__(state)
        self.told: PassSteering | None = None

    def sizeHint(self) -> QSize:
        return QSize(300, 170)

    def minimumSizeHint(self) -> QSize:
        return QSize(180, 120)

    def show_study(self, told: PassSteering | None) -> None:
        """Another pass, or none yet."""
        self.told = told
        self.invalidate()

    @property
    def half_beam_deg(self) -> float:
        """Half the narrowest beamwidth."""
        context = self.state.context
        return context.evening_plan.station.beam_limit_deg

    @property
    def box(self) -> QRectF:
        """Where the curves are."""
        width = max(self.width() - _LEFT_PX - _RIGHT_PX, 10.0)
        return QRectF(_LEFT_PX, _TOP_PX, width, max(self.height() - _TOP_PX - _FOOT_PX, 10.0))

    @property
    def most_deg(self) -> float:
        """What the top of the picture stands for."""
        half = self.half_beam_deg
        worst = max((row.worst_off_deg for row in self.told.study.runs), default=0.0) if self.told else 0.0
        return min(max(worst * 1.1, half * _ROOM), half * _MOST)

    def off_y(self, off_deg: Floats | float) -> Floats:
        """Pixels down."""
        share = np.sqrt(np.clip(np.asarray(off_deg) / self.most_deg, 0.0, 1.0))
        return np.asarray(self.box.bottom() - share * self.box.height())

    def points(self, utc_s: Floats, off_deg: Floats) -> Floats:
        """(N, 2) pixels of a curve."""
        return np.column_stack(
            [self.axis.left + (utc_s - self.axis.start_s) * self.axis.px_s, self.off_y(off_deg)]
        )

    @property
    def axis(self) -> TimeAxis:
        """The pass's own minutes."""
        box = self.box
        utc_s = self.told.study.runs[0].utc_s if self.told is not None else np.array([0.0, 1.0])
        return TimeAxis(float(utc_s[0]), float(utc_s[-1]), box.left(), box.right())

    def paint_fixed(self, painter: QPainter) -> None:
        if self.told is None:
            return
        self._paint_ground(painter)
        painter.setClipRect(self.box)
        for run in self.told.study.runs:
            painter.setPen(steering_pen(self.scheme, run.name))
            painter.drawPolyline(polyline(self.points(run.utc_s, run.off_deg)))
        painter.setClipping(False)

    def _paint_ground(self, painter: QPainter) -> None:
        box, scheme = self.box, self.scheme
        painter.fillRect(box, scheme.color("card"))
        painter.setFont(font(8.5))
        self._paint_hidden(painter)
        above = np.inf
        for tick in (t for t in _TICKS_DEG if t <= self.most_deg):
            y = float(self.off_y(tick))
            if above - y < _APART_PX:
                continue
            above = y
            painter.setPen(QPen(scheme.color("edge"), 1.0))
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            painter.setPen(scheme.color("faint"))
            painter.drawText(QRectF(0.0, y - 8.0, _LEFT_PX - 5.0, 16.0), _RIGHT, f"{tick:g}")
        for utc_s in self.axis.ticks(56.0):
            x = self.axis.x(utc_s)
            painter.setPen(QPen(scheme.color("edge"), 1.0))
            painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
            painter.setPen(scheme.color("faint"))
            foot = QRectF(x - 24.0, box.bottom() + 1.0, 48.0, _FOOT_PX - 1.0)
            painter.drawText(foot, Qt.AlignmentFlag.AlignCenter, clock(utc_s, False))
        half = self.half_beam_deg
        painter.setPen(round_pen(scheme.color("accent"), 1.6, [5.0, 3.0]))
        y = float(self.off_y(half))
        painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
        painter.setPen(scheme.color("faint"))
        painter.drawText(QRectF(box.left(), 0.0, box.width(), _TOP_PX - 2.0), _LEFT, "deg off")
        painter.setPen(scheme.color("accent"))
        painter.drawText(
            QRectF(box.left(), 0.0, box.width(), _TOP_PX - 2.0), _RIGHT, f"half beam {half:g} deg"
        )

    def _paint_hidden(self, painter: QPainter) -> None:
        """The minutes behind the mask, where being off costs nothing."""
        index = self.state.chosen
        if index is None:
            return
        axis, box = self.axis, self.box
        stretches = self.state.check(index).pass_.stretches
        edges = [axis.start_s, *(moment for stretch in stretches for moment in stretch), axis.end_s]
        for start, end in zip(edges[::2], edges[1::2], strict=True):
            left, right = axis.x(start), axis.x(end)
            painter.fillRect(
                QRectF(left, box.top(), max(right - left, 0.0), box.height()), self.scheme.color("edge", 140)
            )

    def paint_moving(self, painter: QPainter) -> None:
        moment = self.state.moment_s
        if self.told is None or moment is None or not self.axis.start_s <= moment <= self.axis.end_s:
            return
        x = self.axis.x(moment)
        painter.setPen(QPen(self.scheme.color("ink"), 1.0))
        painter.drawLine(QPointF(x, self.box.top()), QPointF(x, self.box.bottom()))

    def describe(self) -> str:
        if self.told is None:
            return "Nothing is shown yet."
        rows = ", ".join(f"{row.name} {row.worst_off_deg:.1f}" for row in self.told.study.runs)
        return f"Worst degrees off: {rows}. Half the beamwidth is {self.half_beam_deg:g} deg."
