"""The part to scale: from above, from below as it is seen there, and cut through."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import LIGHT, Scheme, font
from app.window.pages.plate.views.paint import paint_section, paint_view
from core.base.words import bearing_text, listed
from core.plate.body.views import PlateView, Section

_TITLES = {"above": "Seen from above", "below": "Seen from below, mirrored"}
_SECTION_PX, _WORDS_PX = 70.0, 18.0
_LEAST = QSize(440, 230)


class PlatePicture(QWidget):
    """Two views side by side over the section."""

    def __init__(self) -> None:
        super().__init__()
        self._scheme: Scheme = LIGHT
        self._views: tuple[PlateView, ...] = ()
        self._section: Section | None = None
        self.setMinimumSize(_LEAST)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("The part to scale from above, from below and in section")

    def sizeHint(self) -> QSize:
        return QSize(680, 400)

    def show_part(self, views: tuple[PlateView, ...], section: Section, scheme: Scheme) -> None:
        """Another part."""
        self._views, self._section, self._scheme = views, section, scheme
        self.setAccessibleDescription(self.spoken())
        self.update()

    def spoken(self) -> str:
        """What is drawn, in words."""
        told = []
        for view in self._views:
            holes = [
                f"hole {one.name} at {bearing_text(one.angle_deg)} deg clockwise on the paper"
                for one in view.labels
            ]
            told.append(f"{_TITLES[view.side]}: {listed(holes)}.")
        return " ".join(told)

    def section_words(self) -> str:
        """Along which radii it is cut."""
        cut = self._section
        if cut is None:
            return ""
        left, right = bearing_text(cut.left_deg), bearing_text(cut.right_deg)
        return f"Section, above on top: at {left} deg on the left, at {right} deg on the right"

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._section is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        high = self.height() - _SECTION_PX - _WORDS_PX
        half = self.width() / len(self._views)
        for at, view in enumerate(self._views):
            box = QRectF(at * half + 4.0, 0.0, half - 8.0, high - 6.0)
            paint_view(painter, box, view, _TITLES[view.side], self._scheme)
        painter.setFont(font(9))
        painter.setPen(self._scheme.color("faint"))
        words = QRectF(0.0, high, self.width(), _WORDS_PX)
        painter.drawText(words, Qt.AlignmentFlag.AlignCenter, self.section_words())
        box = QRectF(6.0, high + _WORDS_PX, self.width() - 12.0, _SECTION_PX - 6.0)
        paint_section(painter, box, self._section, self._scheme)
