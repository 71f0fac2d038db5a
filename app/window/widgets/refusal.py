"""Why what was typed was not taken, beside the place where it was typed."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtWidgets import QLabel, QWidget

from app.window.look.scheme import font

_GAP_PX = 6
_LEAST_PX, _MOST_PX = 150, 360


class RefusalNote(QLabel):
    """Floats right of its anchor where there is room, else under it; nothing on the page moves for it.

    It lies on the page that the anchor is on, and goes with the anchor.
    """

    def __init__(self, anchor: QWidget) -> None:
        self._anchor, self._page, self._within = anchor, _page_of(anchor), QRect()
        super().__init__(self._page)
        self.setObjectName("refusal")
        self.setFont(font(9.5))
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()
        anchor.destroyed.connect(self._leave)
        anchor.installEventFilter(self)
        self._page.installEventFilter(self)

    def _leave(self) -> None:
        """The anchor is gone: without words, nothing that happens to the page places the note any more."""
        self.setText("")
        self.deleteLater()

    def tell(self, why: str, within: QRect | None = None) -> None:
        """Show a reason, or nothing; ``within`` is the part of the anchor it is about, or None for all."""
        self.setText(why)
        self.setAccessibleName(why)
        self._within = QRect() if within is None else within
        self.place()

    def place(self) -> None:
        """Beside the anchor as it stands now."""
        anchor, page = self._anchor, self._page
        shown = bool(self.text()) and anchor.isVisibleTo(page)
        self.setVisible(shown)
        if not shown:
            return
        part = self._within if self._within.isValid() else anchor.rect()
        box = QRect(anchor.mapTo(page, part.topLeft()), part.size())
        room = self._room(box)
        beside = room >= _LEAST_PX
        width = min(self.sizeHint().width(), room if beside else page.width() - 2 * _GAP_PX, _MOST_PX)
        self.setFixedWidth(max(width, min(_LEAST_PX, self.sizeHint().width())))
        self.setFixedHeight(self.heightForWidth(self.width()))
        if beside:
            place = QPoint(box.right() + _GAP_PX, box.center().y() - self.height() // 2)
        else:
            left = min(box.left(), page.width() - self.width() - _GAP_PX)
            under = box.bottom() + 3
            fits = under + self.height() <= page.height()
            place = QPoint(left, under if fits else box.top() - self.height() - 3)
        self.move(max(place.x(), 0), max(place.y(), 0))
        self.raise_()

    def _room(self, box: QRect) -> int:
        """Pixels right of the anchor: to the end of its group, or of the page where the group leaves few."""
        group = self._anchor.parentWidget()
        ends = [self._page.width()]
        if group is not None and group is not self._page:
            ends.insert(0, group.mapTo(self._page, group.rect().topRight()).x())
        rooms = [end - box.right() - 2 * _GAP_PX for end in ends]
        return next((room for room in rooms if room >= _LEAST_PX), rooms[-1])

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        moved = {QEvent.Type.Resize, QEvent.Type.Move, QEvent.Type.Show, QEvent.Type.Hide}
        if self.text() and event.type() in moved:
            self.place()
        return super().eventFilter(watched, event)


def _page_of(anchor: QWidget) -> QWidget:
    """The page round a field (what scrolls with it), or its window."""
    place = anchor.parentWidget()
    while place is not None and place.objectName() != "page" and not place.isWindow():
        place = place.parentWidget()
    return place if place is not None else anchor.window()
