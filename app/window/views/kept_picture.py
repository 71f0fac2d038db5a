"""A picture of a widget that is painted again only when something in it changed."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPixmap
from PySide6.QtWidgets import QWidget

from app.window.views.painting import painting


class KeptPicture:
    """The fixed layer of a view, in the device's pixels."""

    def __init__(self) -> None:
        self._pixmap = QPixmap()
        self._key: object = None
        #: How often it was painted, for tests.
        self.painted = 0

    def forget(self) -> None:
        """Paint it again the next time."""
        self._key = None

    def get(
        self,
        widget: QWidget,
        paint: Callable[[QPainter], None],
        shown: object = None,
        ground: QColor | Qt.GlobalColor = Qt.GlobalColor.transparent,
    ) -> QPixmap:
        """The picture at the widget's present size and pixel ratio.

        Args:
            widget: whose size and pixel ratio.
            paint: paints it, antialiased, on a fresh ground.
            shown: what the picture depends on; another value makes it anew.
            ground: its colour.
        """
        ratio = widget.devicePixelRatioF()
        key = (widget.width(), widget.height(), ratio, shown)
        if key != self._key:
            self._key = key
            self._pixmap = QPixmap(round(widget.width() * ratio), round(widget.height() * ratio))
            self._pixmap.setDevicePixelRatio(ratio)
            self._pixmap.fill(ground)
            with painting(self._pixmap) as painter:
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                paint(painter)
                self.painted += 1
        return self._pixmap
