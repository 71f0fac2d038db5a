"""A pytest plugin for a run with a fault in it: files in the order given, a time for each test and for all,
and no more memory than a sound run could want.

Nothing is made small after a failure, since only the failure counts. A test that hangs ends the process by
SIGALRM; a run that has used up its time stops between two tests.
"""

from __future__ import annotations

import os
import signal
import time
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import Phase, settings

TEST_S = int(os.environ.get("MUTANTS_TEST_S", "150"))
RUN_S = float(os.environ.get("MUTANTS_RUN_S", "150"))
#: A sound run of the tests takes less than a third of it.
MEMORY_BYTES = 6 * 2**30
_BEGUN = time.monotonic()


@pytest.hookimpl(trylast=True)
def pytest_sessionstart(session: pytest.Session) -> None:
    """Failures are told as they are found."""
    settings.register_profile("mutants", parent=settings(), phases=(Phase.explicit, Phase.generate))
    settings.load_profile("mutants")
    _hold_memory()


def _hold_memory() -> None:
    """A fault may make a list without end: it is refused memory, which fails its test, not the machine."""
    with suppress(ImportError):  # where there is none of it
        import resource

        _soft, hard = resource.getrlimit(resource.RLIMIT_AS)
        most = MEMORY_BYTES if hard == resource.RLIM_INFINITY else min(MEMORY_BYTES, hard)
        resource.setrlimit(resource.RLIMIT_AS, (most, hard))


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """The nearest tests first."""
    places = {Path(word).resolve(): place for place, word in enumerate(config.args)}
    items.sort(key=lambda item: places.get(item.path.resolve(), len(places)))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item, nextitem: pytest.Item | None):
    """No test runs for ever, and no run for longer than it may."""
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    signal.alarm(TEST_S)
    try:
        return (yield)
    finally:
        signal.alarm(0)
        if time.monotonic() - _BEGUN > RUN_S:
            item.session.shouldstop = "the run's time is used up"
