"""The tripod from above with what is measured round it: north up, east right, angles clockwise."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import LIGHT, Scheme, font
from app.window.pages.setup.views.above_scene import ROLES, Foot, Hand
from app.window.views.painting import painting
from core.base.words import bearing_text

#: Room outside the ring for the words.
_OUTSIDE_PX = 62.0
_WORDS_PT, _FIGURES_PT = 11.0, 9.5
_PLATE = 0.30


class AboveView(QWidget):
    """Shows hands and feet; whoever shows it works out where they are."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._scheme = LIGHT
        self._keyway_deg: float | None = None
        self._feet: tuple[Foot, ...] = ()
        self._hands: tuple[Hand, ...] = ()

    def sizeHint(self) -> QSize:
        return QSize(360, 250)  # it takes what is left

    def minimumSizeHint(self) -> QSize:
        return QSize(220, 220)

    def show_hands(
        self,
        hands: Sequence[Hand],
        scheme: Scheme,
        keyway_deg: float | None = None,
        feet: Sequence[Foot] = (),
    ) -> None:
        """Another picture.

        Args:
            hands: what is told; the first is drawn last, over the others.
            scheme: the colours.
            keyway_deg: where the plate's keyway is drawn; None for no keyway.
            feet: of the legs.
        """
        new = (tuple(hands), scheme, keyway_deg, tuple(feet))
        if new == (self._hands, self._scheme, self._keyway_deg, self._feet):
            return
        self._hands, self._scheme, self._keyway_deg, self._feet = new
        seen = [f"{hand.words} at {bearing_text(hand.bearing_deg)} deg true" for hand in self._hands]
        seen += [
            f"{foot.words} at {bearing_text(foot.bearing_deg)} deg true" for foot in self._feet if foot.words
        ]
        self.setAccessibleDescription("North up. " + "; ".join(seen))
        self.update()

    # --- where things lie ---------------------------------------------------------------------------------

    @property
    def _centre(self) -> QPointF:
        return QPointF(self.width() / 2.0, self.height() / 2.0)

    @property
    def _radius(self) -> float:
        return max(
            min(self.width() / 2.0 - 1.65 * _OUTSIDE_PX, self.height() / 2.0 - 0.8 * _OUTSIDE_PX), 60.0
        )

    def _at(self, bearing_deg: float, share: float) -> QPointF:
        angle, radius = math.radians(bearing_deg), share * self._radius
        return self._centre + QPointF(radius * math.sin(angle), -radius * math.cos(angle))

    # --- painting -----------------------------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._paint_ring(painter)
            self._paint_tripod(painter)
            for hand in reversed(self._hands):
                self._paint_hand(painter, hand)
            self._paint_words(painter)

    def _paint_ring(self, painter: QPainter) -> None:
        scheme, radius = self._scheme, self._radius
        painter.setPen(QPen(scheme.color("faint"), 1.4))
        painter.setBrush(scheme.color("card"))
        painter.drawEllipse(self._centre, radius, radius)
        for tick in range(0, 360, 10):
            long = tick % 30 == 0
            painter.setPen(QPen(scheme.color("ink" if long else "faint"), 1.6 if long else 1.0))
            painter.drawLine(self._at(tick, 1.0), self._at(tick, 0.95 if long else 0.97))
        for place in range(0, 360, 30):
            name = {0: "N", 90: "E", 180: "S", 270: "W"}.get(place)
            painter.setFont(font(14, True) if name else font(_FIGURES_PT))
            painter.setPen(scheme.color("ink" if name else "faint"))
            middle = self._at(place, 0.88)
            painter.drawText(_box(middle, 40.0, 24.0), Qt.AlignmentFlag.AlignCenter, name or str(place))

    def _paint_tripod(self, painter: QPainter) -> None:
        scheme = self._scheme
        painter.setPen(QPen(scheme.color("faint"), 9.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        for foot in self._feet:
            painter.drawLine(self._at(foot.bearing_deg, _PLATE), self._at(foot.bearing_deg, 0.56))
        painter.setPen(QPen(scheme.color("ink"), 1.8))
        painter.setBrush(scheme.color("overlap"))
        painter.drawEllipse(self._centre, _PLATE * self._radius, _PLATE * self._radius)
        if self._keyway_deg is not None:
            self._paint_keyway(painter, self._keyway_deg)
        painter.setFont(font(_WORDS_PT, True))
        painter.setPen(scheme.color("ink"))
        for foot in self._feet:
            painter.drawText(
                _box(self._at(foot.bearing_deg, 0.67), 76.0, 22.0), Qt.AlignmentFlag.AlignCenter, foot.words
            )

    def _paint_keyway(self, painter: QPainter, bearing_deg: float) -> None:
        painter.save()
        painter.translate(self._centre)
        painter.rotate(bearing_deg)
        outer, width = _PLATE * self._radius, 0.09 * self._radius
        painter.fillRect(QRectF(-width / 2.0, -outer, width, 0.5 * outer), self._scheme.color("ink"))
        painter.restore()

    def _paint_hand(self, painter: QPainter, hand: Hand) -> None:
        color = self._scheme.color(ROLES[hand.look])
        inner, outer = self._at(hand.bearing_deg, _PLATE), self._at(hand.bearing_deg, 1.0)
        short = self._at(hand.bearing_deg, 0.80)  # clear of the ring's figures
        pen = QPen(color, 3.0)
        if hand.look in {"planned", "shadow"}:
            pen = QPen(color, 2.5, Qt.PenStyle.DashLine)
        if hand.look == "stop":
            inner = self._at(hand.bearing_deg, 0.93)
            pen.setWidthF(6.0)
        painter.setPen(pen)
        painter.drawLine(inner, outer if hand.look == "stop" else short)
        painter.setPen(QPen(color, 2.0))
        if hand.look == "sun":
            painter.setBrush(self._scheme.color("paper"))
            painter.drawEllipse(outer, 9.0, 9.0)
        elif hand.look in {"keyway", "low", "target"}:
            painter.setBrush(color)
            painter.drawPolygon(self._arrow(hand.bearing_deg))

    def _arrow(self, bearing_deg: float) -> QPolygonF:
        reach = 12.0 / self._radius
        wide = math.degrees(reach * 0.75)
        return QPolygonF(
            [
                self._at(bearing_deg, 1.0),
                self._at(bearing_deg - wide, 1.0 + 1.3 * reach),
                self._at(bearing_deg + wide, 1.0 + 1.3 * reach),
            ]
        )

    def _paint_words(self, painter: QPainter) -> None:
        """Outside the ring, each clear of those before it."""
        taken: list[QRectF] = []
        for hand in self._hands:
            bold = hand.look in {"keyway", "low", "sun"}
            made = font(_WORDS_PT, bold)
            metrics = QFontMetricsF(made)
            room = self._room(hand.bearing_deg)
            words = metrics.elidedText(hand.words, Qt.TextElideMode.ElideMiddle, room)
            box = self._free(
                hand.bearing_deg, metrics.horizontalAdvance(words) + 6.0, metrics.height(), taken
            )
            taken.append(box)
            painter.setFont(made)
            painter.fillPath(_rounded(box), _thin(self._scheme.color("paper")))
            role = "ink" if hand.look == "target" else ROLES[hand.look]  # strokes may be dimmer than words
            painter.setPen(self._scheme.color(role))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def _room(self, bearing_deg: float) -> float:
        """How long words outside the ring at a bearing may be."""
        touch, east = self._at(bearing_deg, 1.08), math.sin(math.radians(bearing_deg))
        if abs(east) < 0.5:
            return 0.6 * self.width()
        return max(self.width() - touch.x() if east > 0.0 else touch.x(), 84.0) - 6.0

    def _free(self, bearing_deg: float, width: float, height: float, taken: Sequence[QRectF]) -> QRectF:
        """A box outside the ring near a bearing, moved along the ring or outward until it is clear."""
        tries = [
            (turn, out)
            for out in (0.0, height + 2.0)
            for turn in (0, 6, -6, 12, -12, 18, -18, 26, -26, 36, -36)
        ]
        boxes = [self._outside(bearing_deg + turn, out, width, height) for turn, out in tries]
        return next((box for box in boxes if not any(box.intersects(one) for one in taken)), boxes[0])

    def _outside(self, bearing_deg: float, out: float, width: float, height: float) -> QRectF:
        touch = self._at(bearing_deg, 1.0 + (20.0 + out) / self._radius)
        east = math.sin(math.radians(bearing_deg))
        south = -math.cos(math.radians(bearing_deg))
        left = touch.x() - width / 2.0 * (1.0 - max(-1.0, min(1.0, 1.3 * east)))
        top = touch.y() - height / 2.0 * (1.0 - south)
        left = min(max(left, 0.0), max(self.width() - width, 0.0))
        return QRectF(left, min(max(top, 0.0), max(self.height() - height, 0.0)), width, height)


def _box(middle: QPointF, width: float, height: float) -> QRectF:
    return QRectF(middle.x() - width / 2.0, middle.y() - height / 2.0, width, height)


def _rounded(box: QRectF) -> QPainterPath:
    path = QPainterPath()
    path.addRoundedRect(box, 3.0, 3.0)
    return path


def _thin(color: QColor) -> QColor:
    color.setAlpha(200)
    return color
