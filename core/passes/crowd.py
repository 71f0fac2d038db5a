"""Passes of many satellites, on all cores: a catalogue is predicted part by part and never kept whole."""

from __future__ import annotations

import math
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing import get_context
from typing import NamedTuple, TypeVar

from core.base.errors import Cancelled, NorthkeyError, PropagationError
from core.base.units import Progress, no_progress
from core.elements.model import ElementSet
from core.passes.track import Pass, predict
from core.place.site import Site

T = TypeVar("T")

#: So many satellites are a crowd: below it one process is done before others have started.
CROWD = 3000
#: Satellites predicted at a time.
_PART = 800


class _Told(NamedTuple):
    """What is told of the passes of a part: (AOS, catalogue number, words) each; and who gave no answer."""

    passes: list[tuple[float, int, object]]
    refused: tuple[PropagationError, ...]


def predict_crowd(
    sets: Sequence[ElementSet],
    site: Site,
    window: tuple[float, float],
    tell: Callable[[Pass], T],
    progress: Progress = no_progress,
    maximum_age_days: float = math.inf,
) -> tuple[list[T], tuple[PropagationError, ...]]:
    """What ``tell`` says of every pass, by AOS and catalogue number, and the refusals.

    Args:
        sets: element sets; several thousand are shared out to processes of their own.
        site: the station, its mask and minimum elevation.
        window: start and end, POSIX seconds.
        tell: a function of a module's own, since processes are handed it by name; what it gives is kept.
        progress: called with the number of satellites done after every part.
        maximum_age_days: a set whose epoch lies further from the start, either way, is refused.

    Raises:
        Cancelled: ``progress`` returned False.
        NorthkeyError: the system ended one of the processes.
        ValueRangeError: the window is empty or turned round.
    """
    parts = [sets[first : first + _PART] for first in range(0, len(sets), _PART)]
    passes: list[tuple[float, int, T]] = []
    refused: list[PropagationError] = []
    done = 0
    for part, told in zip(parts, _each_told(parts, site, window, tell, maximum_age_days), strict=True):
        passes += told.passes  # type: ignore[arg-type]
        refused += told.refused
        done += len(part)
        if not progress(done, len(sets), "searching passes"):
            raise Cancelled
    passes.sort(key=lambda told: told[:2])
    return [words for _aos, _number, words in passes], tuple(refused)


def _each_told(
    parts: Sequence[Sequence[ElementSet]],
    site: Site,
    window: tuple[float, float],
    tell: Callable[[Pass], T],
    maximum_age_days: float,
) -> Iterator[_Told]:
    """Every part's answer, in order; of a crowd by processes that are started afresh, never forked."""
    if sum(map(len, parts)) < CROWD:
        yield from (_told(part, site, window, tell, maximum_age_days) for part in parts)
        return
    with ProcessPoolExecutor(_cores(), get_context("spawn"), _leave_interrupts) as pool:
        try:
            with _interrupts_left():
                waiting = [pool.submit(_told, part, site, window, tell, maximum_age_days) for part in parts]
            for one in waiting:
                yield one.result()
        except BrokenProcessPool:
            raise NorthkeyError(
                "the system ended a process that predicted a part of the satellites; ask for fewer at once"
            ) from None
        finally:
            pool.shutdown(cancel_futures=True)


def _told(
    part: Sequence[ElementSet],
    site: Site,
    window: tuple[float, float],
    tell: Callable[[Pass], T],
    maximum_age_days: float,
) -> _Told:
    passes, refused = predict(part, site, *window, maximum_age_days=maximum_age_days)
    return _Told([(pass_.aos.utc_s, pass_.norad_id, tell(pass_)) for pass_ in passes], refused)


def _leave_interrupts() -> None:
    """Ctrl-C is for the process that was started: it ends the others."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


@contextmanager
def _interrupts_left() -> Iterator[None]:
    """What is started meanwhile leaves Ctrl-C alone from its first moment on, before it can say so itself."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _cores() -> int:
    """Cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
