"""The first plan worked out by a second process while this one makes the window.

Evaluation and window are both Python for the most part, so in one process they take turns and the first
picture waits for the sum of the two. The second process is forked before Qt is there: by then it has half of
what it needs in memory, and no threads. It fetches the rest, is given a plan, and hands over its memo;
evaluating the same plan with that memo is a matter of looking things up, and gives the same answer to the
bit. Wherever nothing comes of this the memo stays as it was, and the evaluation does all of the work itself.
"""

from __future__ import annotations

import os
import pickle
import select
import signal
import sys
import threading
from contextlib import suppress
from importlib import import_module
from typing import NoReturn

from app.kept_code import KeptCode
from core.base.errors import Cancelled
from core.base.memo import Memo
from core.base.units import Progress
from core.evaluate import evaluate
from core.plan.document import Plan

#: More satellites than this and the memo is so large that taking it over would hold up the window.
_MOST_SATELLITES = 200
#: How often it is asked whether the answer is still wanted.
_ASKED_EVERY_S = 0.05
#: Bytes kept on the way, so that the second process seldom waits for this one.
_ON_THE_WAY = 1 << 20
_WHAT = "working out passes and ways"
#: Half of all bytes, and asked for by no result before the first edit: sooner made then than handed over.
_LEFT_OUT = "joined"
#: What the stages of an evaluation import when they are run, imported while the plan is waited for.
_STAGES = (
    "core.passes.search",
    "core.passes.track",
    "core.mount.check.reasons",
    "core.mount.evening.evening",
    "sgp4.api",
    "skyfield.timelib",
    "core.plan.picks",
    "numpy.polynomial",
    "pygeomag.geomag",
    "tzfpy",
)


class Ahead:
    """The second process. Used from one thread at a time."""

    def __init__(self, process: int, reader: int, writer: int) -> None:
        self._process, self._reader, self._writer = process, reader, writer
        self._over = False

    def begin(self, plan: Plan) -> None:
        """Give it the plan; one that would take long to hand over (a catalogue) ends it instead."""
        if len(plan.satellites) > _MOST_SATELLITES:
            self.end()
            return
        with suppress(OSError), open(self._writer, "wb", closefd=False) as out:
            pickle.dump(plan, out, pickle.HIGHEST_PROTOCOL)
        self._close_writer()

    def _close_writer(self) -> None:
        if self._writer >= 0:
            os.close(self._writer)
            self._writer = -1

    def fill(self, memo: Memo, progress: Progress) -> None:
        """Wait for the other memo and take it over; nothing the second time, and nothing where it failed.

        Raises:
            Cancelled: ``progress`` returned False; the second process is ended.
        """
        if self._over:
            return
        try:
            written = self._written(progress)
        finally:
            self.end()
        with suppress(pickle.UnpicklingError, EOFError):  # it was ended, or failed, before it had written all
            memo.take_over(pickle.loads(written))

    def _written(self, progress: Progress) -> bytes:
        parts: list[bytes] = []
        while True:
            ready, _, _ = select.select([self._reader], [], [], _ASKED_EVERY_S)
            if not progress(0, 0, _WHAT):
                raise Cancelled
            if ready:
                part = os.read(self._reader, _ON_THE_WAY)
                if not part:
                    return b"".join(parts)
                parts.append(part)

    def end(self) -> None:
        """End the second process, if there still is one; to be called before this one ends."""
        if self._over:
            return
        self._over = True
        self._close_writer()
        os.close(self._reader)
        with suppress(OSError):
            os.kill(self._process, signal.SIGKILL)
        with suppress(OSError):
            os.waitpid(self._process, 0)


def fork_ahead(kept: KeptCode) -> Ahead | None:
    """A second process that waits for a plan; None where that would gain nothing or cannot be done safely.

    That is with one core, with other threads, and on other systems than Linux.

    Args:
        kept: the second process adds to it what it compiles.
    """
    if sys.platform != "linux" or threading.active_count() > 1 or len(os.sched_getaffinity(0)) == 1:
        return None
    try:
        plans, give = os.pipe()
        memos, answer = os.pipe()
        process = os.fork()
    except OSError:
        return None
    if process == 0:
        os.close(give)
        os.close(memos)
        _work(plans, answer, kept)
    for wide in (give, memos):
        _widen(wide)
    os.close(plans)
    os.close(answer)
    return Ahead(process, memos, give)


def _widen(pipe: int) -> None:
    import fcntl

    with suppress(OSError):
        fcntl.fcntl(pipe, fcntl.F_SETPIPE_SZ, _ON_THE_WAY)


def _work(plans: int, answer: int, kept: KeptCode) -> NoReturn:
    """In the second process. It leaves without clearing up: everything it has is the other one's."""
    with suppress(BaseException):
        for stage in _STAGES:
            import_module(stage)
        with open(plans, "rb") as given:
            plan = pickle.load(given)
        memo = Memo()
        for pass_ in evaluate(plan, memo).passes:
            assert pass_.utc_s.size  # sampled when first asked for: here, where nobody waits for it
        memo.forget(_LEFT_OUT)
        kept.write()  # it is ended as soon as it has answered
        with open(answer, "wb") as out:
            pickle.dump(memo, out, pickle.HIGHEST_PROTOCOL)
    os._exit(0)
