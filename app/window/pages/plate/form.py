"""The left side of the Plate page: every number and choice of the part."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout

from app.window.look.scheme import Scheme
from app.window.pages.plate import numbers
from app.window.widgets.fields import LineField, NumberField
from app.window.widgets.labels import push_button, second
from app.window.widgets.rooms import Scrolled
from app.window.widgets.typed.choices import Choice, ChoiceBox, add_choice
from app.window.widgets.typed.editing import PlanEditor
from app.window.widgets.typed.rows import RowTable
from app.window.widgets.typed.values import Value, ValueGroup
from core.plan.document import Plan
from core.plan.part_edits import (
    bolt_pattern,
    with_bolt_place,
    with_bolts,
    with_new_bolt_place,
    with_rectangle_side,
    with_step,
    without_bolt_place,
)
from core.plan.part_quantities import BOLT_PLACE, RECTANGLE_SIDE

_HOLES = (
    "The index holes, with both of their offsets, are typed on the Mount page (Ctrl+3); what is typed there "
    "is drawn here."
)


class PlaceTable(RowTable):
    """The free places of the bolts.

    Signals:
        typed(int row, int place, float, LineField): another x (0) or y (1), and the field.
    """

    typed = Signal(int, int, float, LineField)

    def __init__(self) -> None:
        heads = ("x, mm to the right", "y, mm to the datum mark")
        super().__init__("Bolts' places, seen from above", heads, "a bolt")
        self.fields: list[tuple[NumberField, NumberField]] = []
        self.reset.hide()

    def fill(self, grid: QGridLayout, row: int) -> None:
        made = []
        for place, word in enumerate("xy"):
            field = NumberField(f"{word} of bolt {row + 1}", "mm", 3, quantity=BOLT_PLACE)
            field.setFixedWidth(90)
            field.value_edited.connect(
                lambda value, place=place, field=field: self.typed.emit(row, place, value, field)
            )
            grid.addWidget(field, row + 1, place, Qt.AlignmentFlag.AlignLeft)
            made.append(field)
        self.fields.append((made[0], made[1]))

    def show_places(self, places: Sequence[tuple[float, float]]) -> None:
        """The plan's places."""
        if len(places) != len(self.fields):
            self.fields = []
            self.rebuild(len(places))
        for row, (fields, shown) in enumerate(zip(self.fields, places, strict=True)):
            for field, value in zip(fields, shown, strict=True):
                field.show_value(value)
            self.removers[row].setAccessibleName(f"Remove bolt {row + 1}")
            self.removers[row].setEnabled(len(places) > 1)


