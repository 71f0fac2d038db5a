"""The part to scale: from above, from below as it is seen there, and cut open; the shop's own drawing."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import LIGHT, Scheme, font
from app.window.pages.plate.views.paint import BESIDE_PX, paint_scale, paint_words
from app.window.views.drawing_paint import paint_items
from app.window.views.painting import painting
from core.base.words import bearing_text, listed
from core.plate.drawing.index_words import index_words
from core.plate.drawing.section import Cut, section_shapes
from core.plate.drawing.view import View, shapes
from core.plate.model import Side
from core.plate.part import PlatePart

_TITLES: dict[Side, str] = {"above": "Seen from above", "below": "Seen from below, mirrored"}
_SECTION_WORDS = "Section, above on top: a bolt on the left, an index hole on the right, turned into the cut"
#: Pixels to a millimetre of the drawing's paper: its lines and marks are as large as on paper.
_PX_MM = 3.0
_SECTION_PX, _WORDS_PX, _OVER_PX, _UNDER_PX = 74.0, 18.0, 42.0, 8.0
_SCALE_PX = 112.0
_LEAST = QSize(440, 240)


class PlatePicture(QWidget):
    """Two views side by side over the section."""

    def __init__(self) -> None:
        super().__init__()
        self._scheme: Scheme = LIGHT
        self._part: PlatePart | None = None
        self._in_use = ""
        self.setMinimumSize(_LEAST)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("The part to scale from above, from below and in section")

    def sizeHint(self) -> QSize:
        return QSize(680, 330)

    def show_part(self, part: PlatePart, hole_in_use: str, scheme: Scheme) -> None:
        """Another part, or another hole in use."""
        self._part, self._in_use, self._scheme = part, hole_in_use, scheme
        self.setAccessibleDescription(self._spoken(part))
        self.update()

    def _spoken(self, part: PlatePart) -> str:
        """What is drawn, in words."""
        told = []
        for side, title in _TITLES.items():
            words = index_words(part, View(side, 0.0, 0.0, 1.0), self._in_use)
            holes = [
                f"hole {one.name} at {bearing_text(one.angle_deg)} deg clockwise on the paper"
                for one in words
            ]
            told.append(f"{title}: {listed(holes)}.")
        return " ".join(told)

    def paintEvent(self, _event: QPaintEvent) -> None:
        part, s = self._part, self._scheme
        if part is None:
            return
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            high = self.height() - _SECTION_PX - _WORDS_PX
            half = self.width() / 2.0
            for at, side in enumerate(_TITLES):
                self._paint_view(painter, part, side, QRectF(at * half + 4.0, 0.0, half - 8.0, high - 4.0))
            painter.setFont(font(9))
            painter.setPen(s.color("faint"))
            under = QRectF(0.0, high, self.width(), _WORDS_PX)
            painter.drawText(under, Qt.AlignmentFlag.AlignCenter, _SECTION_WORDS)
            box = QRectF(6.0, high + _WORDS_PX, self.width() - 12.0, _SECTION_PX)
            self._paint_section(painter, part, box)

    def _paint_view(self, painter: QPainter, part: PlatePart, side: Side, box: QRectF) -> None:
        s = self._scheme
        painter.setFont(font(10, True))
        painter.setPen(s.color("ink"))
        title = QRectF(box.left(), box.top(), box.width(), 17.0)
        painter.drawText(title, Qt.AlignmentFlag.AlignCenter, _TITLES[side])
        room = (box.height() - _OVER_PX - _UNDER_PX) / 2.0
        radius = max(min(box.width() / 2.0 - BESIDE_PX, room), 20.0)
        middle = QPointF(box.center().x(), box.top() + _OVER_PX + radius)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(s.color("card"))
        painter.drawEllipse(middle, radius, radius)
        scale = 2.0 * radius / part.plate.outside_diameter_mm / _PX_MM
        view = View(side, middle.x() / _PX_MM, middle.y() / _PX_MM, scale)
        paint_items(painter, shapes(part, view), _PX_MM, s)
        paint_words(painter, box, _PX_MM, index_words(part, view, self._in_use), s)

    def _paint_section(self, painter: QPainter, part: PlatePart, box: QRectF) -> None:
        """To a scale of its own, as wide as there is room."""
        plate = part.plate
        wide = (box.width() - 2.0 * _SCALE_PX) / plate.outside_diameter_mm
        scale = min(wide, (box.height() - 16.0) / plate.thickness_mm)
        top = box.center().y() - plate.thickness_mm * scale / 2.0
        cut = Cut(box.center().x() / _PX_MM, top / _PX_MM, scale / _PX_MM, plate.thickness_mm)
        paint_items(painter, section_shapes(part, cut), _PX_MM, self._scheme)
        right = QRectF(box.right() - _SCALE_PX + 12.0, box.top(), _SCALE_PX - 14.0, box.height())
        paint_scale(painter, right, scale, self._scheme)
