"""Fields for numbers and words: what cannot be taken is marked, told beside them, and changes nothing."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QWidget

from app.window.look.scheme import font
from app.window.widgets.refusal import RefusalNote
from core.base.errors import NorthkeyError
from core.base.typed import Quantity, page_words, read_quantity

if TYPE_CHECKING:
    from core.place.typed_place import Coordinate


class LineField(QLineEdit):
    """A line that is taken when it is finished (Enter, Tab or leaving the field), if it was changed.

    What is refused stays as it was typed, with a frame and the reason beside it, until it is mended, taken
    back with Escape, or the plan has another value there.

    Signals:
        refused(str): what was typed could not be taken, with the reason.
    """

    refused = Signal(str)

    def __init__(self, name: str, width: int = 130, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._held = self._refused_for = self._why = ""
        self._note: RefusalNote | None = None
        self.setAccessibleName(name)
        self.setFont(font(10))
        self.setMaximumWidth(width)
        self.editingFinished.connect(self.finish)

    @property
    def wrong(self) -> str:
        """Why what stands in the field was not taken, or empty."""
        return self._why

    def show_line(self, text: str) -> None:
        """Show the plan's text; what is being typed, or was refused of the same value, is left alone."""
        self._held = text
        if self.hasFocus() and self.isModified():
            return
        if self.wrong:
            if text == self._refused_for:
                self._place_note()
                return
            self.mark_wrong("")
        self._put(text)

    def _put(self, text: str) -> None:
        """Another text; where all of it was selected, all of it still is, so that typing goes on."""
        if text != self.text():
            whole = self.hasFocus() and self.selectedText() == self.text()
            self.setText(text)
            if whole:
                self.selectAll()

    def finish(self) -> None:
        """What stands in the field is typed: it is taken if it was changed."""
        if self.isModified():
            self.setModified(False)
            self.mark_wrong("")
            self.take(self.text().strip())

    def take(self, typed: str) -> None:
        """Tell what was typed, or refuse it."""
        raise NotImplementedError

    def take_back(self) -> None:
        """Show the plan's text again, whatever was typed or refused."""
        self.setModified(False)
        self.mark_wrong("")
        self._put(self._held)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and (self.wrong or self.isModified()):
            self.take_back()
            self.selectAll()
            return
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self.wrong:
            self.setModified(True)  # the rest of the plan may be another now
        super().keyPressEvent(event)

    def mark_wrong(self, why: str) -> None:
        """Mark the field as refused and say why beside it; an empty reason clears both."""
        if why == self.wrong:
            return
        self._why, self._refused_for = why, self._held
        self.setProperty("wrong", bool(why))
        self.setAccessibleDescription(why)
        if why and self._note is None:
            self._note = RefusalNote(self)
        self._place_note()
        self.style().unpolish(self)
        self.style().polish(self)

    def _place_note(self) -> None:
        if self._note is not None:
            self._note.tell(self.wrong)

    def refuse(self, why: str) -> None:
        """Mark the field and tell the reason."""
        self.mark_wrong(why)
        self.refused.emit(why)

    def refuse_error(self, error: NorthkeyError) -> None:
        """The same for an error, in the words of the page."""
        self.refuse(page_words(error))

    def attempt(self, edit: Callable[[], None]) -> None:
        """Do an edit; a refusal marks this field and is told."""
        try:
            edit()
        except NorthkeyError as error:
            self.refuse_error(error)


class NumberField(LineField):
    """A number typed with a unit behind it.

    Signals:
        value_edited(float): a new number was typed and finished.
        cleared(): the field was emptied, where ``may_be_empty`` allows that.
    """

    value_edited = Signal(float)
    cleared = Signal()

    def __init__(
        self,
        name: str,
        unit: str = "",
        decimals: int = 2,
        parent: QWidget | None = None,
        quantity: Quantity | None = None,
    ) -> None:
        super().__init__(f"{name}, {unit}" if unit else name, parent=parent)
        self._decimals = decimals
        self._quantity = Quantity(name) if quantity is None else quantity
        self._value = math.nan
        self.may_be_empty = False
        self.setAlignment(Qt.AlignmentFlag.AlignRight)

    def show_value(self, value: float | None) -> None:
        """Show a number; None shows nothing."""
        self._value = math.nan if value is None else value
        text = "" if math.isnan(self._value) else f"{self._value:.{self._decimals}f}"
        self.show_line(text.rstrip("0").rstrip(".") if "." in text else text)

    def take(self, typed: str) -> None:
        """A number that the quantity reads; any other text is refused."""
        if not typed and self.may_be_empty:
            self._put(self._held)
            self.cleared.emit()
            return
        try:
            value = read_quantity(typed, self._quantity)
        except NorthkeyError as error:
            self.refuse_error(error)
            return
        if value == self._value:
            self._put(self._held)
        else:
            self.value_edited.emit(value)


class CoordinateField(LineField):
    """A latitude or a longitude, or a whole position pasted into one of them.

    Signals:
        place_typed(TypedPlace): what was typed and finished.
    """

    place_typed = Signal(object)

    def __init__(self, coordinate: Coordinate, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent=parent)
        self._coordinate = coordinate
        self._value = math.nan
        self.setAlignment(Qt.AlignmentFlag.AlignRight)

    def show_value(self, value: float) -> None:
        """Show degrees, north and east positive."""
        self._value = value
        self.show_line(f"{value:.6f}".rstrip("0").rstrip("."))

    def take(self, typed: str) -> None:
        """Every form of a coordinate or a position; any other text is refused."""
        from core.place.typed_place import TypedPlace, read_coordinate

        try:
            place = read_coordinate(typed, self._coordinate)
        except NorthkeyError as error:
            self.refuse_error(error)
            return
        own = place.latitude_deg if self._coordinate == "latitude" else place.longitude_deg
        if own == self._value and place == TypedPlace(**{f"{self._coordinate}_deg": own}):
            self._put(self._held)
        else:
            self.place_typed.emit(place)


class TextField(LineField):
    """Words, a time or a date.

    Signals:
        text_edited(str): another text was typed and finished.
    """

    text_edited = Signal(str)

    def show_text(self, text: str) -> None:
        """Show a text from its beginning."""
        before = self.text()
        self.show_line(text)
        if self.text() != before and not self.selectedText():
            self.setCursorPosition(0)

    def take(self, typed: str) -> None:
        """Any text that is another one."""
        if typed != self._held:
            self.text_edited.emit(typed)
        else:
            self._put(self._held)

    @property
    def sound(self) -> str:
        """What stands in the field, or the plan's text where that was refused."""
        return self._held if self.wrong else self.text().strip()


class NotesField(QPlainTextEdit):
    """Some lines of text, taken when the field is left.

    Signals:
        text_edited(str): another text was typed.
    """

    text_edited = Signal(str)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFont(font(10))
        self.setTabChangesFocus(True)
        self._shown = ""

    def show_text(self, text: str) -> None:
        """Show a text; what is being typed is left alone."""
        untouched = not (self.hasFocus() and self.document().isModified())
        if text != self._shown and untouched:
            self.setPlainText(text)
        self._shown = text

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        # Not by the text: what the box gives back has other line ends and blanks than what was put in.
        if self.document().isModified():
            self.document().setModified(False)
            self.text_edited.emit(self.toPlainText())
