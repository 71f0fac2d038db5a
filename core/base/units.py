"""Constants with their sources, and the progress callback's type."""

from __future__ import annotations

from collections.abc import Callable

#: Seconds in a day of UTC without a leap second.
DAY_S = 86_400.0
#: Julian date of 2000-01-01T12:00.
J2000_JD = 2_451_545.0
#: Julian date of 1970-01-01T00:00Z.
UNIX_EPOCH_JD = 2_440_587.5
#: The Earth's gravitational parameter of WGS-72, km^3/s^2, which SGP4 uses (AIAA 2006-6753, "Constants").
GM_WGS72_KM3_S2 = 398_600.8
#: "Inside" means within this many degrees: an exact touch is inside (the project's own convention).
INSIDE_DEG = 1e-6

#: Called with (units done, units in all, what is being done); returns False to ask for an end.
Progress = Callable[[int, int, str], bool]


def no_progress(_done: int, _total: int, _what: str) -> bool:
    """The progress callback of callers that neither show nor cancel."""
    return True
