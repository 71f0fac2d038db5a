"""The fields of one row of the log."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QToolButton

from app.window.look.scheme import font
from app.window.widgets.fields import TextField
from app.window.widgets.labels import label, second
from core.afterwards.rows import LogRow
from core.base.times import clock, first_second

_STATES = {
    None: (Qt.CheckState.PartiallyChecked, "not noted"),
    True: (Qt.CheckState.Checked, "yes"),
    False: (Qt.CheckState.Unchecked, "no"),
}
_NEXT: dict[bool | None, bool | None] = {None: True, True: False, False: None}
_KEYS: dict[int, bool | None] = {
    Qt.Key.Key_Y: True,
    Qt.Key.Key_N: False,
    Qt.Key.Key_Delete: None,
    Qt.Key.Key_Backspace: None,
}


class WorkedTick(QCheckBox):
    """Yes, no or not noted: Space goes round, Y and N say it, Delete takes it back.

    Signals:
        noted(object): True, False or None.
    """

    noted = Signal(object)

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setTristate(True)
        self.setFont(font(10))
        self.setAccessibleName(name)
        self.setToolTip("Space goes round; Y is yes, N is no, Delete is not noted")
        self._worked: bool | None = None
        self.show_worked(None)
        self.clicked.connect(lambda: self.noted.emit(_NEXT[self._worked]))

    def show_worked(self, worked: bool | None) -> None:
        """What the plan has."""
        self._worked = worked
        state, words = _STATES[worked]
        self.setCheckState(state)
        self.setText(words)
        self.setAccessibleDescription(words)

    def nextCheckState(self) -> None:
        """What it shows is the plan's, and changes with it."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in _KEYS:
            self.noted.emit(_KEYS[event.key()])
        else:
            super().keyPressEvent(event)


class RowCells:
    """The widgets of one row, from left to right."""

    def __init__(self, row: LogRow) -> None:
        pass_ = row.pass_
        which = f"{pass_.satellite} {clock(pass_.peak.utc_s, seconds=False)}"
        of = f"contact {row.number}, {which}" if row.number is not None else f"pass {which}"
        self.number = label(11, bold=True)
        self.number.setText("" if row.number is None else str(row.number))
        self.satellite = label(10, wraps=True)
        self.satellite.setText(pass_.satellite)
        self.when = second(clock(first_second(row.start_utc_s)), 10, wraps=False)
        self.worked = WorkedTick(f"worked, {of}")
        self.azimuth = _field(f"azimuth dial at the best signal, {of}", 88)
        self.elevation = _field(f"elevation dial at the best signal, {of}", 58)
        self.time = _field(f"time of the best signal in UTC, {of}", 74)
        self.heard = _field(f"last heard at UTC, {of}", 74)
        self.note = _field(f"note, {of}", 400)
        self.note.setMinimumWidth(130)
        self.planned = second("", 10, wraps=False)
        self.told = label(9.5, name=f"what the dials say, {of}", wraps=True)
        self.sighting = QCheckBox()
        self.sighting.setAccessibleName(f"make a sighting of the dials, {of}")
        self.remove = _remover(of) if row.number is None else None

    @property
    def fields(self) -> tuple[TextField, ...]:
        """Those that are typed into."""
        return self.azimuth, self.elevation, self.time, self.heard, self.note


def _field(name: str, width: int) -> TextField:
    made = TextField(name, width)
    made.setMinimumWidth(min(width, 90))
    return made


def _remover(of: str) -> QToolButton:
    made = QToolButton()
    made.setText("Remove")
    made.setAccessibleName(f"remove {of}")
    made.setToolTip("Take this pass out of the log; undo brings it back")
    return made
