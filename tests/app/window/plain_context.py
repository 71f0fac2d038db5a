"""A page on its own: its document, a runner, and results worked out at once after every edit."""

from __future__ import annotations

from typing import Generic, TypeVar

from app.window.page import Page
from app.window.state.context import Context
from app.window.state.document import Document
from app.window.state.runner import Runner
from core.plan.document import Plan
from tests.lasting import result_of

P = TypeVar("P", bound=Page)


class Bench(Generic[P]):
    """What the main window does for a page, without the window."""

    def __init__(self, kind: type[P], plan: Plan, with_result: bool = True) -> None:
        self.document = Document(plan)
        self.runner = Runner()
        self.context = Context(self.document, self.runner)
        self.with_result = with_result
        self.page = kind(self.context)
        self.problems: list[tuple[str, str]] = []
        self.page.failed.connect(lambda title, sentence, _details: self.problems.append((title, sentence)))
        self.document.plan_changed.connect(self._work_out)
        self._work_out(plan)

    def _work_out(self, plan: Plan) -> None:
        if self.with_result:
            self.context.result = result_of(plan)
            self.context.result_plan = plan
        self.page.refresh()

    @property
    def plan(self) -> Plan:
        return self.document.plan

    def close(self) -> None:
        self.runner.close()
        self.page.close()
