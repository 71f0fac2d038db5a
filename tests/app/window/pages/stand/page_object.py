"""The Stand page as its user sees it."""

from __future__ import annotations

from PySide6.QtWidgets import QMessageBox

from app.window.pages.stand.page import StandPage
from core.plan.document import Plan
from core.studies import orient
from tests.app.window.page_object_base import Hand
from tests.app.window.plain_context import Bench
from tests.lasting import MEMO


class StandBench(Bench[StandPage], Hand):
    """Types, ticks, clicks and reads."""

    def __init__(self, qtbot, plan: Plan, with_result: bool = False) -> None:
        Hand.__init__(self, qtbot)
        super().__init__(StandPage, plan, with_result)
        qtbot.addWidget(self.page)
        self.page.resize(1146, 690)
        self.page.show()
        self.page.activateWindow()
        qtbot.waitUntil(self.page.isActiveWindow)

    def _work_out(self, plan: Plan) -> None:
        super()._work_out(plan)
        if self.with_result:
            assert self.context.result is not None
            self.context.study = orient(plan, self.context.result, MEMO)
            self.context.study_plan = plan

    def number(self, path: str):
        return next(group.fields[path] for group in self.page.form.groups if path in group.fields)

    @property
    def told(self) -> str:
        return self.page.told.text

    def rank(self) -> None:
        """Open the wishes and wait for the list."""
        self.page.leaves.open("All wishes together")
        self.qtbot.waitUntil(lambda: self.page.wishes.now.wished is not None, timeout=30_000)

    @property
    def question(self) -> QMessageBox | None:
        return self.page.wishes.question.box

    def answer(self, words: str) -> None:
        box = self.question
        assert box is not None
        next(button for button in box.buttons() if button.text() == words).click()
        self.qtbot.waitUntil(lambda: self.question is None)
