"""The Mount page's edits: each one step of undo; they ask before voiding a correction and tell refusals."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMessageBox, QWidget

from app.window.state.document import Document
from app.window.widgets.fields import LineField
from app.window.widgets.plain import question_box
from app.window.widgets.typed.editing import PlanEditor
from core.base.edits import changed
from core.mount.model.chain import correction_state
from core.mount.model.station import Antenna
from core.plan.document import Plan
from core.plan.mount_edits import AxisName, with_dial_true, with_renamed_hole, with_wrap

STEERINGS = ("led", "chased", "held")


class MountEditor(PlanEditor):
    """Edits of the mount, asking first where one voids tonight's correction.

    Signals:
        asked(): a question was answered, either way: what is shown may be of an edit that did not happen.
    """

    asked = Signal()

    def __init__(self, document: Document, window: QWidget) -> None:
        super().__init__(document, window)
        self._window = window

    def take(self, new: Plan, label: str) -> None:
        """As `PlanEditor`; the question comes first where the correction would be void."""
        held = correction_state(self.document.plan.mount) == "holds"
        if held and correction_state(new.mount) == "void":
            self._ask_before_void(lambda: self.document.edit(new, label))
        else:
            self.document.edit(new, label)

    def _ask_before_void(self, go_on: Callable[[], None]) -> None:
        box = question_box(
            self._window,
            "Sighting correction",
            "This voids tonight's correction: it was fitted for the seat as it is now.",
            "It is kept and marked, and counts again when the seat is the same again.",
        )
        go = box.addButton("Change the seat", QMessageBox.ButtonRole.AcceptRole)
        box.addButton("Leave it", QMessageBox.ButtonRole.RejectRole)
        go.clicked.connect(go_on)
        box.finished.connect(lambda _code: self.asked.emit())
        box.open()

    def reset_holes(self) -> None:
        def edit(plan: Plan) -> Plan:
            kept = {name: getattr(plan.mount, name) for name in plan.mount.model_fields_set}
            kept.pop("index_holes", None)
            kept.pop("index_hole", None)
            return changed(plan, "mount", kept)

        self.do(edit, "holes left to their default")

    def set_wrap(self, wraps: tuple[float, float] | None, field: LineField) -> None:
        label = "dial runs on" if wraps is None else f"dial jumps back at {wraps[0]:g} to {wraps[1]:g}"
        self.do(lambda plan: with_wrap(plan, wraps), label, field)

    def set_true(self, bearing_deg: float, field: LineField) -> None:
        self.do(lambda plan: with_dial_true(plan, bearing_deg), f"dial true at {bearing_deg:g} deg", field)

    def set_reading(self, axis: AxisName, row: int, key: str, value: float, field: LineField) -> None:
        path = f"mount.{axis}.calibration.{row}.{key}"
        self.set_number(path, value, field, f"{axis} dial, reading {row + 1}:")

    def set_both_at_once(self, on: bool) -> None:
        label = "both axes at once" if on else "one axis after the other"
        self.do(lambda plan: changed(plan, "mount.drive.both_axes_at_once", on), label)

    def rename_hole(self, row: int, name: str, field: LineField) -> None:
        self.do(lambda plan: with_renamed_hole(plan, row, name), f"hole named {name}", field)

    def move_hole(self, row: int, offset_deg: float, field: LineField) -> None:
        path = f"mount.index_holes.{row}.offset_deg"
        label = f"hole {self.document.plan.mount.index_holes[row].name} at {offset_deg:g} deg"
        self.do(lambda plan: changed(plan, path, offset_deg), label, field)

    def use_hole(self, row: int) -> None:
        name = self.document.plan.mount.index_holes[row].name
        self.do(lambda plan: changed(plan, "mount.index_hole", name), f"hole {name} in use")

    def rename_antenna(self, row: int, name: str, field: LineField) -> None:
        self.do(lambda plan: changed(plan, f"antennas.{row}.name", name), f"antenna {name}", field)

    def set_antenna(self, row: int, key: str, value: float, field: LineField) -> None:
        number = value * 1e6 if key == "frequency_hz" else value
        path = f"antennas.{row}.{key}"
        self.do(lambda plan: changed(plan, path, number), f"antenna {row + 1}: {value:g}", field)

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
