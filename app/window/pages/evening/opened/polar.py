"""The sky of one pass: north up, east right, the mask's outline, the beam as a band along the track."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPainterPath, QPen

from app.window.look.scheme import font
from app.window.pages.evening.views.layered import LayeredView
from app.window.pages.evening.views.stroke_paint import courses, paint_stroke, round_pen, tone
from app.window.views.polygons import polyline
from core.base.angles import Floats
from core.base.times import clock
from core.mount.evening.drawn import DrawnPass
from core.place.site import mask_elevation_deg

_RIM_PX = 18.0
_NEAR_PX = 24.0
_MINUTES = (1, 2, 5, 10, 15, 30, 60, 120, 360, 720)
#: Ticks and their names stand no closer than this along the track, pixels; no more than so many are named.
_TICKS_PX, _NAMES_PX, _MOST_NAMES = 4.5, 21.0, 7
_NAME_OUT_PX = 15.0
#: From this length on a pass is marked by hours and minutes, not by minutes alone.
_HOURS_FROM_S = 3600.0


@dataclass(frozen=True)
class MinuteMark:
    """A tick on the track: when, where, which way is across, and whether its clock stands beside it."""

    utc_s: float
    place: tuple[float, float]
    aside: tuple[float, float]
    named: bool


def minute_marks(minutes: Floats, track_at: Callable[[Floats], Floats]) -> list[MinuteMark]:
    """Whole minutes as they fit on a track.

    Args:
        minutes: (M,) POSIX seconds of all whole minutes, rising.
        track_at: gives (N, 2) pixels of N moments.
    """
    ticks = _apart(minutes, track_at, _TICKS_PX, minutes.size)
    named = set(_apart(minutes, track_at, _NAMES_PX, _MOST_NAMES).tolist())
    if ticks.size < 2:
        return []
    places = track_at(ticks)
    along = np.gradient(places, axis=0)
    along /= np.maximum(np.hypot(along[:, 0], along[:, 1]), 1e-9)[:, None]
    return [
        MinuteMark(utc_s, (x, y), (-down, right), utc_s in named)
        for utc_s, (x, y), (right, down) in zip(ticks.tolist(), places.tolist(), along.tolist(), strict=True)
    ]


def _apart(minutes: Floats, track_at: Callable[[Floats], Floats], least_px: float, most: int) -> Floats:
    """The most whole minutes at a round step that lie so far apart; none where no step does."""
    for step in _MINUTES:
        some = minutes[np.round(minutes / 60.0) % step == 0]
        apart = np.diff(track_at(some), axis=0)
        if some.size <= most and (np.hypot(apart[:, 0], apart[:, 1]) >= least_px).all():
            return np.asarray(some)
    return np.zeros(0)


class PolarView(LayeredView):
    """The chosen pass on the sky seen from below the zenith: the middle is overhead, the rim the horizon."""

    name = "Sky of the chosen pass"

    def sizeHint(self) -> QSize:
        return QSize(210, 210)

    def minimumSizeHint(self) -> QSize:
        return QSize(130, 130)

    @property
    def radius(self) -> float:
        """Of the horizon, pixels."""
        return max(min(self.width(), self.height()) / 2.0 - _RIM_PX, 10.0)

    @property
    def centre(self) -> QPointF:
        """The zenith."""
        return QPointF(self.width() / 2.0, self.height() / 2.0)

    def points(self, azimuth_deg: Floats, elevation_deg: Floats) -> Floats:
        """(N, 2) pixels of directions; what is below the horizon lies on the rim."""
        out = np.clip((90.0 - elevation_deg) / 90.0, 0.0, 1.0) * self.radius
        bearing = np.radians(azimuth_deg)
        x, y = self.centre.x() + out * np.sin(bearing), self.centre.y() - out * np.cos(bearing)
        return np.column_stack([x, y])

    def _path(self) -> DrawnPass | None:
        index = self.state.chosen
        return self.state.paths[index] if index is not None else None

    def _track(self, path: DrawnPass) -> Floats:
        return self.points(path.azimuth_deg, path.elevation_deg)

    def on_moved(self) -> None:
        # Another pass is another picture.
        if self._drawn != self.state.chosen:
            self._layer.forget()
        super().on_moved()

    _drawn: int | None = None

    # --- painting -----------------------------------------------------------------------------------------

    def paint_fixed(self, painter: QPainter) -> None:
        self._drawn = self.state.chosen
        scheme, centre, radius = self.scheme, self.centre, self.radius
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(scheme.color("card"))
        painter.drawEllipse(centre, radius, radius)
        self._paint_mask(painter)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for elevation in (0, 30, 60):
            painter.setPen(QPen(scheme.color("faint" if elevation == 0 else "edge"), 1.0))
            ring = radius * (90 - elevation) / 90.0
            painter.drawEllipse(centre, ring, ring)
        painter.setPen(QPen(scheme.color("edge"), 1.0))
        painter.drawLine(centre - QPointF(radius, 0), centre + QPointF(radius, 0))
        painter.drawLine(centre - QPointF(0, radius), centre + QPointF(0, radius))
        self._paint_letters(painter)
        path = self._path()
        if path is not None:
            self._paint_pass(painter, path)

    def _paint_letters(self, painter: QPainter) -> None:
        painter.setFont(font(9, True))
        painter.setPen(self.scheme.color("ink"))
        out = self.radius + 9.0
        for letter, x, y in (("N", 0.0, -out), ("E", out, 0.0), ("S", 0.0, out), ("W", -out, 0.0)):
            at = self.centre + QPointF(x, y)
            box = QRectF(at.x() - 9.0, at.y() - 8.0, 18.0, 16.0)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, letter)

    def _paint_mask(self, painter: QPainter) -> None:
        """What hides the sky, filled from the rim up to its outline."""
        plan = self.state.context.plan
        bearings = np.arange(0.0, 360.5, 1.0)
        heights = np.maximum(mask_elevation_deg(plan.site.horizon, bearings), 0.0)
        if not heights.any():
            return
        ground = QPainterPath()
        ground.addEllipse(self.centre, self.radius, self.radius)
        open_sky = QPainterPath()
        open_sky.addPolygon(polyline(self.points(bearings, heights)))
        painter.fillPath(ground.subtracted(open_sky), self.scheme.color("edge"))
        painter.strokePath(open_sky, QPen(self.scheme.color("faint"), 1.2))

    def _paint_pass(self, painter: QPainter, path: DrawnPass) -> None:
        state, scheme = self.state, self.scheme
        index = state.chosen
        assert index is not None
        track = self._track(path)
        course, color = courses([path], [track])[0], tone(scheme, state.check(index).verdict)
        clip = QPainterPath()
        clip.addEllipse(self.centre, self.radius, self.radius)
        painter.save()
        painter.setClipPath(clip)
        band = 2.0 * state.context.plan.station.beam_limit_deg / 90.0 * self.radius
        painter.setOpacity(0.6)
        painter.setPen(
            QPen(
                scheme.color("signal_soft"),
                band,
                Qt.PenStyle.SolidLine,
                Qt.PenCapStyle.RoundCap,
                Qt.PenJoinStyle.RoundJoin,
            )
        )
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(course.whole)
        painter.restore()
        paint_stroke(painter, course, color, scheme, 3.0)
        self._paint_minutes(painter, path)
        painter.setPen(QPen(scheme.color("card"), 1.2))
        painter.setBrush(scheme.color("ink"))
        painter.drawEllipse(QPointF(*track[0].tolist()), 5.0, 5.0)

    def _paint_minutes(self, painter: QPainter, path: DrawnPass) -> None:
        """A tick at round minutes, none closer than the eye tells apart, some of them named by the clock."""
        marks = minute_marks(path.whole_minutes(), lambda minutes: self._track_at(path, minutes))
        hours = path.utc_s[-1] - path.utc_s[0] >= _HOURS_FROM_S
        painter.setFont(font(7.5))
        for mark in marks:
            at, aside = QPointF(*mark.place), QPointF(*mark.aside)
            painter.setPen(QPen(self.scheme.color("ink"), 1.4 if mark.named else 1.0))
            reach = 5.0 if mark.named else 3.0
            painter.drawLine(at - aside * reach, at + aside * reach)
            if mark.named:
                self._paint_minute(painter, clock(mark.utc_s, False)[0 if hours else 3 :], at, aside)

    def _paint_minute(self, painter: QPainter, words: str, at: QPointF, aside: QPointF) -> None:
        """The clock beside its tick, on the side that is inside the horizon."""
        out = _NAME_OUT_PX + (6.0 if len(words) > 2 else 0.0)
        spot = at + aside * out
        middle = spot - self.centre
        if math.hypot(middle.x(), middle.y()) > self.radius - 6.0:
            spot = at - aside * out
        box = QRectF(spot.x() - 18.0, spot.y() - 7.0, 36.0, 14.0)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def _track_at(self, path: DrawnPass, utc_s: Floats) -> Floats:
        azimuth = np.interp(utc_s, path.utc_s, path.azimuth_deg)
        return self.points(azimuth, np.interp(utc_s, path.utc_s, path.elevation_deg))

    def paint_moving(self, painter: QPainter) -> None:
        moment, path = self.state.moment_s, self._path()
        if moment is None or path is None or not path.utc_s[0] <= moment <= path.utc_s[-1]:
            return
        azimuth = float(np.interp(moment, path.utc_s, path.azimuth_deg))
        elevation = float(np.interp(moment, path.utc_s, path.elevation_deg))
        place = self.points(np.array([azimuth]), np.array([elevation]))[0]
        at = QPointF(*place.tolist())
        painter.setPen(round_pen(self.scheme.color("ink"), 1.0))
        painter.drawLine(self.centre, at)
        painter.setPen(QPen(self.scheme.color("card"), 1.6))
        painter.setBrush(self.scheme.color("ink"))
        painter.drawEllipse(at, 5.5, 5.5)

    # --- the hand -----------------------------------------------------------------------------------------

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        path = self._path()
        if path is None:
            return
        track, place = self._track(path), event.position()
        apart = np.hypot(track[:, 0] - place.x(), track[:, 1] - place.y())
        nearest = int(np.argmin(apart))
        if apart[nearest] < _NEAR_PX:
            self.state.point(float(path.utc_s[nearest]), self.state.chosen)
        else:
            self.state.point(None)

    def mousePressEvent(self, _event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)

    def describe(self) -> str:
        index = self.state.chosen
        if index is None:
            return "No pass is chosen."
        pass_ = self.state.check(index).pass_
        words = (
            f"{pass_.satellite} rises over the mask at {pass_.aos.azimuth_deg:.0f} deg true, is highest at "
            f"{pass_.peak.azimuth_deg:.0f} deg true, elevation {pass_.peak.elevation_deg:.0f} deg, "
            f"and goes at {pass_.los.azimuth_deg:.0f} deg true."
        )
        reading = self.state.reading()
        if reading is not None:
            words += (
                f" At {clock(reading.utc_s)} UTC it stands at {reading.azimuth_deg:.1f} deg true, "
                f"elevation {reading.elevation_deg:.1f} deg."
            )
        return words
