"""The clearance map: boom bearing from the keyway across, elevation up, both postures; what is forbidden."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBitmap as Bitmap
from PySide6.QtGui import (
    QBrush,
    QFocusEvent,
    QFontMetricsF,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QRegion,
    QTransform,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import LIGHT, Scheme, font
from app.window.views.kept_picture import KeptPicture
from app.window.views.painting import painting
from app.window.views.polygons import pixels, polyline
from core.base.angles import Floats, wrap_180
from core.mount.check.clear_map import BoomTrack, ClearMap

_LEFT, _RIGHT, _TOP, _BOTTOM = 64.0, 24.0, 10.0, 44.0
_STEP_DEG = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class MapView(QWidget):
    """The keyway in the middle, right of it to the right; horizon at the foot, over the top above 90.

    Signals:
        place_wanted(float, float): bearing of the boom from the keyway, -180 to 180, and elevation, 0 to 180.
    """

    place_wanted = Signal(float, float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Clearance map")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self._scheme: Scheme = LIGHT
        self._map: ClearMap | None = None
        self._tracks: tuple[BoomTrack, ...] = ()
        self.place = (0.0, 0.0)
        self._kept = KeptPicture()

    def sizeHint(self) -> QSize:
        return QSize(520, 380)

    def minimumSizeHint(self) -> QSize:
        return QSize(360, 240)

    def show_map(self, found: ClearMap | None, tracks: tuple[BoomTrack, ...], scheme: Scheme) -> None:
        """Another map, other tracks, or another scheme."""
        self._map, self._tracks, self._scheme = found, tracks, scheme
        self._kept.forget()
        self.update()

    def show_place(self, boom_deg: float, e_deg: float, words: str) -> None:
        """Where the boom is asked about, and what is nearest there."""
        self.place = (boom_deg, e_deg)
        self.setAccessibleDescription(words)
        self.update()

    # --- geometry -----------------------------------------------------------------------------------------

    def frame(self) -> QRectF:
        """The map's own rectangle."""
        return QRectF(_LEFT, _TOP, self.width() - _LEFT - _RIGHT, self.height() - _TOP - _BOTTOM)

    def at(self, boom_deg: float, e_deg: float) -> QPointF:
        """Pixels of a place."""
        frame = self.frame()
        x = frame.left() + (boom_deg + 180.0) / 360.0 * frame.width()
        return QPointF(x, frame.bottom() - e_deg / 180.0 * frame.height())

    def _place_at(self, at: QPointF) -> tuple[float, float]:
        frame = self.frame()
        boom = (at.x() - frame.left()) / frame.width() * 360.0 - 180.0
        e = (frame.bottom() - at.y()) / frame.height() * 180.0
        return min(max(round(boom), -180.0), 180.0), min(max(round(e), 0.0), 180.0)

    # --- painting -----------------------------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.drawPixmap(0, 0, self._kept.get(self, self._paint_fixed, self._scheme.name))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            at, frame = self.at(*self.place), self.frame()
            painter.setPen(QPen(self._scheme.color("ink"), 1.0, Qt.PenStyle.DotLine))
            painter.drawLine(QPointF(at.x(), frame.top()), QPointF(at.x(), frame.bottom()))
            painter.drawLine(QPointF(frame.left(), at.y()), QPointF(frame.right(), at.y()))
            painter.setPen(QPen(self._scheme.color("ink"), 2.0))
            painter.setBrush(self._scheme.color("card"))
            painter.drawEllipse(at, 5.0, 5.0)
            if self.hasFocus():
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.setPen(QPen(self._scheme.color("signal"), 2.0))
                painter.drawRect(self.rect().adjusted(1, 1, -2, -2))

    def _paint_fixed(self, painter: QPainter) -> None:
        scheme, frame = self._scheme, self.frame()
        painter.fillRect(frame, scheme.color("card"))
        painter.setClipRect(frame)
        if self._map is not None:
            self._paint_struck(painter, frame)
        for track in self._tracks:
            self._paint_track(painter, track)
        painter.setClipping(False)
        self._paint_axes(painter, frame)

    def _paint_struck(self, painter: QPainter, frame: QRectF) -> None:
        """The forbidden cells, by a tone and a hatch over it."""
        assert self._map is not None
        scheme = self._scheme
        half = self._map.struck.shape[1] // 2
        cells = np.roll(self._map.struck, half, axis=1)[::-1]  # the keyway in the middle, elevation upward
        shown = np.ascontiguousarray(np.where(cells, 0, 255).astype(np.uint8))
        image = QImage(
            shown.tobytes(), shown.shape[1], shown.shape[0], shown.shape[1], QImage.Format.Format_Grayscale8
        )
        sized = image.scaled(
            round(frame.width()),
            round(frame.height()),
            Qt.AspectRatioMode.IgnoreAspectRatio,
            Qt.TransformationMode.FastTransformation,
        )
        mask = Bitmap.fromImage(sized.convertToFormat(QImage.Format.Format_Mono))
        region = QRegion(mask).translated(round(frame.left()), round(frame.top()))
        painter.save()
        painter.setClipRegion(region)
        painter.fillRect(frame, scheme.color("accent_soft"))
        brush = QBrush(scheme.color("accent", 190), Qt.BrushStyle.BDiagPattern)
        brush.setTransform(QTransform())
        painter.fillRect(frame, brush)
        painter.restore()

    def _paint_track(self, painter: QPainter, track: BoomTrack) -> None:
        """Faint where it is worked; a track that passes behind the back goes on at the other side."""
        frame = self.frame()
        boom = np.asarray(track.boom_deg) + 180.0
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(self._scheme.color("signal", 150), 1.4))
        worked = np.flatnonzero(track.worked)
        if worked.size < 2:
            return
        own = slice(int(worked[0]), int(worked[-1]) + 1)
        for turn in range(int(np.floor(boom.min() / 360.0)), int(np.floor(boom.max() / 360.0)) + 1):
            x: Floats = frame.left() + (boom[own] - 360.0 * turn) / 360.0 * frame.width()
            y: Floats = frame.bottom() - track.e_deg[own] / 180.0 * frame.height()
            painter.drawPolyline(polyline(pixels(x, y)))

    def _paint_axes(self, painter: QPainter, frame: QRectF) -> None:
        scheme = self._scheme
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setFont(font(9))
        for e_deg in range(0, 181, 30):
            y = self.at(0.0, e_deg).y()
            painter.setPen(QPen(scheme.color("ink" if e_deg == 90 else "edge"), 1.2 if e_deg == 90 else 0.8))
            painter.drawLine(QPointF(frame.left(), y), QPointF(frame.right(), y))
            painter.setPen(scheme.color("faint"))
            box = QRectF(frame.left() - 34.0, y - 8.0, 28.0, 16.0)
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, f"{e_deg}")
        for boom in range(-180, 181, 30):
            x = self.at(boom, 0.0).x()
            painter.setPen(QPen(scheme.color("accent" if boom == 0 else "edge"), 1.2 if boom == 0 else 0.8))
            painter.drawLine(QPointF(x, frame.top()), QPointF(x, frame.bottom()))
            painter.setPen(scheme.color("faint"))
            words = "0" if boom == 0 else f"{boom:+d}"
            if boom % 60 == 0 or frame.width() > 560:
                painter.drawText(QRectF(x - 24.0, frame.bottom() + 3.0, 48.0, 15.0), _CENTRE, words)
        painter.setPen(QPen(scheme.color("ink"), 1.2))
        painter.drawRect(frame)
        painter.setPen(scheme.color("faint"))
        foot = QRectF(frame.left(), frame.bottom() + 20.0, frame.width(), 18.0)
        painter.drawText(foot, _CENTRE, "boom from the keyway, deg: left negative, right positive")
        for words, middle in (("upright", 45.0), ("over the top", 135.0)):
            self._paint_posture(painter, words, self.at(-180.0, middle))

    def _paint_posture(self, painter: QPainter, words: str, at: QPointF) -> None:
        painter.save()
        painter.setFont(font(9.5, True))
        painter.setPen(self._scheme.color("ink"))
        width = QFontMetricsF(painter.font()).horizontalAdvance(words) + 6.0
        painter.translate(12.0, at.y())
        painter.rotate(-90.0)
        painter.drawText(QRectF(-width / 2.0, -9.0, width, 18.0), _CENTRE, words)
        painter.restore()

    # --- hand ---------------------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.place_wanted.emit(*self._place_at(event.position()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if event.buttons() & Qt.MouseButton.LeftButton:
            self.place_wanted.emit(*self._place_at(event.position()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = _STEP_DEG.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
            return
        by = 10.0 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1.0
        boom = float(wrap_180(self.place[0] + by * step[0]))
        self.place_wanted.emit(boom, min(max(self.place[1] + by * step[1], 0.0), 180.0))

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusOutEvent(event)


_CENTRE = Qt.AlignmentFlag.AlignCenter
