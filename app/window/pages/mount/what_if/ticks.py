"""What is to be changed: values to be ticked in small groups, each with a field for another one."""

from __future__ import annotations

import itertools
from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QVBoxLayout, QWidget

from app.window.look.scheme import font
from app.window.widgets.fields import NumberField
from app.window.widgets.labels import second
from app.window.widgets.plain import button_words, tip
from core.base.errors import NorthkeyError
from core.base.typed import Quantity, page_words
from core.base.words import plain
from core.plan.document import Plan
from core.plan.quantities import QUANTITIES
from core.what_if.changes import NUMBERS, Change, ChangedNumber, changes_nothing, together

#: Boxes in a row, with the field for another value behind the first row's.
_ACROSS = 3
_FIELD_PX = 66


class TickGroup(QWidget):
    """Values of one thing, ticked or not.

    Signals:
        ticked(): another choice.
        added(): one more box.
    """

    ticked = Signal()
    added = Signal()

    def __init__(self, title: str, other: str, quantity: Quantity, make: Callable[[float], Change]) -> None:
        super().__init__()
        self._title, self._make = title, make
        self._plan: Plan | None = None
        self.boxes: dict[Change, QCheckBox] = {}
        self.head = second("", 9.5, wraps=False)
        self.other = NumberField(f"another {title}, {other}", quantity.unit, 4, quantity=quantity)
        self.other.setPlaceholderText(other)
        self.other.setFixedWidth(_FIELD_PX)
        self.other.setToolTip(f"Another {title}, {quantity.range_words}; Enter sets it among the others")
        self.other.value_edited.connect(self._add)
        self.grid = QGridLayout()
        self.grid.setContentsMargins(0, 0, 0, 0)
        self.grid.setHorizontalSpacing(10)
        self.grid.setVerticalSpacing(4)
        self.grid.addWidget(self.other, 0, _ACROSS)
        self.grid.setColumnStretch(_ACROSS - 1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addWidget(self.head)
        column.addLayout(self.grid)

    def offer(self, change: Change, words: str) -> None:
        """One more box, not ticked."""
        box = QCheckBox(button_words(words))
        box.setFont(font(10))
        box.setAccessibleName(change.name)
        box.setToolTip(tip(change.name))
        box.toggled.connect(lambda _on: self.ticked.emit())
        place = len(self.boxes)
        column = place % _ACROSS
        self.grid.addWidget(box, place // _ACROSS, column, Qt.AlignmentFlag.AlignLeft)
        self.boxes[change] = box

    def withdraw(self) -> None:
        """Without any box."""
        for box in self.boxes.values():
            self.grid.removeWidget(box)
            box.hide()
            box.deleteLater()
        self.boxes = {}

    def _add(self, value: float) -> None:
        """What was typed becomes a box and is ticked, if the mount can be so."""
        change = self._make(value)
        try:
            same = self._plan is not None and changes_nothing(self._plan, change)
        except NorthkeyError as error:
            self.other.refuse_error(error)
            return
        if same:
            self.other.refuse("That is as it is")
            return
        if change not in self.boxes:
            self.offer(change, plain(value))
            self.added.emit()
        self.other.show_value(None)
        self.boxes[change].setChecked(True)

    @property
    def chosen(self) -> tuple[Change, ...]:
        """What is ticked of what can be."""
        return tuple(change for change, box in self.boxes.items() if box.isChecked() and box.isEnabled())

    def refresh(self, plan: Plan, now: str) -> None:
        """Boxes of what the plan has already, or cannot have, are asleep."""
        self._plan = plan
        self.head.setText(f"{self._title.capitalize()}: {now}")
        for change, box in self.boxes.items():
            why = _why_not(plan, change)
            box.setEnabled(not why)
            box.setToolTip(tip(f"{change.name}: {why}" if why else change.name))
            box.setAccessibleDescription(why)


def _why_not(plan: Plan, change: Change) -> str:
    try:
        return "that is as it is" if changes_nothing(plan, change) else ""
    except NorthkeyError as error:
        return page_words(error)


class Ticks(QWidget):
    """All groups, and whether what is ticked is asked together, too.

    Signals:
        ticked(): another choice.
    """

    ticked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.numbers = {number.key: _number_group(number) for number in NUMBERS}
        self.holes = TickGroup(
            "hole",
            "offset",
            QUANTITIES["mount.index_holes.offset_deg"],
            lambda offset_deg: Change(hole_offset_deg=offset_deg),
        )
        self.groups = (*self.numbers.values(), self.holes)
        self.all_together = QCheckBox("All ticked to&gether, too")
        self.all_together.setFont(font(10))
        self.all_together.setAccessibleName("all ticked together, too")
        self._plan: Plan | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(11)
        for group in self.groups:
            column.addWidget(group)
            group.ticked.connect(self._on_ticked)
            group.added.connect(self.chain_tabs)
        column.addWidget(self.all_together)
        column.addStretch(1)
        self.all_together.toggled.connect(lambda _on: self.ticked.emit())
        self._on_ticked()

    @property
    def _single(self) -> tuple[Change, ...]:
        return tuple(change for group in self.groups for change in group.chosen)

    @property
    def chosen(self) -> tuple[Change, ...]:
        """Every change that is asked for, one for each tick, and all together last."""
        both = together(self._single)
        asked = self.all_together.isChecked() and self.all_together.isEnabled()
        return (*self._single, both) if asked and both is not None else self._single

    def _on_ticked(self) -> None:
        can = together(self._single) is not None
        self.all_together.setEnabled(can)
        self.all_together.setToolTip(
            "One row more, with all that is ticked" if can else "Tick two values or more, one of a group"
        )
        self.ticked.emit()

    def refresh(self, plan: Plan) -> None:
        """What the plan has now stands in the heads; its own holes can be ticked."""
        if self._plan is not None and plan.mount == self._plan.mount:
            return
        before = None if self._plan is None else self._plan.mount.index_holes
        self._plan = plan
        if before != plan.mount.index_holes:
            self._offer_holes(plan)
        for number in NUMBERS:
            self.numbers[number.key].refresh(plan, f"{plain(number.of(plan))} {number.unit} now")
        self.holes.refresh(plan, f"{plan.mount.index_hole} now")
        self.chain_tabs()
        self._on_ticked()

    def chain_tabs(self) -> None:
        """Tab goes down the groups, in each from box to box and then to the field."""
        stops = [stop for group in self.groups for stop in (*group.boxes.values(), group.other)]
        for one, other in itertools.pairwise([*stops, self.all_together]):
            QWidget.setTabOrder(one, other)

    def _offer_holes(self, plan: Plan) -> None:
        """The plan's holes by name, then what was typed; ticks stay."""
        ticked = {change for change, box in self.holes.boxes.items() if box.isChecked()}
        typed = [change for change in self.holes.boxes if change.hole_offset_deg is not None]
        self.holes.withdraw()
        for hole in plan.mount.index_holes:
            self.holes.offer(Change(index_hole=hole.name), hole.name)
        for change in typed:
            self.holes.offer(change, plain(change.hole_offset_deg or 0.0))
        for change in ticked & self.holes.boxes.keys():
            self.holes.boxes[change].setChecked(True)


def _number_group(number: ChangedNumber) -> TickGroup:
    def make(value: float) -> Change:
        return Change(**{number.key: value})  # type: ignore[arg-type]

    group = TickGroup(number.words, "other", QUANTITIES[number.path], make)
    for value in number.usual:
        group.offer(make(value), plain(value))
    return group
