"""The runner: one worker, the newest request counts, late results are dropped, cancel and end."""

from __future__ import annotations

import gc
import threading

import pytest

from app.window.state.runner import Runner
from core.base.errors import PlanError, ValueRangeError


@pytest.fixture
def runner(qtbot):
    made = Runner()
    yield made
    made.close()


class Gate:
    """A job that says it runs and goes on when told to, asking its progress callback all the while."""

    def __init__(self, answer: object) -> None:
        self.answer = answer
        self.running, self.open = threading.Event(), threading.Event()
        self.asked_to_end = False

    def __call__(self, _memo, progress):
        self.running.set()
        assert self.open.wait(20)
        self.asked_to_end = not progress(1, 2, "half way")
        return self.answer


def gathered(runner):
    answers: list[tuple[str, object]] = []
    runner.finished.connect(lambda kind, answer: answers.append((kind, answer)))
    return answers


def test_an_answer_comes_back_in_the_main_thread(runner, qtbot):
    threads = []
    runner.finished.connect(lambda *_: threads.append(threading.current_thread()))
    with qtbot.waitSignal(runner.finished) as told:
        runner.request("sum", "adding", lambda _memo, _progress: (1 + 1, threading.current_thread()))
    kind, (answer, worker) = told.args
    assert (kind, answer) == ("sum", 2)
    assert threads == [threading.main_thread()]
    assert worker is not threading.main_thread()


def test_the_memo_is_the_same_for_all_jobs(runner, qtbot):
    for _ in range(2):
        with qtbot.waitSignal(runner.finished) as told:
            runner.request("m", "", lambda memo, _p: (memo, memo.call("stage", lambda _input: object(), 1)))
        if _ == 0:
            first = told.args[1]
    assert told.args[1][0] is first[0]
    assert told.args[1][1] is first[1]


def test_the_newest_request_of_a_kind_counts(runner, qtbot):
    answers = gathered(runner)
    old, new = Gate("old"), Gate("new")
    runner.request("k", "", old)
    assert old.running.wait(20)
    runner.request("k", "", new)
    old.open.set()
    new.open.set()
    qtbot.waitUntil(lambda: answers == [("k", "new")])
    assert old.asked_to_end
    assert not new.asked_to_end


def test_requests_that_never_started_are_skipped(runner, qtbot):
    answers = gathered(runner)
    first = Gate("first")
    runner.request("other", "", first)
    assert first.running.wait(20)
    ran = []
    for number in range(5):
        runner.request("k", "", lambda _m, _p, number=number: ran.append(number) or number)
    first.open.set()
    qtbot.waitUntil(lambda: ("k", 4) in answers)
    assert ran == [4]
    assert answers == [("other", "first"), ("k", 4)]


@pytest.mark.parametrize(
    "error", [ValueRangeError("x", 1, "2"), ValueError("odd"), PlanError("f", "", "bad")]
)
def test_an_error_is_told_with_its_kind(runner, qtbot, error):
    def job(_memo, _progress):
        raise error

    with qtbot.waitSignal(runner.failed) as told:
        runner.request("k", "", job)
    assert told.args == ["k", error]
    with qtbot.waitSignal(runner.finished):  # and the worker lives on
        runner.request("k", "", lambda *_: 1)


def test_cancel_drops_what_runs_and_what_waits(runner, qtbot):
    answers = gathered(runner)
    running = Gate("running")
    runner.request("k", "working", running)
    runner.request("other", "waiting", lambda *_: "waiting")
    assert running.running.wait(20)
    assert runner.busy_words == "working"
    runner.cancel()
    running.open.set()
    qtbot.waitUntil(lambda: runner.busy_words == "")
    assert running.asked_to_end
    assert answers == []
    with qtbot.waitSignal(runner.finished) as told:
        runner.request("k", "", lambda *_: "again")
    assert told.args == ["k", "again"]


def test_progress_is_told_of_the_newest_only(runner, qtbot):
    told: list[tuple[str, int, int]] = []
    runner.progressed.connect(lambda *a: told.append(a))
    with qtbot.waitSignal(runner.finished):
        runner.request("k", "", lambda _memo, progress: progress(3, 7, "looking"))
    assert told == [("looking", 3, 7)]


def test_a_patient_job_lets_later_ones_go_first_and_goes_on_where_it_was(runner, qtbot):
    answers = gathered(runner)
    gate = Gate("patient")
    runner.request("slow", "weighing", gate, patient=True)
    assert gate.running.wait(20)
    assert not runner.waited_for
    runner.request("quick", "laying out", lambda memo, _p: memo.call("stage", lambda _one: "quick", 1))
    assert runner.busy_words == "laying out"
    assert runner.waited_for
    gate.open.set()
    qtbot.waitUntil(lambda: len(answers) == 2)
    assert answers == [("quick", "quick"), ("slow", "patient")]
    assert not gate.asked_to_end


def test_a_patient_job_that_is_dropped_ends_before_what_comes_after_it(runner, qtbot):
    answers = gathered(runner)
    gate = Gate("patient")
    runner.request("slow", "", gate, patient=True)
    assert gate.running.wait(20)
    runner.drop("slow")
    runner.request("quick", "", lambda *_: gate.asked_to_end)
    gate.open.set()
    qtbot.waitUntil(lambda: len(answers) == 1)
    assert answers == [("quick", True)]


def test_closing_ends_a_patient_job_with_others_waiting(qtbot):
    runner = Runner()
    answers = gathered(runner)
    gate = Gate("late")
    runner.request("slow", "", gate, patient=True)
    assert gate.running.wait(20)
    runner.request("quick", "", lambda *_: "quick")
    gate.open.set()
    runner.close()
    qtbot.wait(0)
    assert answers in ([], [("quick", "quick")])


def test_busy_words_come_and_go(runner, qtbot):
    words: list[str] = []
    runner.busy_changed.connect(words.append)
    with qtbot.waitSignal(runner.finished):
        runner.request("k", "adding", lambda *_: 1)
    qtbot.waitUntil(lambda: words[-1] == "")
    assert words[0] == "adding"


def test_closing_ends_a_job_that_runs(qtbot):
    runner = Runner()
    answers = gathered(runner)
    gate = Gate("late")
    runner.request("k", "", gate)
    assert gate.running.wait(20)
    gate.open.set()
    runner.close()
    qtbot.wait(0)
    assert gate.asked_to_end or answers == []
    assert answers == []


def test_no_full_collection_runs_in_a_job(runner, qtbot):
    """A full collection holds Python's lock, and with it the window, for as long as there are objects."""
    full: list[str] = []

    def watch(phase: str, info: dict[str, int]) -> None:
        if phase == "start" and info["generation"] == 2:
            full.append(threading.current_thread().name)

    def job(_memo, _progress):
        return [{"number": number} for number in range(300_000)]

    gc.callbacks.append(watch)
    try:
        with qtbot.waitSignal(runner.finished, timeout=20_000):
            runner.request("k", "", job)
    finally:
        gc.callbacks.remove(watch)
        gc.unfreeze()
    assert full == []
    assert gc.get_threshold()[2] < 1000
