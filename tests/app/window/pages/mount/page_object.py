"""The Mount page as its user sees it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QMessageBox

from app.window.pages.mount.page import MountPage
from app.window.widgets.fields import NumberField
from core.plan.document import Plan
from tests.app.window.plain_context import Bench


class MountBench(Bench[MountPage]):
    """Types, clicks and reads."""

    def __init__(self, qtbot, plan: Plan, with_result: bool = False) -> None:
        super().__init__(MountPage, plan, with_result)
        self.qtbot = qtbot
        qtbot.addWidget(self.page)
        self.page.resize(1146, 690)
        self.page.show()
        self.page.activateWindow()
        qtbot.waitUntil(self.page.isActiveWindow)

    def number(self, path: str) -> NumberField:
        return next(group.fields[path] for group in self.page.groups if path in group.fields)

    def reset(self, path: str) -> None:
        button = next(group.resets[path] for group in self.page.groups if path in group.resets)
        self.click(button)

    def type_into(self, field: QLineEdit, text: str) -> None:
        field.setFocus()
        field.selectAll()
        self.qtbot.keyClicks(field, text)
        self.qtbot.keyClick(field, Qt.Key.Key_Return)

    def click(self, button) -> None:
        # The ticks of radio buttons and check boxes are at their left end.
        self.qtbot.mouseClick(button, Qt.MouseButton.LeftButton, pos=button.rect().center())

    @property
    def question(self) -> QMessageBox | None:
        return next((box for box in self.page.findChildren(QMessageBox) if box.isVisible()), None)

    def answer(self, words: str) -> None:
        box = self.question
        assert box is not None
        self.click(next(button for button in box.buttons() if button.text() == words))
        self.qtbot.waitUntil(lambda: self.question is None)
