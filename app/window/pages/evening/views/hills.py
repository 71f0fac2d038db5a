"""The elevation hills over the hours, with day, twilight and dark behind them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPen, QWheelEvent

from app.window.look.scheme import font
from app.window.pages.evening.state import EveningState
from app.window.pages.evening.views.layered import LayeredView
from app.window.pages.evening.views.stroke_paint import courses, halo_pen, paint_hill, round_pen, tone
from app.window.views.polygons import pixels, polyline, polylines
from app.window.views.time_axis import LEFT_PX, TimeAxis
from core.base.angles import Floats
from core.base.times import clock
from core.mount.evening.drawn import DrawnPass
from core.place.sun import Sky

_TOP_PX, _BASE_PX = 20.0, 4.0
_GROUNDS: dict[Sky, tuple[str, float]] = {
    # Which colour, and how far on the way to the next darker one.
    "day": ("day", 0.0),
    "civil twilight": ("dusk_sky", 0.0),
    "nautical twilight": ("dusk_sky", 0.34),
    "astronomical twilight": ("dusk_sky", 0.67),
    "dark": ("night", 0.0),
}
_SHORT: dict[Sky, str] = {
    "day": "day",
    "civil twilight": "civil",
    "nautical twilight": "nautical",
    "astronomical twilight": "astronomical twilight",
    "dark": "dark",
}


class HillsView(LayeredView):
    """Elevation up, 0 to 90 deg; every hill in its pass's mark, those not taken faint.

    Signals:
        clicked(int): a hill was clicked.
    """

    name = "Elevation of the passes over the evening"
    clicked = Signal(int)

    def __init__(self, state: EveningState) -> None:
        super().__init__(state)
        state.hours_changed.connect(self.invalidate)

    def sizeHint(self) -> QSize:
        return QSize(800, 110)

    @property
    def axis(self) -> TimeAxis:
        """The time axis at the present width."""
        return TimeAxis.across(self.state.shown_s, self.width())

    @property
    def base(self) -> float:
        """Where elevation is 0."""
        return self.height() - _BASE_PX

    def _y(self, elevation_deg: Floats | float) -> Floats | float:
        return self.base - np.maximum(elevation_deg, 0.0) / 90.0 * (self.base - _TOP_PX)

    def _points(self, paths: Sequence[DrawnPass]) -> Floats:
        """(N, 2) pixels of some passes, one after another."""
        axis, utc_s = self.axis, np.concatenate([path.utc_s for path in paths])
        x = axis.left + (utc_s - axis.start_s) * axis.px_s
        return pixels(x, self._y(np.concatenate([path.elevation_deg for path in paths])))

    def _is_shown(self, path: DrawnPass) -> bool:
        first, last = self.state.shown_s
        return bool(path.utc_s[-1] >= first and path.utc_s[0] <= last)

    # --- painting -----------------------------------------------------------------------------------------

    def paint_fixed(self, painter: QPainter) -> None:
        state, axis = self.state, self.axis
        self._paint_sky(painter)
        self._paint_scale(painter)
        painter.setClipRect(QRectF(axis.left, 0.0, axis.right - axis.left, self.height()))
        shown = [index for index, path in enumerate(state.paths) if self._is_shown(path)]
        self._paint_outlines(painter, [index for index in shown if index not in state.contact_of])
        self._paint_hills(
            painter, [index for index in state.contact_of if self._is_shown(state.paths[index])]
        )
        painter.setClipping(False)

    def _paint_outlines(self, painter: QPainter, indices: list[int]) -> None:
        """Passes that are not taken; in the accent where one was picked and is out of reach."""
        if not indices:
            return
        paths = [self.state.paths[index] for index in indices]
        faint, lost = (round_pen(self.scheme.color(*role), 1.0) for role in (("faint", 100), ("accent", 150)))
        lines = polylines(self._points(paths), [path.utc_s.size for path in paths])
        for index, line in zip(indices, lines, strict=True):
            missed = index in self.state.pick_of and self.state.check(index).verdict == "out of reach"
            painter.setPen(lost if missed else faint)
            painter.drawPolyline(line)

    def _paint_hills(self, painter: QPainter, indices: list[int]) -> None:
        """Passes that are taken."""
        paths, alpha = [self.state.paths[index] for index in indices], 90 if self.state.crowded else 235
        points = [self._points([path]) for path in paths]
        for index, course in zip(indices, courses(paths, points, self.base), strict=True):
            paint_hill(painter, course, tone(self.scheme, self.state.check(index).verdict), alpha)
            self._paint_rests(painter, index)

    def _paint_sky(self, painter: QPainter) -> None:
        axis = self.axis
        painter.setFont(font(8))
        metrics = painter.fontMetrics()
        for span in self.state.skies:
            left = max(axis.x(span.start_utc_s), axis.left)
            right = min(axis.x(span.end_utc_s), axis.right)
            if right <= left:
                continue
            role, share = _GROUNDS[span.sky]
            painter.fillRect(QRectF(left, 0.0, right - left, self.base), self.scheme.color(role))
            if share:
                shade = self.scheme.color("night", round(255 * share))
                painter.fillRect(QRectF(left, 0.0, right - left, self.base), shade)
            words = _SHORT[span.sky]
            if words == "astronomical twilight" and metrics.horizontalAdvance(words) + 12 > right - left:
                words = "astron."
            if metrics.horizontalAdvance(words) + 10 < right - left:
                painter.setPen(self.scheme.color("faint"))
                painter.drawText(QPointF(left + 6, 13), words)

    def _paint_scale(self, painter: QPainter) -> None:
        axis = self.axis
        painter.setFont(font(9))
        for elevation in (0, 30, 60, 90):
            y = float(self._y(float(elevation)))
            painter.setPen(QPen(self.scheme.color("faint" if elevation == 0 else "edge"), 1.0))
            painter.drawLine(QPointF(axis.left, y), QPointF(axis.right, y))
            if elevation in {0, 90} or self.base > 120:
                painter.setPen(self.scheme.color("faint"))
                text = f"{elevation}°" if elevation else "el 0°"
                box = QRectF(0.0, y - 8.0 - (5.0 if elevation == 0 else 0.0), LEFT_PX - 8.0, 16.0)
                painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, text)

    def _paint_rests(self, painter: QPainter, index: int) -> None:
        path, axis = self.state.paths[index], self.axis
        for first, last in path.resting_runs():
            left, right = axis.x(float(path.utc_s[first])), axis.x(float(path.utc_s[last]))
            painter.fillRect(QRectF(left, self.base - 1.5, right - left, 4.0), self.scheme.color("ink"))

    def paint_moving(self, painter: QPainter) -> None:
        state, axis = self.state, self.axis
        painter.setClipRect(QRectF(axis.left, 0.0, axis.right - axis.left, self.height()))
        self._paint_lifted(painter)
        now = state.context.now_utc_s
        if axis.start_s <= now <= axis.end_s:
            painter.setPen(QPen(self.scheme.color("accent"), 1.6))
            painter.drawLine(QPointF(axis.x(now), 0.0), QPointF(axis.x(now), self.height()))
        moment, reading = state.moment_s, state.reading()
        if moment is not None:
            x = axis.x(moment)
            painter.setPen(QPen(self.scheme.color("ink"), 1.0))
            painter.drawLine(QPointF(x, 0.0), QPointF(x, self.height()))
            if reading is not None:
                painter.setBrush(self.scheme.color("ink"))
                painter.drawEllipse(QPointF(x, float(self._y(reading.elevation_deg))), 3.5, 3.5)
        painter.setClipping(False)

    def _paint_lifted(self, painter: QPainter) -> None:
        """The chosen hill with a halo round it, the one pointed at outlined, both in their own colour."""
        state = self.state
        for index in (state.chosen, state.pointed):
            if index is None:
                continue
            line = polyline(self._points([state.paths[index]]))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            if index == state.chosen:
                painter.setPen(halo_pen(self.scheme, 0.0))
                painter.drawPolyline(line)
                color = tone(self.scheme, state.check(index).verdict)
            else:
                color = self.scheme.color("ink")
            painter.setPen(round_pen(color, 1.6))
            painter.drawPolyline(line)

    # --- the hand -----------------------------------------------------------------------------------------

    def hill_at(self, x: float, y: float) -> int | None:
        """The lowest hill over the place, contacts before others; None where only sky is."""
        moment, best = self.axis.utc_s(x), None
        for index, path in enumerate(self.state.paths):
            if not path.utc_s[0] <= moment <= path.utc_s[-1]:
                continue
            top = float(self._y(float(np.interp(moment, path.utc_s, path.elevation_deg))))
            if top <= y + 4.0:
                rank = (index not in self.state.contact_of, -top, index)
                best = rank if best is None or rank < best else best
        return None if best is None else best[2]

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        place = event.position()
        self.state.point(self.axis.utc_s(place.x()), self.hill_at(place.x(), place.y()))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        index = self.hill_at(event.position().x(), event.position().y())
        if index is not None:
            self.clicked.emit(index)

    def wheelEvent(self, event: QWheelEvent) -> None:
        wheel(self, event)

    def describe(self) -> str:
        state = self.state
        skies = ", ".join(
            f"{s.sky} {clock(s.start_utc_s, False)} to {clock(s.end_utc_s, False)}" for s in state.skies[:8]
        )
        best = max(state.contact_of, key=lambda i: state.check(i).pass_.peak.elevation_deg, default=None)
        top = ""
        if best is not None:
            pass_ = state.check(best).pass_
            top = f" The highest is {pass_.satellite}, {pass_.peak.elevation_deg:.0f} deg at "
            top += f"{clock(pass_.peak.utc_s, False)}."
        return (
            f"{len(state.contact_of)} passes taken of {len(state.paths)}, elevation over time, UTC: "
            f"{skies}.{top}"
        )


def wheel(view: HillsView | LayeredView, event: QWheelEvent) -> None:
    """Up and down shows less and more of the hours, aside (or with Shift) goes earlier and later."""
    steps, state = event.angleDelta(), view.state
    axis = TimeAxis.across(state.shown_s, view.width())
    if steps.x() or event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
        turned = steps.x() or steps.y()
        state.pan(-turned / 120.0 * 0.1 * (axis.end_s - axis.start_s))
    elif steps.y():
        state.zoom(0.8 ** (steps.y() / 120.0), axis.utc_s(event.position().x()))
    event.accept()
