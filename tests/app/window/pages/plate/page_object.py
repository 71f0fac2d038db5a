"""The Plate page as its user sees it."""

from __future__ import annotations

from PySide6.QtWidgets import QMessageBox

from app.window.pages.plate.page import PlatePage
from core.plan.document import Plan
from tests.app.window.page_object_base import Hand
from tests.app.window.plain_context import Bench


class PlateBench(Bench[PlatePage], Hand):
    """Types, chooses, clicks and reads."""

    def __init__(self, qtbot, plan: Plan) -> None:
        Hand.__init__(self, qtbot)
        super().__init__(PlatePage, plan, with_result=False)
        qtbot.addWidget(self.page)
        self.page.resize(1146, 690)
        self.page.show()
        self.page.activateWindow()
        qtbot.waitUntil(self.page.isActiveWindow)

    def number(self, path: str):
        return next(group.fields[path] for group in self.page.form.groups.values() if path in group.fields)

    def choose(self, path: str, words: str) -> None:
        box = self.page.form.boxes[path]
        place = box.findText(words)
        assert place >= 0, words
        box.setCurrentIndex(place)
        box.activated.emit(place)

    def shown(self, path: str) -> str:
        return self.page.form.boxes[path].currentText()

    @property
    def question(self) -> QMessageBox | None:
        return self.page.files.question

    def answer(self, words: str) -> None:
        box = self.question
        assert box is not None
        next(button for button in box.buttons() if button.accessibleName() == words).click()
        self.qtbot.waitUntil(lambda: self.question is None)
