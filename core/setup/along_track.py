"""How far ahead or behind of its elements a satellite may be, in seconds along its track."""

from __future__ import annotations

import math

#: Seconds at the epoch itself: SGP4 is good to about 1 km in low orbits, at 7.5 km/s.
AT_EPOCH_S = 0.15
#: Seconds more for every day, and for every day squared, in which drag makes itself felt.
PER_DAY_S, PER_DAY_SQUARED_S = 0.15, 0.02
#: Where the formula is from, as it is told beside the term.
ALONG_TRACK_SOURCE = (
    "common practice, no source: sqrt(0.15^2 + (0.15 d + 0.02 d^2)^2) seconds at d days from the epoch"
)


def along_track_s(age_days: float) -> float:
    """One standard deviation of a satellite's place along its track, seconds, unsigned.

    Common practice, no source: it is laid through what operators tell of low orbits (400 to 550 km), 0.5 to
    2 km a day in quiet times, 5 to 15 km after five days, some 3 s after a week. In storms and under power
    it is many times as much; orbits above some 800 km do better.

    Args:
        age_days: from the epoch, either way.
    """
    days = abs(age_days)
    return math.hypot(AT_EPOCH_S, PER_DAY_S * days + PER_DAY_SQUARED_S * days**2)
