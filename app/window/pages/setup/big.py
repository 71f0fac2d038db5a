"""What can be read in full sun and pressed in gloves: large fields, buttons, figures and notes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractButton,
    QBoxLayout,
    QButtonGroup,
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import Scheme, font
from app.window.look.style import FLAT_ARROW, checked_style
from app.window.widgets.fields import LineField, NumberField, TextField
from app.window.widgets.labels import label, push_button, second
from app.window.widgets.plain import plain_label
from app.window.widgets.wheel import wheel_wants_focus
from core.base.typed import Quantity

#: Nothing that is pressed is lower: a gloved finger is 15 mm wide.
LEAST_PX = 44
TEXT_PT = 12
_FIELD_PT = 14

F = TypeVar("F", bound=LineField)


class Typed(NumberField):
    """A large field whose number waits in it until a button takes it; it may be left empty.

    Signals:
        typed(): another number stands in it, or none.
    """

    typed = Signal()

    def __init__(self, name: str, unit: str, quantity: Quantity, width: int = 110, decimals: int = 4) -> None:
        super().__init__(name, unit, decimals, quantity=quantity)
        self.may_be_empty = True
        #: What stands in it; None where it is empty.
        self.number: float | None = None
        enlarged(self, width)
        self.value_edited.connect(self._keep)
        self.cleared.connect(lambda: self._keep(None))

    def _keep(self, number: float | None) -> None:
        self.put(number)
        self.typed.emit()

    def put(self, number: float | None) -> None:
        """Another number, or none."""
        self.number = number
        self.mark_wrong("")
        self.setModified(False)
        self.show_value(number)

    def settled(self, wanted: str = "") -> bool:
        """Take what is being typed; whether it is sound, and there where it is ``wanted`` for a reason."""
        self.finish()
        if not self.wrong and self.number is None and wanted:
            self.refuse(wanted)
        return not self.wrong


def big_text(name: str, width: int = 160) -> TextField:
    """A large field for words or a time."""
    return enlarged(TextField(name), width)


def enlarged(field: F, width: int) -> F:
    """A field of the page's size."""
    field.setFont(font(_FIELD_PT))
    field.setFixedWidth(width)
    field.setMinimumHeight(LEAST_PX)
    return field


def big_button(
    words: str, do: Callable[[], Any], name: str = "", main: bool = False, tip: str = ""
) -> QPushButton:
    """A large button; the one that is meant to be pressed is the main one.

    Its tip says what it does, by default its name, where that says more than the words on it.
    """
    button = push_button(words, do, name, tip or name[:1].upper() + name[1:])
    button.setFont(font(TEXT_PT, main))
    button.setMinimumHeight(LEAST_PX + (4 if main else 0))
    button.setProperty("main", main)
    return button


def big_combo(name: str, width: int = 220) -> QComboBox:
    """A large box to choose from."""
    box = QComboBox()
    box.setAccessibleName(name)
    box.setFont(font(_FIELD_PT))
    box.setMinimumHeight(LEAST_PX)
    box.setFixedWidth(width)
    box.setStyleSheet(FLAT_ARROW)
    wheel_wants_focus(box)
    return box


def put_choices(box: QComboBox, choices: Sequence[str], chosen: str) -> None:
    """Fill a box without telling anybody; one that is there already stays as it is."""
    box.blockSignals(True)
    if [box.itemText(place) for place in range(box.count())] != list(choices):
        box.clear()
        box.addItems(list(choices))
    box.setCurrentIndex(choices.index(chosen) if chosen in choices else 0 if choices else -1)
    box.blockSignals(False)


class Choice(QWidget):
    """A row of large buttons of which one is down.

    Signals:
        chosen(str): another one was pressed.
    """

    chosen = Signal(str)

    def __init__(self, name: str, choices: Sequence[tuple[str, str]], columns: int = 0) -> None:
        """For some choices.

        Args:
            name: of the whole row, as it is read out.
            choices: the value of each and the words on it.
            columns: how many stand side by side; 0 for all.
        """
        super().__init__()
        self.setAccessibleName(name)
        self.buttons: dict[str, QPushButton] = {}
        self._group = QButtonGroup(self)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(6)
        for place, (value, words) in enumerate(choices):
            button = big_button(words, partial(self.chosen.emit, value), f"{name}: {words}")
            button.setCheckable(True)
            self._group.addButton(button)
            self.buttons[value] = button
            grid.addWidget(button, *divmod(place, columns or len(choices)))
        grid.setColumnStretch(columns or len(choices), 1)

    @property
    def value(self) -> str:
        """The one that is down."""
        return next((value for value, button in self.buttons.items() if button.isChecked()), "")

    def choose(self, value: str) -> None:
        """Put one down; nobody is told."""
        if value in self.buttons:
            self.buttons[value].setChecked(True)

    def set_scheme(self, scheme: Scheme) -> None:
        """Colours of the one that is down."""
        self.setStyleSheet(checked_style("QPushButton", scheme))


def labelled(words: str, field: QWidget, unit: str = "") -> QHBoxLayout:
    """A field under its words, with its unit beside it."""
    above = plain_label(words, field)
    above.setFont(font(11))
    column = QVBoxLayout()
    column.setSpacing(2)
    column.addWidget(above)
    row = QHBoxLayout()
    row.setSpacing(6)
    row.addWidget(field)
    if unit:
        row.addWidget(second(unit, 11, wraps=False))
    column.addLayout(row)
    outer = QHBoxLayout()
    outer.setContentsMargins(0, 0, 0, 0)
    outer.addLayout(column)
    return outer


def in_a_row(*parts: QWidget | QBoxLayout | QGridLayout, stretch: bool = True) -> QHBoxLayout:
    """Parts side by side, their bottoms on one line."""
    row = QHBoxLayout()
    row.setSpacing(12)
    for part in parts:
        if isinstance(part, QWidget):
            row.addWidget(part, 0, Qt.AlignmentFlag.AlignBottom)
        else:
            row.addLayout(part)
    if stretch:
        row.addStretch(1)
    return row


def told(words: str = "", name: str = "", points: float = TEXT_PT) -> QLabel:
    """A label that wraps, of the size of the page's text."""
    made = label(points, name=name, wraps=True)
    made.setText(words)
    return made


def down(buttons: Sequence[QAbstractButton], enabled: bool) -> None:
    """Whether some buttons can be pressed."""
    for button in buttons:
        button.setEnabled(enabled)
