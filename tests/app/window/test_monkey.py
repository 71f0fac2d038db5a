"""Whatever a hand does, in whatever order: no exception that nobody expected, and undo leads back."""

from __future__ import annotations

import pytest
from PySide6.QtPrintSupport import QPrintDialog
from PySide6.QtWidgets import QDialog, QFileDialog

from app.window.frame.main_window import MainWindow
from core.plan.document import Plan
from tests.app.window.monkey import Monkey
from tests.plans import full_plan_data, plan_of, short_plan_data

ROUNDS, ACTS_A_ROUND = 100, 40
SEEDS = range(5)


@pytest.fixture(autouse=True)
def no_files(monkeypatch):
    """A monkey is shown no dialogs of files, nor a printer's."""
    really_open = QDialog.open

    def opens(dialog: QDialog) -> None:
        if not isinstance(dialog, QFileDialog | QPrintDialog):
            really_open(dialog)

    monkeypatch.setattr(QFileDialog, "open", opens)
    monkeypatch.setattr(QDialog, "open", opens)


def plans() -> list[Plan]:
    return [
        plan_of(short_plan_data()),
        plan_of(full_plan_data()),
        plan_of(short_plan_data(), satellites=[]),
        plan_of(short_plan_data(), mount__azimuth__travel_deg=200.0, mount__elevation__maximum_deg=80.0),
    ]


def play(window: MainWindow, qtbot, seed: int, rounds: int) -> None:
    monkey = Monkey(window, seed)
    for number in range(rounds):
        if number % 10 == 0:
            choice = plans()
            window.document.start(monkey.chance.choice(choice))
        for _ in range(ACTS_A_ROUND):
            with qtbot.captureExceptions() as caught:
                monkey.act()
            assert not caught, (seed, number, monkey.did[-25:], caught)
            wrong = [report for report in window.errors.recent if "Traceback" in report.details]
            assert not wrong, (seed, number, monkey.did[-25:], wrong)
        if window.errors.dialog is not None:
            window.errors.dialog.close()
    monkey.stop()
    qtbot.waitUntil(lambda: not window.runner.waited_for, timeout=120_000)


def test_a_monkey_meets_no_unexpected_exception(window_of, qtbot):
    window = window_of(plan_of(short_plan_data()))
    play(window, qtbot, seed=0, rounds=5)


@pytest.mark.long
@pytest.mark.parametrize("seed", SEEDS)
def test_many_monkeys_meet_no_unexpected_exception(window_of, qtbot, seed):
    window = window_of(plan_of(short_plan_data()))
    play(window, qtbot, seed, ROUNDS)
