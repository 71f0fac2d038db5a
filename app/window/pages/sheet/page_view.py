"""One page of the sheet as it will lie on the clipboard, in a frame that scrolls."""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPaintEvent, QPixmap, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from app.window.look.scheme import DUSK_BRIGHTEST, LIGHT, Scheme
from app.window.views.painting import painting

Zoom = Literal["page", "width", "full"]
_MARGIN = 14
#: How bright the white paper may be in each scheme (of 255): a lit white page spoils eyes used to the dark.
_BRIGHTEST = {"light": 255, "dark": 215, "dusk": DUSK_BRIGHTEST}


class _Paper(QWidget):
    """The page itself, at one size."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.scheme: Scheme = LIGHT
        self.image: QImage | None = None
        self.stale = False
        self._scaled = QPixmap()
        self.setAccessibleName("page of the sheet")

    def page_rect(self) -> QRect:
        """Where the page lies in this widget."""
        return self.rect().adjusted(_MARGIN, _MARGIN, -_MARGIN, -_MARGIN)

    def forget(self) -> None:
        """The picture or its size is another one."""
        self._scaled = QPixmap()
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.fillRect(self.rect(), self.scheme.color("paper"))
            if self.image is None:
                return
            place, ratio = self.page_rect(), self.devicePixelRatioF()
            size = place.size() * ratio
            if self._scaled.size() != size or self._scaled.devicePixelRatio() != ratio:
                self._scaled = self._drawn(self.image, size)
                self._scaled.setDevicePixelRatio(ratio)
            painter.drawPixmap(place.topLeft(), self._scaled)
            if self.stale:
                veil = self.scheme.color("paper", 150)
                painter.fillRect(place, veil)
            painter.setPen(self.scheme.color("edge"))
            painter.drawRect(place)

    def _drawn(self, image: QImage, size: QSize) -> QPixmap:
        mode = Qt.TransformationMode.SmoothTransformation
        page = QPixmap.fromImage(image.scaled(size, Qt.AspectRatioMode.IgnoreAspectRatio, mode))
        level = _BRIGHTEST[self.scheme.name]
        if level < 255:
            with painting(page) as painter:
                painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Multiply)
                painter.fillRect(page.rect(), QColor(level, level, level))
        return page


class PageView(QScrollArea):
    """Shows one page fitted to the frame, to its width, or at its true size; Page Up and Down scroll it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.paper = _Paper()
        self.zoom: Zoom = "page"
        self._dots_per_inch = 96.0
        self.setWidget(self.paper)
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("sheet, page by page")

    def show_page(self, image: QImage | None, dots_per_inch: float, words: str, top: bool = True) -> None:
        """Another picture.

        Args:
            image: the page, or None for an empty frame.
            dots_per_inch: of the picture.
            words: what it is, for those who do not see it.
            top: scroll to its top.
        """
        self.paper.image, self._dots_per_inch = image, dots_per_inch
        self.paper.setAccessibleDescription(words)
        self.setAccessibleDescription(words)
        self._fit()
        if top:
            self.verticalScrollBar().setValue(0)

    def show_stale(self, stale: bool) -> None:
        """Veil a page that is of another plan than the present one."""
        self.paper.stale = stale
        self.paper.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Other colours."""
        self.paper.scheme = scheme
        self.paper.forget()

    def set_zoom(self, zoom: Zoom) -> None:
        """Fit the page, fit its width, or true size."""
        self.zoom = zoom
        self._fit()

    def _fit(self) -> None:
        image = self.paper.image
        if image is None:
            self.paper.resize(self.viewport().size())
        else:
            self.paper.resize(self._page_size(image) + QSize(2 * _MARGIN, 2 * _MARGIN))
        self.paper.forget()

    def _page_size(self, image: QImage) -> QSize:
        tall = image.height() / image.width()
        room = self.viewport().size() - QSize(2 * _MARGIN, 2 * _MARGIN)
        if self.zoom == "full":
            width = image.width() / self._dots_per_inch * self.logicalDpiX()
        elif self.zoom == "width":
            # The scroll bar will take its room, whether it is there yet or not.
            bar = 0 if self.verticalScrollBar().isVisible() else self.verticalScrollBar().sizeHint().width()
            width = room.width() - bar
        else:
            width = min(room.width(), room.height() / tall)
        width = max(width, 120.0)
        return QSize(round(width), round(width * tall))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.paper.forget()

    def wheelEvent(self, event: QWheelEvent) -> None:
        super().wheelEvent(event)
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        bar = self.verticalScrollBar()
        if event.key() == Qt.Key.Key_Home:
            bar.setValue(bar.minimum())
        elif event.key() == Qt.Key.Key_End:
            bar.setValue(bar.maximum())
        else:
            super().keyPressEvent(event)
