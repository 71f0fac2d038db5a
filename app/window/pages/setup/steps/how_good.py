"""How good is the pointing then? The budget before and after the sightings."""

from __future__ import annotations

from app.window.pages.setup.big import Answer
from app.window.pages.setup.step import Desk, Step
from app.window.pages.setup.views.residuals import ResidualView


class HowGoodStep(Step):
    """The pointing budget."""

    title = "How good"
    question = "How good is the pointing?"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, ResidualView("the budget"))
        self.answer = Answer("the pointing")
        self.add(self.answer)

    def show_now(self) -> None:
        self.answer.tell("", "")
