"""The list of keys: what the menus have, and what pages and fields take themselves."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFrame,
    QGridLayout,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.window.frame.actions import ACTS, PAGE_KEYS
from app.window.widgets.labels import heading, label, second


def key_lines() -> list[tuple[str, str, str]]:
    """Where a key holds, the key, and what it does; the menus first."""
    menus = [
        (act.menu.replace("&", ""), " or ".join(filter(None, (act.keys, act.other_keys))), _plain(act.words))
        for act in ACTS
        if act.keys
    ]
    return [*menus, *PAGE_KEYS]


def _plain(words: str) -> str:
    return words.replace("&", "").removesuffix("...")


class KeysDialog(QDialog):
    """Shows the list; it goes with its window."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Keys")
        self.resize(620, 620)
        inside = QWidget()
        inside.setObjectName("page")
        inside.setLayout(self._grid())
        area = QScrollArea()
        area.setAccessibleName("the list of keys")
        area.setWidget(inside)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        for button in buttons.buttons():
            button.setAccessibleName("Close")
            button.setToolTip("Close the list (Esc)")
        column = QVBoxLayout(self)
        column.addWidget(area, 1)
        column.addWidget(buttons)

    def _grid(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(22)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(1, 1)
        before = ""
        for where, keys, what in key_lines():
            if where != before:
                before = where
                top = heading(where, 11)
                top.setContentsMargins(0, 10, 0, 0)
                grid.addWidget(top, grid.rowCount(), 0, 1, 2)
            row = grid.rowCount()
            shown = label(10, bold=True)
            shown.setText(keys)
            grid.addWidget(shown, row, 0)
            grid.addWidget(second(what, 10), row, 1)
        grid.setRowStretch(grid.rowCount(), 1)
        return grid
