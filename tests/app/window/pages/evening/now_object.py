"""The Evening page with what plans it again from now, and the hand that asks for it."""

from __future__ import annotations

from unittest.mock import patch

from PySide6.QtCore import Qt

from app.window.pages.evening.now_dialog import NowDialog
from app.window.state.evaluation import Evaluation
from app.window.state.from_now import FromNow
from core.plan.document import Plan
from core.replan import Replanned
from tests.app.window.conftest import RUNNERS_MEMO
from tests.app.window.page_object_base import Hand
from tests.app.window.pages.evening.page_object import EveningHand


class NowHand(EveningHand):
    """As the window wires it; the clock stands where a test puts it."""

    def __init__(self, qtbot, plan: Plan, now_utc_s: float) -> None:
        with patch("app.window.state.runner.Memo", lambda: RUNNERS_MEMO):
            super().__init__(qtbot, plan)
        self.hand = Hand(qtbot)
        self.context.now_utc_s = now_utc_s
        self.told: list[tuple[str, str]] = []
        self.evaluation = Evaluation(self.context)
        self.evaluation.failed.connect(lambda title, sentence, _details: self.told.append((title, sentence)))
        self.from_now = FromNow(self.context)
        self.from_now.updated.connect(self.page.refresh)
        self.context.document.plan_changed.connect(lambda _plan: self.from_now.follow())

    def ask(self) -> NowDialog:
        """Open the dialog."""
        button = self.page.now_button if self.context.rest is None else self.page.now_band.ask_button
        self.hand.click(button)
        dialog = self.dialog
        assert dialog is not None
        self.qtbot.waitUntil(lambda: dialog.isVisible() and dialog.azimuth.hasFocus())
        return dialog

    @property
    def dialog(self) -> NowDialog | None:
        """The one that is open."""
        found = self.page.findChildren(NowDialog)
        return next((dialog for dialog in found if dialog.isVisible()), None)

    def type_into(self, field, text: str) -> None:
        """Type and go on by Tab."""
        self.hand.type_into(field, text, Qt.Key.Key_Tab)

    def planned(self) -> Replanned:
        """The rest of the evening, once it is there for the present plan."""
        self.qtbot.waitUntil(lambda: self.context.rest is not None and self.context.evening_ready)
        assert self.context.rest is not None
        return self.context.rest.again

    def plan_from(self, dial: str = "100") -> Replanned:
        """Ask with an azimuth dial alone, by keyboard."""
        dialog = self.ask()
        self.hand.type_into(dialog.azimuth, dial)
        return self.planned()

    @property
    def contacts(self) -> list[str]:
        """What is worked, as the page has it."""
        return [contact.check.pass_.satellite for contact in self.state.order.contacts]
