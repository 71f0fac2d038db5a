"""The evening on the dial: every contact a stroke in the turn and posture chosen, joined by its moves."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPen, QWheelEvent

from app.window.look.scheme import font
from app.window.pages.evening.dial.dial_frame import DialFrame, paint_ground
from app.window.pages.evening.dial.dial_names import paint_name_tag, paint_names, paint_tag, try_tag
from app.window.pages.evening.dial.dial_tags import paint_cable_ends, paint_one_let_go, paint_one_move
from app.window.pages.evening.dial.line_paint import middle_of, paint_behind, paint_ends, paint_legs
from app.window.pages.evening.state import EveningState
from app.window.pages.evening.views.hills import wheel
from app.window.pages.evening.views.layered import LayeredView
from app.window.pages.evening.views.stroke_paint import (
    STROKE_PX,
    courses,
    halo_pen,
    paint_rest,
    paint_stroke,
    round_pen,
    tone,
)
from app.window.views.label_places import Ground, Placed
from app.window.views.time_axis import TimeAxis
from core.base.angles import Floats
from core.base.times import clock
from core.mount.dial.readings import azimuth_dial
from core.mount.evening.results import Contact
from core.mount.evening.tally import tally
from core.mount.model.chain import stop_bearings_deg

_TOP_PX, _BOTTOM_PX = 30.0, 40.0
#: The hand is on a stroke this close to it.
_NEAR_PX = 16.0


class DialChart(LayeredView):
    """Time across, mechanical azimuth up from stop to stop.

    Signals:
        clicked(int): a stroke was clicked.
    """

    name = "The evening on the dial"
    clicked = Signal(int)

    def __init__(self, state: EveningState) -> None:
        super().__init__(state)
        self._samples: Floats = np.zeros((0, 2))
        self._owner = np.zeros(0, dtype=int)
        self._sample_s: Floats = np.zeros(0)
        self._tagged: set[int] = set()
        #: Where names stand, by index of the pass; for tests.
        self.name_places: dict[int, Placed] = {}
        state.hours_changed.connect(self.invalidate)

    def sizeHint(self) -> QSize:
        return QSize(800, 420)

    def minimumSizeHint(self) -> QSize:
        return QSize(420, 170)

    @property
    def frame(self) -> DialFrame:
        """The picture's geometry at the present size."""
        axis = TimeAxis.across(self.state.shown_s, self.width())
        return DialFrame(axis, self.state.mount, _TOP_PX, max(self.height() - _BOTTOM_PX, _TOP_PX + 10.0))

    @property
    def _stroke_px(self) -> float:
        return 2.2 if self.state.crowded else STROKE_PX

    def points_of(self, index: int) -> Floats:
        """(N, 2) pixels of a pass's stroke; NaN up where it is out of reach."""
        path = self.state.paths[index]
        return self.frame.points(path.utc_s, path.m_deg)

    # --- painting -----------------------------------------------------------------------------------------

    def paint_fixed(self, painter: QPainter) -> None:
        state, frame = self.state, self.frame
        paint_ground(painter, frame, self.scheme, state.zone)
        shown = [i for i in state.contact_of if self._is_shown(i)]
        strokes = {index: self.points_of(index) for index in shown}
        self._remember(strokes)
        painter.setClipRect(frame.box.adjusted(0, -2, 0, 2))
        paths = state.paths
        behind = [path for i, path in enumerate(paths) if i not in strokes and self._is_shown(i)]
        paint_behind(painter, frame, self.scheme, behind)
        paint_legs(painter, frame, self.scheme, state.legs)
        width = self._stroke_px
        drawn = courses([paths[index] for index in strokes], list(strokes.values()), whole=False)
        for index, course in zip(strokes, drawn, strict=True):
            color = tone(self.scheme, state.check(index).verdict)
            paint_stroke(painter, course, color, self.scheme, width)
            self._paint_rests(painter, index)
        paint_ends(painter, frame, self.scheme, state.legs)
        painter.setClipping(False)
        ground = Ground(frame.box.adjusted(2, 4, -2, -4))
        ground.take_lines(*frame.points_of([paths[index] for index in strokes]))
        if not state.crowded:
            ground.take_lines(*frame.points_of(state.legs))
            self._paint_tags(painter, ground)
            paint_one_move(painter, frame, self.scheme, ground, state.legs)
        named = sorted(strokes, key=lambda i: -state.check(i).pass_.peak.elevation_deg)
        names = {index: state.check(index).pass_.satellite for index in named}
        self.name_places = paint_names(painter, frame, self.scheme, names, strokes, ground, state.crowded)
        # What the names leave room for.
        if not state.crowded:
            paint_one_let_go(painter, frame, self.scheme, ground, [paths[index] for index in strokes])
        paint_cable_ends(painter, frame, self.scheme, ground)

    def _is_shown(self, index: int) -> bool:
        path, (first, last) = self.state.paths[index], self.state.shown_s
        return bool(path.utc_s[-1] >= first and path.utc_s[0] <= last)

    def _remember(self, strokes: dict[int, Floats]) -> None:
        """Samples of all strokes, to find what the hand is on."""
        pieces = list(strokes.items())
        self._samples = np.concatenate([p for _i, p in pieces]) if pieces else np.zeros((0, 2))
        self._owner = np.concatenate([np.full(len(p), i) for i, p in pieces] or [np.zeros(0, dtype=int)])
        self._sample_s = np.concatenate([self.state.paths[i].utc_s for i, _p in pieces] or [np.zeros(0)])

    def _paint_tags(self, painter: QPainter, ground: Ground) -> None:
        """The words of moves that do not fit, of resting and of stow, where there is room for them."""
        axis, frame, scheme = self.frame.axis, self.frame, self.scheme
        self._tagged = set()
        for leg in self.state.legs:
            if leg.kind == "misfit":
                words = _misfit_words(self.state.order.contacts[leg.contact])
                if try_tag(painter, frame, scheme, ground, words, middle_of(frame, leg), "accent"):
                    self._tagged.add(leg.contact)
            elif leg.kind in {"stowed", "idle"} and leg.utc_s[-1] > leg.utc_s[0]:
                at = QPointF(axis.x(float(leg.utc_s[0])), frame.y(float(leg.m_deg[0])) + 12.0)
                try_tag(painter, frame, scheme, ground, leg.kind, at, "faint")
        for index in self.state.contact_of:
            path = self.state.paths[index]
            for first, last in path.resting_runs():
                low, y = self._rest_place(index, first)
                at = QPointF(axis.x(float(path.utc_s[last])), y + (-14.0 if low else 14.0))
                try_tag(painter, frame, scheme, ground, "rests", at, "ink")

    def _rest_place(self, index: int, first: int) -> tuple[bool, float]:
        """Whether the axis rests at the low guard, and where the bar is drawn, just inside it."""
        m_deg = float(self.state.paths[index].m_deg[first])
        low = m_deg < self.state.mount.azimuth.travel_deg / 2.0
        return low, self.frame.y(m_deg) + (-3.0 if low else 3.0)

    def _paint_rests(self, painter: QPainter, index: int) -> None:
        """A bar along the guard while the axis is held there."""
        path = self.state.paths[index]
        for first, last in path.resting_runs():
            axis = self.frame.axis
            _low, y = self._rest_place(index, first)
            left, right = axis.x(float(path.utc_s[first])), axis.x(float(path.utc_s[last]))
            paint_rest(painter, self.scheme, left, right, y)

    def paint_moving(self, painter: QPainter) -> None:
        state, frame = self.state, self.frame
        painter.setClipRect(frame.box.adjusted(0, -_TOP_PX, 0, 0))
        self._paint_now(painter)
        for index, more in ((state.pointed, 0.0), (state.chosen, 0.8)):
            if index is not None:
                self._paint_lifted(painter, index, max(self._stroke_px, 3.4) + more)
        self._paint_moment(painter)
        painter.setClipping(False)

    def _paint_lifted(self, painter: QPainter, index: int, width: float) -> None:
        """A stroke over all others in its own colour, a halo round it, with its move and its name."""
        state, path = self.state, self.state.paths[index]
        if not path.in_reach:
            return
        points, contact = self.points_of(index), state.contact_of.get(index)
        course = courses([path], [points])[0]
        if index == state.chosen:
            painter.setPen(halo_pen(self.scheme, width))
            painter.drawPolyline(course.whole)
        painter.setPen(round_pen(self.scheme.color("card"), width + 3.0))
        painter.drawPolyline(course.whole)
        if contact is not None:
            self._paint_way_there(painter, index, contact)
            paint_stroke(painter, course, tone(self.scheme, state.check(index).verdict), self.scheme, width)
        else:
            painter.setPen(round_pen(self.scheme.color("ink"), 1.6, [2.0, 3.0]))
            painter.drawPolyline(course.whole)
        if index not in self.name_places or contact is None:
            name = state.check(index).pass_.satellite
            name += "" if contact is not None else f", {state.absence(index)}"
            names = [spot.rect for spot in self.name_places.values()]
            paint_name_tag(painter, self.frame, self.scheme, name, points, names)

    def _paint_way_there(self, painter: QPainter, index: int, contact: Contact) -> None:
        """The legs that lead to a contact, and the word of the one that does not fit."""
        legs = self.state.legs_to(index)
        paint_legs(painter, self.frame, self.scheme, legs, lifted=True)
        for leg in legs:
            if leg.kind == "misfit" and leg.contact not in self._tagged:
                at = middle_of(self.frame, leg) + QPointF(9, -9)
                paint_tag(painter, self.frame, self.scheme, _misfit_words(contact), at, "accent")

    def _paint_now(self, painter: QPainter) -> None:
        frame, now = self.frame, self.state.context.now_utc_s
        if frame.axis.start_s <= now <= frame.axis.end_s:
            x = frame.axis.x(now)
            painter.setPen(QPen(self.scheme.color("accent"), 1.6))
            painter.drawLine(QPointF(x, 0.0), QPointF(x, frame.bottom))
            painter.setFont(font(9, True))
            words = QRectF(x + 5.0, frame.top - 22.0, 90.0, 16.0)
            painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, f"now {clock(now, False)}")

    def _paint_moment(self, painter: QPainter) -> None:
        """The cross hair: the moment down the picture, the dial across it."""
        moment, frame = self.state.moment_s, self.frame
        if moment is None or not frame.axis.start_s <= moment <= frame.axis.end_s:
            return
        x, reading, between = frame.axis.x(moment), self.state.reading(), self.state.between()
        painter.setPen(QPen(self.scheme.color("ink"), 1.0))
        painter.drawLine(QPointF(x, 0.0), QPointF(x, frame.bottom))
        m_deg = reading.m_deg if reading is not None else between.m_deg if between is not None else None
        if m_deg is None:
            return
        y = frame.y(m_deg)
        painter.drawLine(QPointF(frame.box.left(), y), QPointF(frame.box.right(), y))
        painter.setBrush(self.scheme.color("ink"))
        painter.setPen(QPen(self.scheme.color("card"), 1.6))
        painter.drawEllipse(QPointF(x, y), 5.0, 5.0)

    # --- the hand -----------------------------------------------------------------------------------------

    def stroke_at(self, x: float, y: float) -> tuple[int, float] | None:
        """The pass and the moment of the nearest stroke, or None where none is near."""
        if not self._samples.size:
            return None
        apart = np.hypot(self._samples[:, 0] - x, self._samples[:, 1] - y)
        nearest = int(np.argmin(apart))
        if apart[nearest] > _NEAR_PX:
            return None
        return int(self._owner[nearest]), float(self._sample_s[nearest])

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        place = event.position()
        found = self.stroke_at(place.x(), place.y())
        if found is not None:
            self.state.point(found[1], found[0])
        else:
            self.state.point(self.frame.axis.utc_s(place.x()))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        found = self.stroke_at(event.position().x(), event.position().y())
        if found is not None:
            self.clicked.emit(found[0])

    def wheelEvent(self, event: QWheelEvent) -> None:
        wheel(self, event)

    def describe(self) -> str:
        state = self.state
        azimuth = state.mount.azimuth
        low, high = stop_bearings_deg(state.mount)
        first, last = azimuth_dial(0.0, azimuth).text, azimuth_dial(azimuth.travel_deg, azimuth).text
        sums = tally(state.order)
        words = (
            f"{sums.contacts} contacts on a dial from {first} at the counter-clockwise stop "
            f"({low:.1f} deg true) to {last} at the clockwise stop ({high:.1f} deg true); "
            f"{len(sums.misfits)} moves do not fit."
        )
        reading = state.reading()
        if reading is not None and state.read_index is not None:
            name = state.check(state.read_index).pass_.satellite
            words += (
                f" At {clock(reading.utc_s)} UTC {name}: {reading.state}, "
                f"dial {reading.dial_azimuth or 'none'}, elevation dial {reading.dial_elevation or 'none'}."
            )
        return words


def _misfit_words(contact: Contact) -> str:
    """Why the move to a contact does not fit, as short as a picture needs it."""
    move = contact.move_before
    if move is None or move.seconds_there < 0.0:
        return "overlap"
    return f"{max(move.seconds_needed - move.seconds_there, 0.0):.0f} s short"
