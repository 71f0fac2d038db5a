"""Garbage is collected in the window's thread alone, and never in full beside a job."""

from __future__ import annotations

import gc
import threading

import pytest
from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from app.window.state.gui_collector import GuiCollector
from app.window.state.runner import Runner


@pytest.fixture
def runner(qtbot):
    made = Runner()
    yield made
    made.close()
    gc.unfreeze()


@pytest.fixture
def collector(qtbot):
    owner = QObject()
    made = GuiCollector(owner, after_ms=0)
    yield made
    made.close()
    gc.unfreeze()


class Ring(QWidget):
    """A widget that holds itself, as one with a closure of its own does: only the collector frees it."""

    died_in: list[threading.Thread]

    def __init__(self, died_in: list[threading.Thread]) -> None:
        super().__init__()
        self.died_in, self.itself = died_in, self

    def __del__(self) -> None:
        self.died_in.append(threading.current_thread())


def many_objects(_memo, progress):
    made = []
    for number in range(200_000):
        made.append([number])
        if number % 10_000 == 0:
            progress(number, 200_000, "")
    return len(made)


def catalogue(_memo, _progress):
    return [[number] for number in range(200_000)]


def test_a_widget_does_not_die_in_the_worker(runner, qtbot):
    died_in: list[threading.Thread] = []
    Ring(died_in)
    with qtbot.waitSignal(runner.finished, timeout=20_000):
        runner.request("k", "", many_objects)
    gc.collect()
    assert died_in == [threading.main_thread()]


def test_a_widget_dies_in_the_windows_thread_while_a_job_is_at_work(runner, collector, qtbot):
    died_in: list[threading.Thread] = []
    goes_on = threading.Event()

    def job(memo, progress):
        while not goes_on.is_set() and progress(0, 1, ""):
            many_objects(memo, lambda *_: True)

    runner.request("k", "", job)
    collector.set_busy(True)
    qtbot.waitUntil(collector._timer.isActive)
    Ring(died_in)
    qtbot.waitUntil(lambda: bool(died_in), timeout=20_000)
    assert died_in == [threading.main_thread()]
    with qtbot.waitSignal(runner.finished, timeout=20_000):
        goes_on.set()


def test_while_jobs_are_at_work_no_collection_is_full(collector, qtbot, monkeypatch):
    monkeypatch.setattr("app.window.state.gui_collector._LOOKS_A_FULL_ONE", 1)
    seen: list[int] = []
    gc.callbacks.append(lambda phase, info: seen.append(info["generation"]) if phase == "start" else None)
    kept = []
    try:
        for busy in (True, False):
            collector.set_busy(busy)
            del seen[:]
            kept.append([[number] for number in range(2000)])
            qtbot.waitUntil(lambda: bool(seen), timeout=20_000)
            assert set(seen) == ({1} if busy else {2})
    finally:
        gc.callbacks.pop()


@pytest.mark.parametrize(("job", "set_aside"), [(many_objects, False), (catalogue, True)])
def test_what_a_job_made_is_set_aside_where_it_is_much(runner, collector, qtbot, job, set_aside):
    qtbot.waitUntil(collector._timer.isActive)
    before = gc.get_freeze_count()
    collector.set_busy(True)
    with qtbot.waitSignal(runner.finished, timeout=20_000) as told:
        runner.request("k", "", job)
    collector.set_busy(False)
    assert told.args[0] == "k"
    assert (gc.get_freeze_count() > before + 100_000) == set_aside


def test_python_collects_by_itself_again_when_the_last_window_is_closed(qtbot):
    gc.enable()
    owner = QObject()
    one, other = GuiCollector(owner), GuiCollector(owner)
    one.close()
    one.close()
    assert not gc.isenabled()
    other.close()
    assert gc.isenabled()


def test_a_jobs_hold_on_the_window_ends_in_the_windows_thread(runner, qtbot):
    """The worker lets go of a job before the window hears that it is done."""
    died_in: list[threading.Thread] = []

    class Held:
        def __del__(self) -> None:
            died_in.append(threading.current_thread())

    def job_with(held):
        return lambda _memo, _progress: held is not None

    for _ in range(20):
        with qtbot.waitSignal(runner.finished, timeout=20_000):
            runner.request("k", "", job_with(Held()))
    runner.close()
    assert set(died_in) == {threading.main_thread()}
