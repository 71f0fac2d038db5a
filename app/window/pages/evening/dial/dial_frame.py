"""The ground of the evening on the dial: stops, guards, overlap, the dial's figures and true bearings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from app.window.look.marks import hatch
from app.window.look.scheme import Scheme, font
from app.window.views.polygons import pixels
from app.window.views.time_axis import LEFT_PX, RIGHT_PX, TimeAxis, tick_words
from core.base.angles import Floats
from core.base.words import bearing_text
from core.mount.dial.face import figure_places_deg
from core.mount.dial.readings import azimuth_dial
from core.mount.dial.unrolled import repeated_deg
from core.mount.evening.drawn import DrawnPass
from core.mount.evening.line import Leg
from core.mount.model.chain import usable_overlap_deg, zeta_deg
from core.mount.model.station import Mount

_LEFT_TOP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
#: A guard is never drawn lower than this.
_GUARD_PX = 5.0
_APART_PX = 17.0


@dataclass(frozen=True)
class DialFrame:
    """Time across and mechanical azimuth up from stop to stop, in pixels."""

    axis: TimeAxis
    mount: Mount
    top: float
    bottom: float

    @property
    def box(self) -> QRectF:
        """Where strokes are."""
        return QRectF(self.axis.left, self.top, self.axis.right - self.axis.left, self.bottom - self.top)

    @property
    def px_deg(self) -> float:
        """Pixels in a degree."""
        return (self.bottom - self.top) / self.mount.azimuth.travel_deg

    def y(self, m_deg: float) -> float:
        """Where a mechanical azimuth lies."""
        return self.bottom - m_deg * self.px_deg

    def points(self, utc_s: Floats, m_deg: Floats) -> Floats:
        """(N, 2) pixels."""
        x = self.axis.left + (utc_s - self.axis.start_s) * self.axis.px_s
        return pixels(x, self.bottom - m_deg * self.px_deg)

    def points_of(self, courses: Sequence[DrawnPass | Leg]) -> tuple[Floats, list[int]]:
        """Of some passes or legs: (N, 2) pixels, one after another, and how many each has."""
        if not courses:
            return np.zeros((0, 2)), []
        utc_s = np.concatenate([course.utc_s for course in courses])
        m_deg = np.concatenate([course.m_deg for course in courses])
        return self.points(utc_s, m_deg), [course.utc_s.size for course in courses]


def dial_marks_deg(mount: Mount, step_deg: float) -> list[float]:
    """Mechanical azimuths strictly between the stops at which the running dial is a multiple of the step."""
    travel = mount.azimuth.travel_deg
    return [m for m in figure_places_deg(mount.azimuth, step_deg) if 1e-6 < m < travel - 1e-6]


def paint_ground(painter: QPainter, frame: DialFrame, scheme: Scheme, zone: str) -> None:
    """Everything behind the strokes."""
    painter.fillRect(frame.box, scheme.color("card"))
    _paint_overlap(painter, frame, scheme)
    _paint_grid(painter, frame, scheme)
    _paint_guards(painter, frame, scheme)
    _paint_times(painter, frame, scheme, zone)


def _paint_overlap(painter: QPainter, frame: DialFrame, scheme: Scheme) -> None:
    for low, high in repeated_deg(frame.mount):
        box = QRectF(frame.box.left(), frame.y(high), frame.box.width(), (high - low) * frame.px_deg)
        painter.fillRect(box, scheme.color("overlap"))


def _paint_grid(painter: QPainter, frame: DialFrame, scheme: Scheme) -> None:
    """Lines at round dial figures, named where there is room; the stops always are."""
    travel, zeta = frame.mount.azimuth.travel_deg, zeta_deg(frame.mount)
    painter.setPen(QPen(scheme.color("edge", 130), 1.0))
    for m in dial_marks_deg(frame.mount, 30.0 if frame.px_deg > 0.45 else 90.0):
        painter.drawLine(QPointF(frame.box.left(), frame.y(m)), QPointF(frame.box.right(), frame.y(m)))
    step = next((s for s in (30.0, 45.0, 90.0, 180.0, 360.0) if s * frame.px_deg > 40.0), 360.0)
    words = _paint_margin_words(painter, frame, scheme)
    named = [m for m in dial_marks_deg(frame.mount, step) if _clear_of_stops(frame, m)]
    for m in [0.0, *named, travel]:
        y = frame.y(m)
        stop = m in {0.0, travel}
        painter.setPen(QPen(scheme.color("accent" if stop else "edge"), 1.6 if stop else 1.0))
        painter.drawLine(QPointF(frame.box.left(), y), QPointF(frame.box.right(), y))
        painter.setPen(scheme.color("figure"))
        painter.setFont(font(12, True))
        reading = azimuth_dial(m, frame.mount.azimuth)
        text = f"{reading.shown_deg:g}"
        painter.drawText(QRectF(0.0, y - 10.0, LEFT_PX - 8.0, 20.0), _RIGHT, text)
        if reading.times_in_all > 1:
            _paint_round(painter, scheme, y, reading.time_round)
        place = QRectF(frame.box.right() + 8.0, y - 9.0, 60.0, 18.0)
        if stop or not place.intersects(words):
            painter.setPen(scheme.color("faint"))
            painter.setFont(font(9.5))
            painter.drawText(place, _LEFT, bearing_text(zeta + m))
    painter.setFont(font(8.5))
    painter.drawText(QRectF(0.0, frame.top - 27.0, LEFT_PX - 8.0, 15.0), _RIGHT, "dial")
    place = QRectF(frame.box.right() + 8.0, frame.top - 27.0, RIGHT_PX - 8.0, 15.0)
    painter.drawText(place, _LEFT, "deg true")


def _paint_round(painter: QPainter, scheme: Scheme, y: float, time_round: int) -> None:
    """Which of the mechanical azimuths that read this figure is meant."""
    painter.setFont(font(8))
    painter.setPen(scheme.color("faint"))
    word = ("1st", "2nd", "3rd", "4th", "5th")[min(time_round, 5) - 1]
    painter.drawText(QRectF(1.0, y - 7.0, 24.0, 14.0), _LEFT, word)


def _clear_of_stops(frame: DialFrame, m_deg: float) -> bool:
    return frame.y(m_deg) - frame.top > _APART_PX and frame.bottom - frame.y(m_deg) > _APART_PX


def _paint_margin_words(painter: QPainter, frame: DialFrame, scheme: Scheme) -> QRectF:
    """What the tint means, or which bearings no mechanical azimuth points to; returns where it stands."""
    axis, zeta = frame.mount.azimuth, zeta_deg(frame.mount)
    gap = usable_overlap_deg(axis)
    painter.setFont(font(8.5))
    painter.setPen(scheme.color("faint"))
    flags = Qt.TextFlag.TextWordWrap | _LEFT_TOP
    if axis.travel_deg > 360.0:
        words, y = "overlap: the same bearings again", frame.y(axis.travel_deg) + 12.0
    elif gap < 0.0:
        first = (zeta + axis.travel_deg - axis.guard_deg) % 360.0
        words, y = f"not reached: {first:.0f} to {(first - gap) % 360.0:.0f}", frame.top + 12.0
    else:
        return QRectF()
    box = QRectF(frame.box.right() + 8.0, y, RIGHT_PX - 10.0, 58.0)
    return painter.drawText(box, flags, words)


def guard_px(frame: DialFrame) -> float:
    """How high a guard is drawn."""
    return max(frame.mount.azimuth.guard_deg * frame.px_deg, _GUARD_PX)


def _paint_guards(painter: QPainter, frame: DialFrame, scheme: Scheme) -> None:
    """From each stop to its guard: where the boom must not go."""
    height = guard_px(frame)
    for y in (frame.top, frame.bottom - height):
        box = QRectF(frame.box.left(), y, frame.box.width(), height)
        painter.fillRect(box, scheme.color("accent_soft"))
        path = QPainterPath()
        path.addRect(box)
        hatch(painter, path, scheme.color("accent", 150), 7.0)


def _paint_times(painter: QPainter, frame: DialFrame, scheme: Scheme, zone: str) -> None:
    """UTC and local below the picture."""
    painter.setFont(font(10))
    for utc_s in frame.axis.ticks(56.0):
        x = frame.axis.x(utc_s)
        painter.setPen(QPen(scheme.color("edge"), 1.0))
        painter.drawLine(QPointF(x, frame.top), QPointF(x, frame.bottom + 4.0))
        for text, role, y in (
            (tick_words(utc_s), "ink", frame.bottom + 5.0),
            (tick_words(utc_s, zone), "faint", frame.bottom + 20.0),
        ):
            painter.setPen(scheme.color(role))
            painter.drawText(QRectF(x - 30.0, y, 60.0, 16.0), Qt.AlignmentFlag.AlignCenter, text)
    painter.setFont(font(8.5))
    for text, role, y in (
        ("UTC", "ink", frame.bottom + 5.0),
        ("local", "faint", frame.bottom + 20.0),
    ):
        painter.setPen(scheme.color(role))
        painter.drawText(QRectF(frame.box.right() + 34.0, y, 60.0, 16.0), _LEFT, text)