class PlateForm(Scrolled):
    """Groups under each other; what the part has not is not asked for.

    Signals:
        holes_wanted(): the index holes are typed elsewhere.
    """

    holes_wanted = Signal()

    def __init__(self, editor: PlanEditor) -> None:
        super().__init__("numbers of the plate", (22, 14, 12, 16))
        self.editor = editor
        self.groups: dict[str, ValueGroup] = {}
        self.boxes: dict[str, ChoiceBox] = {}
        self.places = PlaceTable()
        self.sides: list[NumberField] = []
        self.holes_button = push_button(
            "Inde&x holes...", self.holes_wanted.emit, tip="They are typed on the Mount page (Ctrl+3)"
        )
        self._group("Body", numbers.BODY, numbers.BODY_CHOICES)
        self._group("Index pin and keyway", (*numbers.PIN, *numbers.KEYWAY), numbers.PIN_CHOICES)
        self._choices("Index pin and keyway", numbers.KEYWAY_CHOICES)
        self.column.addWidget(second(_HOLES))
        self.column.addWidget(self.holes_button, 0, Qt.AlignmentFlag.AlignLeft)
        self._group("Step", (), (numbers.STEP_SIDE,))
        self._group("The step's measures", numbers.STEP, ())
        self._group("Rotator's bolts", (), (numbers.PATTERN,))
        self._group("Bolts on a circle", numbers.CIRCLE, ())
        self._rectangle()
        self.column.addWidget(self.places)
        self._group("Every bolt", numbers.BOLTS, numbers.BOLT_CHOICES)
        self._group("Centre clamp", (), (numbers.CENTRE,))
        self._group("The clamp's bolt", numbers.CLAMP, numbers.CLAMP_CHOICES)
        self._group("Loads", numbers.LOADS, numbers.LOAD_CHOICES)
        self.column.addStretch(1)
        self._connect_places()

    def _group(self, title: str, values: Sequence[Value], choices: Sequence[Choice]) -> None:
        group = ValueGroup(title, values, compact=True)
        group.edited.connect(self._set_number)
        group.reset_wanted.connect(self.editor.reset)
        self.groups[title] = group
        self._choices(title, choices)
        self.column.addWidget(group)

    def _choices(self, title: str, choices: Sequence[Choice]) -> None:
        for choice in choices:
            box = add_choice(self.groups[title].grid, choice)
            box.chosen.connect(self._choose)
            self.boxes[choice.path] = box

    def _rectangle(self) -> None:
        """Two numbers of one key."""
        group = ValueGroup("Bolts in a rectangle", (), compact=True)
        for place, words in enumerate(("Along x", "Along y")):
            field = NumberField(f"Rectangle {words.lower()}", "mm", 3, quantity=RECTANGLE_SIDE)
            field.setMaximumWidth(96)
            field.value_edited.connect(partial(self._set_side, place, field))
            group.grid.addWidget(second(words, 10, wraps=False), place, 0)
            group.grid.addWidget(field, place, 1)
            group.grid.addWidget(second("mm"), place, 2)
            self.sides.append(field)
        self.groups["Bolts in a rectangle"] = group
        self.column.addWidget(group)

    def _connect_places(self) -> None:
        editor = self.editor
        self.places.add_wanted.connect(lambda: editor.do(with_new_bolt_place, "add a bolt"))
        self.places.remove_wanted.connect(
            lambda row: editor.do(lambda plan: without_bolt_place(plan, row), f"remove bolt {row + 1}")
        )
        self.places.typed.connect(
            lambda row, place, value, field: editor.do(
                lambda plan: with_bolt_place(plan, row, place, value), f"bolt {row + 1}: {value:g} mm", field
            )
        )

    # --- edits --------------------------------------------------------------------------------------------

    def _set_number(self, path: str, value: float, field: LineField, words: str) -> None:
        self.editor.set_number(path, value, field, words)

    def _set_side(self, place: int, field: NumberField, value: float) -> None:
        self.editor.do(lambda plan: with_rectangle_side(plan, place, value), f"rectangle {value:g} mm", field)

    def _choose(self, path: str, value: object, words: str) -> None:
        if path == numbers.STEP_SIDE.path:
            self.editor.do(lambda plan: with_step(plan, value), words)  # type: ignore[arg-type]
        elif path == numbers.PATTERN.path:
            self.editor.do(lambda plan: with_bolts(plan, value), words)  # type: ignore[arg-type]
        else:
            self.editor.choose(path, value, words)

    # --- showing ------------------------------------------------------------------------------------------

    def refresh(self, plan: Plan, scheme: Scheme) -> None:
        """Show the plan's plate, which must be there."""
        plate = plan.plate
        assert plate is not None
        pattern = bolt_pattern(plate.bolts)
        there = {
            "The step's measures": plate.step is not None,
            "Bolts on a circle": pattern == "circle",
            "Bolts in a rectangle": pattern == "rectangle",
            "Every bolt": plate.bolts is not None,
            "The clamp's bolt": plate.centre_thread is not None,
        }
        for title, group in self.groups.items():
            shown = there.get(title, True)
            group.setVisible(shown)
            if shown:
                group.refresh(plan, scheme)
        self.places.setVisible(pattern == "points")
        for path, box in self.boxes.items():
            if path == numbers.STEP_SIDE.path:
                box.show_choice("none" if plate.step is None else plate.step.side, True, scheme)
            elif path == numbers.PATTERN.path:
                box.show_choice(pattern, True, scheme)
            elif not path.startswith("plate.bolts.") or plate.bolts is not None:
                box.refresh(plan, scheme)
        bolts = plate.bolts
        if bolts is not None and bolts.rectangle_mm is not None and bolts.points_mm is None:
            for field, side in zip(self.sides, bolts.rectangle_mm, strict=True):
                field.show_value(side)
        if bolts is not None and bolts.points_mm is not None:
            self.places.show_places(bolts.points_mm)
