"""Calibration tables of the dials, and a dial that is set to read true at a sighting."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from app.window.look.scheme import Scheme
from app.window.widgets.fields import LineField, NumberField
from app.window.widgets.labels import second
from app.window.widgets.plain import plain_label
from app.window.widgets.typed.rows import RowTable
from core.base.edits import is_given
from core.plan.document import Plan
from core.plan.mount_edits import AxisName
from core.plan.quantities import QUANTITIES, SIGHTED

_PARTS: dict[AxisName, str] = {"azimuth": "dial at stop: table", "elevation": "elevation dial: table"}


class CalibrationTable(RowTable):
    """The pairs of one dial, none where the dial is straight.

    Signals:
        typed(int row, str key, float, LineField): another number, and the field it was typed into.
    """

    typed = Signal(int, str, float, LineField)

    _KEYS = (("axis_deg", "Axis"), ("dial_deg", "Dial"))

    def __init__(self, axis: AxisName, parent: QWidget | None = None) -> None:
        heads = ("axis, deg", "dial reads, deg")
        super().__init__(f"{axis.capitalize()} dial as measured", heads, "a reading", parent)
        self.axis = axis
        self.add.setAccessibleName(f"Add a reading of the {axis} dial")
        self.fields: list[dict[str, NumberField]] = []

    def fill(self, grid: QGridLayout, row: int) -> None:
        cells = {}
        for place, (key, words) in enumerate(self._KEYS):
            name = f"{words} in reading {row + 1} of the {self.axis} dial"
            quantity = QUANTITIES[f"mount.{self.axis}.calibration.{key}"]
            field = NumberField(name, "degrees", 4, quantity=quantity)
            field.setFixedWidth(100)
            field.setProperty("part", _PARTS[self.axis])
            field.value_edited.connect(
                lambda value, key=key, field=field: self.typed.emit(row, key, value, field)
            )
            grid.addWidget(field, row + 1, place, Qt.AlignmentFlag.AlignLeft)
            cells[key] = field
        self.fields.append(cells)

    def refresh(self, plan: Plan, scheme: Scheme) -> None:
        """Show the plan's table; without one there are no heads either."""
        axis = plan.mount.azimuth if self.axis == "azimuth" else plan.mount.elevation
        points = axis.calibration
        if len(points) != len(self.fields):
            self.fields = []
            self.rebuild(len(points))
            for row, remover in enumerate(self.removers):
                remover.setAccessibleName(f"Remove reading {row + 1} of the {self.axis} dial")
        self.body.setVisible(bool(points))
        for point, cells in zip(points, self.fields, strict=True):
            cells["axis_deg"].show_value(point.axis_deg)
            cells["dial_deg"].show_value(point.dial_deg)
        given = is_given(plan, f"mount.{self.axis}.calibration")
        self.reset.show_state(given, "a straight dial", scheme, not points)


class ReadsTrueRow(QWidget):
    """A true bearing typed here sets the dial to read it; the field is empty again afterwards.

    Signals:
        true_typed(float, LineField): the bearing sighted, and the field to be marked where it is refused.
    """

    true_typed = Signal(float, LineField)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field = NumberField("Set the dial to read true at", "degrees", 4, quantity=SIGHTED)
        self.field.setMaximumWidth(96)
        self.field.setProperty("part", "dial at stop: true")
        label = plain_label("&Make it read true at")
        label.setMinimumWidth(148)
        label.setBuddy(self.field)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(10)
        row.addWidget(label)
        row.addWidget(self.field)
        row.addWidget(second("deg true, as seated now; the dial follows", wraps=False), 1)
        self.field.value_edited.connect(self._tell)

    def _tell(self, bearing_deg: float) -> None:
        self.true_typed.emit(bearing_deg, self.field)
        if not self.field.property("wrong"):
            self.field.show_value(None)
