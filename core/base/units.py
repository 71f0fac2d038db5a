"""Constants with their sources, and the progress callback's type."""

from __future__ import annotations

from collections.abc import Callable

#: Seconds in a day of UTC without a leap second.
DAY_S = 86_400.0
#: Julian date of 1970-01-01T00:00Z.
UNIX_EPOCH_JD = 2_440_587.5
#: "Inside" means within this many degrees: an exact touch is inside (the project's own convention).
INSIDE_DEG = 1e-6

#: Called with (units done, units in all, what is being done); returns False to ask for an end.
Progress = Callable[[int, int, str], bool]


def no_progress(_done: int, _total: int, _what: str) -> bool:
    """The progress callback of callers that neither show nor cancel."""
    return True
