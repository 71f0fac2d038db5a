"""What the sheet is wanted to be: its shape, and with or without the set-up card and what is left out."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QVBoxLayout, QWidget

from app.window.look.scheme import font
from app.window.widgets.plain import plain_label
from app.window.widgets.wheel import wheel_wants_focus
from core.sheet.wishes import SHAPE_WORDS, SHAPES, SheetWishes


class WishesChooser(QWidget):
    """The shape as a list, and two boxes.

    Signals:
        changed(): something else is wanted.
    """

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shapes = QComboBox()
        self.shapes.addItems([SHAPE_WORDS[shape] for shape in SHAPES])
        self.shapes.setAccessibleName("How the contacts are laid out")
        self.shapes.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        wheel_wants_focus(self.shapes)
        self.set_up = _box(
            "Set-&up card", "With the card for setting the station up; not before small shapes"
        )
        self.left_out = _box("Le&ft out", "With the list of passes that are not worked, and why")
        self.set_up.setChecked(True)
        name = plain_label("La&id out")
        name.setBuddy(self.shapes)
        first, second = QHBoxLayout(), QHBoxLayout()
        first.addWidget(name)
        first.addWidget(self.shapes, 1)
        second.addWidget(self.set_up)
        second.addWidget(self.left_out)
        second.addStretch(1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        rows.addLayout(first)
        rows.addLayout(second)
        self.shapes.currentIndexChanged.connect(self._changed)
        self.set_up.toggled.connect(self._changed)
        self.left_out.toggled.connect(self._changed)

    @property
    def wishes(self) -> SheetWishes:
        """What is chosen: a box that is ticked leaves it to the shape whether the card belongs to it."""
        shape = SHAPES[self.shapes.currentIndex()]
        return SheetWishes(shape, None if self.set_up.isChecked() else False, self.left_out.isChecked())

    def _changed(self) -> None:
        self.set_up.setEnabled(SHAPES[self.shapes.currentIndex()] == "cards")
        self.changed.emit()


def _box(text: str, tip: str) -> QCheckBox:
    box = QCheckBox(text)
    box.setAccessibleName(text.replace("&", ""))
    box.setToolTip(tip)
    box.setFont(font(9))
    return box
