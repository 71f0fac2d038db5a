"""Where the azimuth dial jumps back: two figures that are set together, or none."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QWidget

from app.window.widgets.fields import LineField, NumberField
from app.window.widgets.plain import plain_label
from core.mount.model.station import AzimuthAxis
from core.plan.quantities import QUANTITIES


class WrapRow(QWidget):
    """A tick for a dial that jumps, and its two figures.

    Signals:
        wrap_edited(object, LineField): (at, to) in degrees, or None for a dial that runs on; the field.
    """

    wrap_edited = Signal(object, LineField)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.jumps = QCheckBox("Dial &jumps back")
        self.jumps.setAccessibleName("Dial jumps back")
        self.jumps.setToolTip("On where the dial starts again within the travel, as at 360 to 0")
        self.at, self.to = (
            NumberField(
                f"Dial wraps {end}", "degrees", 4, quantity=QUANTITIES[f"mount.azimuth.dial_wraps_{end}_deg"]
            )
            for end in ("at", "to")
        )
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self.jumps)
        self.words = [plain_label(word) for word in ("at", "to", "deg")]
        for label, field in zip(self.words[:2], (self.at, self.to), strict=True):
            field.setMaximumWidth(72)
            row.addWidget(label)
            row.addWidget(field)
        row.addWidget(self.words[2])
        row.addStretch(1)
        for widget in (self.jumps, self.at, self.to):
            widget.setProperty("part", "dial wraps")
        self._axis = AzimuthAxis()
        self.jumps.clicked.connect(self._switch)
        self.at.value_edited.connect(lambda value: self._tell((value, self._axis.dial_wraps_to_deg), self.at))
        self.to.value_edited.connect(lambda value: self._tell((self._axis.dial_wraps_at_deg, value), self.to))

    def _switch(self, on: bool) -> None:
        self.wrap_edited.emit((360.0, 0.0) if on else None, self.at)

    def _tell(self, wraps: tuple[float | None, float | None], field: NumberField) -> None:
        self.wrap_edited.emit(wraps, field)

    def refresh(self, axis: AzimuthAxis) -> None:
        """Show an axis' wrapping."""
        self._axis = axis
        wraps = axis.dial_wraps_at_deg is not None
        self.jumps.setChecked(wraps)
        self.at.show_value(axis.dial_wraps_at_deg)
        self.to.show_value(axis.dial_wraps_to_deg)
        for widget in (self.at, self.to, *self.words):
            widget.setVisible(wraps)
