"""How old an element set is at a moment, and how far that can be trusted.

The limits are common practice among operators, no standard: with beams of some 30 deg anything under a week
points well enough, Doppler wants less than 2 to 3 days, and beyond two weeks pass times of low objects are
visibly wrong; after two months they say little. Objects below 450 km or under power want a set of the same
day whatever the grade.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from core.base.units import DAY_S
from core.base.words import counted, first_few
from core.elements.model import ElementSet

Grade = Literal["fresh", "ageing", "old", "too old to trust"]

#: Beyond so many days, either way, an evening is warned of.
WARNED_AGE_DAYS = 14.0
#: Beyond so many days, either way, a set is refused unless more are allowed.
REFUSED_AGE_DAYS = 60.0


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
    old_days: float = WARNED_AGE_DAYS


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


def is_far(days: float) -> bool:
    """Whether a set lies so far from the evening, either way, that the operator is warned."""
    return abs(days) > WARNED_AGE_DAYS


def far_words(ages: Sequence[tuple[str, float]], most: int = 4) -> tuple[str, ...]:
    """A sentence about the sets (name, days) that are too old, and one about those of too late an epoch.

    Args:
        ages: of all sets.
        most: names told in a sentence.
    """
    old = sorted(((name, days) for name, days in ages if days > WARNED_AGE_DAYS), key=lambda age: -age[1])
    ahead = sorted(((name, days) for name, days in ages if days < -WARNED_AGE_DAYS), key=lambda age: age[1])
    found = []
    if old:
        found.append(
            f"Elements more than {WARNED_AGE_DAYS:g} days old at the start: {_told(old, most)}. "
            "Times and bearings are off; get newer ones."
        )
    if ahead:
        found.append(
            f"Elements with an epoch more than {WARNED_AGE_DAYS:g} days after the start: "
            f"{_told(ahead, most)}. Times and bearings are off; "
            "check the evening's date, or take elements of those days."
        )
    return tuple(found)


def beyond_age(days: float, maximum_days: float) -> str | None:
    """Why a set of this age is refused where at most ``maximum_days`` are allowed; None where it is not."""
    if abs(days) <= maximum_days:
        return None
    if days > 0.0:
        return (
            f"its elements are {days:.1f} days old at the start, more than the {maximum_days:g} allowed: "
            "get newer ones"
        )
    return (
        f"its elements' epoch lies {-days:.1f} days after the start, more than the {maximum_days:g} allowed: "
        "check the date, or take elements of those days"
    )


def _told(ages: Sequence[tuple[str, float]], most: int) -> str:
    return first_few([f"{name} ({abs(days):.1f})" for name, days in ages], most)
