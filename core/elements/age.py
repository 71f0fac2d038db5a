"""How old an element set is at a moment, and how far that can be trusted.

The limits are common practice among operators, no standard: with beams of some 30 deg anything under a
week points well enough, Doppler wants less than 2 to 3 days, and beyond three weeks pass times of low
objects are visibly wrong. Objects below 450 km or under power want a set of the same day whatever the grade.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.base.units import DAY_S
from core.base.words import counted
from core.elements.model import ElementSet

Grade = Literal["fresh", "ageing", "old", "too old to trust"]


@dataclass(frozen=True)
class AgeLimits:
    """Ages in days up to and including which a set has a grade (common practice).

    Attributes:
        fresh_days: good for pointing and for Doppler.
        ageing_days: good for pointing; Doppler drifts.
        old_days: questionable for pointing; beyond it the set is too old to trust.
    """

    fresh_days: float = 3.0
    ageing_days: float = 7.0
    old_days: float = 21.0


COMMON_PRACTICE = AgeLimits()


def age_days(elements: ElementSet, utc_s: float) -> float:
    """Days from the epoch to a moment in POSIX seconds; negative where the epoch is later."""
    return (utc_s - elements.epoch_utc_s) / DAY_S


def describe_age(days: float) -> str:
    """An age in words, e.g. ``2.3 days old``, ``epoch 1.1 days ahead``; hours below a day."""
    size = abs(days)
    hours, tenths = round(size * 24.0), round(size, 1)
    if hours == 0:
        return "at its epoch"
    if hours < 24:
        amount = counted(hours, "hour")
    elif size < 99.95:
        amount = f"{tenths:.1f} days"
    else:
        amount = f"{size:.0f} days"
    return f"{amount} old" if days > 0 else f"epoch {amount} ahead"


def grade_age(days: float, limits: AgeLimits = COMMON_PRACTICE) -> Grade:
    """The grade of an age. A set whose epoch lies ahead is graded by how far: SGP4 errs both ways alike."""
    size = abs(days)
    if size <= limits.fresh_days:
        return "fresh"
    if size <= limits.ageing_days:
        return "ageing"
    return "old" if size <= limits.old_days else "too old to trust"
