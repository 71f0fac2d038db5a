"""A page at hand, with a worker of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from app.window.state.runner import Runner
from core.base.memo import Memo
from core.plan.document import Plan
from tests.app.window.pages.setup.page_object import SetupHand
from tests.plans import plan_of, short_plan_data

#: What the pages' worker remembers from test to test.
_MEMO = Memo(kept=64)

Make = Callable[..., SetupHand]


@pytest.fixture
def runner(qapp: object, monkeypatch) -> Iterator[Runner]:
    with monkeypatch.context() as patched:
        patched.setattr("app.window.state.runner.Memo", lambda: _MEMO)
        made = Runner()
    yield made
    made.close()


@pytest.fixture
def make(qtbot, runner: Runner) -> Make:
    """Makes the page of a plan and waits for its first answer, unless asked not to."""

    def made(plan: Plan | None = None, wait: bool = True, **changes: object) -> SetupHand:
        hand = SetupHand(qtbot, runner, plan or plan_of(short_plan_data(), **changes))
        qtbot.addWidget(hand.page)
        if wait:
            hand.wait()
        return hand

    return made
