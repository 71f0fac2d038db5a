"""What keeps Python's own workings out of the way of the window.

A full collection walks every object there is with Python's lock held: with a catalogue of satellites and
its passes in memory that froze the window for 0.2 to 0.8 s at a time (measured). Results are trees of frozen
values, which die by their reference counts alone, so while a job makes them no full collection runs, and
afterwards what there is, is set aside from the collector for good.

And a thread that wants Python's lock waits for the one that has it for 5 ms as a rule. A picture takes the
lock many times, so beside a busy job painting took ten times as long; with half a millisecond it does not.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module

_NEVER = 1_000_000_000
#: How long a job keeps Python's lock from the window.
_SWITCH_S = 0.0005


def defer_collection() -> None:
    """Before Qt is imported: no collections until the window stands, and the computation's modules first.

    Nothing of what a start makes is garbage. And once the Qt binding is there, it looks into every module
    that is imported afterwards: numpy alone then takes 50 ms more (measured).
    """
    gc.disable()
    import_module("core.evaluate")


def resume_collection() -> None:
    """Collect again; what there is by now stays as long as the program runs."""
    gc.freeze()
    gc.enable()


@contextmanager
def beside_the_window() -> Iterator[None]:
    """What runs in here, in a thread of its own, leaves the window its turns.

    Young garbage is collected as ever; full collections wait, and then skip what was made meanwhile.
    """
    young, middle, old = gc.get_threshold()
    interval_s = sys.getswitchinterval()
    gc.set_threshold(young, middle, _NEVER)
    sys.setswitchinterval(_SWITCH_S)
    try:
        yield
    finally:
        gc.freeze()
        gc.set_threshold(young, middle, old)
        sys.setswitchinterval(interval_s)
