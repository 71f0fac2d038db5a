"""Going through a list while telling how far it is, and stopping where an end is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeVar

from core.base.errors import Cancelled
from core.base.units import Progress

T = TypeVar("T")


def reported(items: Sequence[T], what: str, progress: Progress, every: int = 8) -> Iterator[T]:
    """The items one by one, ``progress`` called every so many of them and at the end.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    for done, item in enumerate(items):
        if done % every == 0 and not progress(done, len(items), what):
            raise Cancelled
        yield item
    if not progress(len(items), len(items), what):
        raise Cancelled
