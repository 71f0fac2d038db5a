"""Groups of numbers: each with unit, a faint word of meaning, and whether it is assumed or set."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme, font
from app.window.widgets.fields import LineField, NumberField
from app.window.widgets.labels import heading, second
from app.window.widgets.plain import plain_label, tip
from core.base.edits import default_at, is_given, value_at
from core.plan.document import Plan
from core.plan.quantities import QUANTITIES


@dataclass(frozen=True)
class Value:
    """One number of a plan.

    Attributes:
        path: its key path.
        words: its label, with & before the letter of its key.
        unit: what it is counted in.
        meaning: a few words.
        part: what of the picture it changes; after a colon, what more the words under it tell.
        none: what holds where there is no number, for a number that may be left out.
        needed: there is no default: it cannot be left out.
    """

    path: str
    words: str
    unit: str
    meaning: str
    part: str
    none: str = ""
    needed: bool = False

    @property
    def plain(self) -> str:
        """The label without its key mark."""
        return self.words.replace("&", "")


class ResetButton(QToolButton):
    """Tells that a value is assumed; where it is set, takes it back to the default.

    A ``brief`` one names the default in its tip alone.
    """

    def __init__(self, name: str, brief: bool = False) -> None:
        super().__init__()
        self._name, self._brief = name, brief
        self.setFont(font(9))
        # Tab goes from number to number; by keys, a field that is emptied goes back to its default.
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def show_state(self, given: bool, default: str, scheme: Scheme, same: bool = False) -> None:
        """A set value can be reset; an assumed one says so, and so does one set to what would be assumed."""
        show_assumed(self, given and not same, scheme)
        if given and same:
            self.setText("set")
            self.setEnabled(False)
            self.setAccessibleName(f"{self._name} is set, to what would be assumed")
            self.setToolTip(tip(self.accessibleName()))
            return
        back = "reset" if self._brief else f"back to {default}"
        self.setText(back if given else "assumed")
        self.setEnabled(given)
        words = f"{self._name}: back to {default}" if given else f"{self._name} is assumed, not set"
        self.setAccessibleName(words)
        self.setToolTip(tip(words))


def show_assumed(field: QWidget, given: bool, scheme: Scheme) -> None:
    """An assumed value is written faint."""
    wanted = f"color: {scheme.ink if given else scheme.faint};"
    if field.styleSheet() != wanted:
        field.setStyleSheet(wanted)


class ValueGroup(QWidget):
    """Some numbers under a heading; in a ``compact`` one the meaning of each is its tool tip.

    Signals:
        edited(str path, float value, LineField field, str words): a number was typed, and what it is.
        reset_wanted(str path): back to the default.
    """

    edited = Signal(str, float, LineField, str)
    reset_wanted = Signal(str)

    def __init__(
        self, title: str, values: Iterable[Value], parent: QWidget | None = None, compact: bool = False
    ) -> None:
        super().__init__(parent)
        self.values, self._compact = tuple(values), compact
        self.fields: dict[str, NumberField] = {}
        self.resets: dict[str, ResetButton] = {}
        self.meanings: dict[str, QLabel] = {}
        self.grid = QGridLayout()
        self.grid.setHorizontalSpacing(10)
        self.grid.setVerticalSpacing(6)
        self.grid.setColumnMinimumWidth(0, 118 if compact else 148)
        self.grid.setColumnMinimumWidth(1, 96)
        self.grid.setColumnMinimumWidth(2, 30 if compact else 42)
        self.grid.setColumnStretch(3, 1)
        for value in self.values:
            self._add(value)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(heading(title, 12))
        column.addLayout(self.grid)

    def _add(self, value: Value) -> None:
        row = self.grid.rowCount()
        field = NumberField(value.plain, value.unit, 4, quantity=QUANTITIES[value.path])
        field.may_be_empty = not value.needed
        field.setMaximumWidth(96)
        field.setProperty("part", value.part)
        label = plain_label(value.words)
        label.setBuddy(field)
        if self._compact:
            field.setToolTip(tip(value.meaning))
        else:
            self.meanings[value.path] = second(value.meaning)
            self.grid.addWidget(self.meanings[value.path], row, 3)
        reset = ResetButton(value.plain, self._compact)
        field.value_edited.connect(self._teller(value, field))
        reset.clicked.connect(self._resetter(value.path))
        field.cleared.connect(self._resetter(value.path))
        self.grid.addWidget(label, row, 0)
        self.grid.addWidget(field, row, 1)
        self.grid.addWidget(second(value.unit), row, 2)
        self.grid.addWidget(reset, row, 4, Qt.AlignmentFlag.AlignRight)
        if value.needed:
            reset.hide()
        self.fields[value.path], self.resets[value.path] = field, reset

    def _teller(self, value: Value, field: NumberField) -> Callable[[float], None]:
        return lambda number: self.edited.emit(value.path, number, field, value.plain.lower())

    def _resetter(self, path: str) -> Callable[[], None]:
        def back() -> None:
            self.fields[path].take_back()
            self.reset_wanted.emit(path)

        return back

    def refresh(self, plan: Plan, scheme: Scheme) -> None:
        """Show the plan's numbers."""
        for value in self.values:
            field, number = self.fields[value.path], value_at(plan, value.path)
            field.show_value(float(number) if isinstance(number, int | float) else None)
            if value.needed:
                continue
            given = is_given(plan, value.path)
            default = default_at(plan, value.path)
            words = value.none if default is None else f"{default:g}"
            field.setPlaceholderText(value.none)
            self.resets[value.path].show_state(given, words, scheme, number == default)
            show_assumed(field, given, scheme)
