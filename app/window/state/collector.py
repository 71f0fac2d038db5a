"""What keeps Python's own workings out of the way of the window before and beside it.

A thread that wants Python's lock waits for the one that has it for 5 ms as a rule. A picture takes the
lock many times, so beside a busy job painting took ten times as long; with half a millisecond it does not.
What collects garbage while there is a window is in ``gui_collector``; this module must not import Qt.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module

#: How long a job keeps Python's lock from the window.
_SWITCH_S = 0.0005


def defer_collection() -> None:
    """Before Qt is imported: no collections until the window stands, and the computation's modules first.

    Nothing of what a start makes is garbage. And once the Qt binding is there, it looks into every module
    that is imported afterwards: numpy alone then takes 50 ms more (measured).
    """
    gc.disable()
    import_module("core.evaluate")


@contextmanager
def beside_the_window() -> Iterator[None]:
    """What runs in here, in a thread of its own, leaves the window its turns."""
    interval_s = sys.getswitchinterval()
    sys.setswitchinterval(_SWITCH_S)
    try:
        yield
    finally:
        sys.setswitchinterval(interval_s)
