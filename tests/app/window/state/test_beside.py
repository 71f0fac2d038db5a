"""Jobs beside the window: done in turn, handed on in the window's thread, and no thread without a job."""

from __future__ import annotations

import threading

from app.window.state.beside import Beside


def test_jobs_are_done_in_turn_and_handed_on(qtbot):
    beside, threads = Beside(), set()
    handed: list[int] = []

    def job(number: int) -> int:
        threads.add(threading.current_thread())
        return number

    for number in range(5):
        beside.ask(lambda number=number: job(number), handed.append)
    qtbot.waitUntil(lambda: len(handed) == 5)
    assert handed == [0, 1, 2, 3, 4]
    assert len(threads) == 1
    assert threading.current_thread() not in threads
    assert beside.wait()
    beside.close()
    assert not threads.pop().is_alive()


def test_without_a_job_there_is_no_thread(qtbot):
    before = threading.active_count()
    beside, handed = Beside(), []
    beside.close()
    assert threading.active_count() == before
    beside.ask(lambda: 7, handed.append)
    beside._thread.join()  # asked after the end: nothing is done
    assert (handed, beside.open_jobs) == ([], 1)
