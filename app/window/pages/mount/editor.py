"""The Mount page's edits: each one step of undo; they ask before voiding a correction and tell refusals."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QWidget

from app.window.form import NumberField
from app.window.text_field import TextField
from core.base.edits import changed, reset
from core.base.errors import NorthkeyError
from core.mount.dial.summary import correction_state
from core.mount.model.station import Antenna
from core.plan.document import Plan
from core.plan.mount_edits import AxisName, with_dial_true, with_renamed_hole, with_wrap

if TYPE_CHECKING:
    from app.window.pages.mount.page import MountPage

STEERINGS = ("led", "chased", "held")


class MountEditor:
    """Sends the page's edits to the document."""

    def __init__(self, page: MountPage) -> None:
        self.page = page

    def do(self, edit: Callable[[Plan], Plan], label: str, field: QWidget | None = None) -> None:
        """Do an edit; ask first where it voids the correction; a refusal marks the field or is told."""
        plan = self.page.context.plan
        try:
            new = edit(plan)
        except NorthkeyError as error:
            if isinstance(field, NumberField | TextField):
                field.mark_wrong(str(error))
                field.refused.emit(str(error))
            else:
                self.page.problem.emit("Mount not changed", str(error), "")
            return
        voids = correction_state(plan.mount) == "holds" and correction_state(new.mount) == "void"
        if voids:
            self._ask_before_void(lambda: self.page.context.document.edit(new, label))
        else:
            self.page.context.document.edit(new, label)

    def _ask_before_void(self, go_on: Callable[[], None]) -> None:
        box = QMessageBox(self.page)
        box.setWindowTitle("Sighting correction")
        box.setText("This voids tonight's correction: it was fitted for the seat as it is now.")
        box.setInformativeText("It is kept and marked, and counts again when the seat is the same again.")
        go = box.addButton("Change the seat", QMessageBox.ButtonRole.AcceptRole)
        box.addButton("Leave it", QMessageBox.ButtonRole.RejectRole)
        go.clicked.connect(go_on)
        box.finished.connect(lambda _code: self.page.refresh())
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.open()

    def set_number(self, path: str, value: float, field: QWidget) -> None:
        words = next(v.plain for group in self.page.groups for v in group.values if v.path == path)
        self.do(lambda plan: changed(plan, path, value), f"{words.lower()} {value:g}", field)

    def reset(self, path: str) -> None:
        words = path.rpartition(".")[2].replace("_", " ").removesuffix(" deg").removesuffix(" s")
        self.do(lambda plan: reset(plan, path), f"{words} left to its default")

    def reset_holes(self) -> None:
        def edit(plan: Plan) -> Plan:
            kept = {name: getattr(plan.mount, name) for name in plan.mount.model_fields_set}
            kept.pop("index_holes", None)
            kept.pop("index_hole", None)
            return changed(plan, "mount", kept)

        self.do(edit, "holes left to their default")

    def set_wrap(self, wraps: tuple[float, float] | None, field: QWidget) -> None:
        label = "dial runs on" if wraps is None else f"dial jumps back at {wraps[0]:g} to {wraps[1]:g}"
        self.do(lambda plan: with_wrap(plan, wraps), label, field)

    def set_true(self, bearing_deg: float, field: NumberField) -> None:
        self.do(lambda plan: with_dial_true(plan, bearing_deg), f"dial true at {bearing_deg:g} deg", field)
        if not field.property("wrong"):
            field.show_value(None)

    def set_reading(self, axis: AxisName, row: int, key: str, value: float) -> None:
        path = f"mount.{axis}.calibration.{row}.{key}"
        field = self.page.calibrations[axis].fields[row][key]
        self.do(lambda plan: changed(plan, path, value), f"{axis} dial, reading {row + 1}: {value:g}", field)

    def set_both_at_once(self, on: bool) -> None:
        label = "both axes at once" if on else "one axis after the other"
        self.do(lambda plan: changed(plan, "mount.drive.both_axes_at_once", on), label)

    def rename_hole(self, row: int, name: str) -> None:
        self.do(
            lambda plan: with_renamed_hole(plan, row, name), f"hole named {name}", self.page.holes.names[row]
        )

    def move_hole(self, row: int, offset_deg: float) -> None:
        path = f"mount.index_holes.{row}.offset_deg"
        label = f"hole {self.page.context.plan.mount.index_holes[row].name} at {offset_deg:g} deg"
        self.do(lambda plan: changed(plan, path, offset_deg), label, self.page.holes.offsets[row])

    def use_hole(self, row: int) -> None:
        name = self.page.context.plan.mount.index_holes[row].name
        self.do(lambda plan: changed(plan, "mount.index_hole", name), f"hole {name} in use")

    def rename_antenna(self, row: int, name: str) -> None:
        path = f"antennas.{row}.name"
        self.do(lambda plan: changed(plan, path, name), f"antenna {name}", self.page.antennas.names[row])

    def set_antenna(self, row: int, key: str, value: float) -> None:
        number = value * 1e6 if key == "frequency_hz" else value
        field = self.page.antennas.numbers[row][key]
        self.do(
            lambda plan: changed(plan, f"antennas.{row}.{key}", number),
            f"antenna {row + 1}: {value:g}",
            field,
        )

    def set_steering(self, index: int) -> None:
        chosen = STEERINGS[index]
        self.do(lambda plan: changed(plan, "steering", chosen), f"steering {chosen}")


def with_antenna(plan: Plan) -> Plan:
    """One more antenna of the usual beamwidth."""
    fresh = Antenna(name=f"antenna {len(plan.antennas) + 1}", beamwidth_deg=30.0)
    return changed(plan, "antennas", (*plan.antennas, fresh))


def without_antenna(plan: Plan, row: int) -> Plan:
    """Without one of the antennas."""
    return changed(plan, "antennas", (*plan.antennas[:row], *plan.antennas[row + 1 :]))
