"""The time axis that hills and dial share: where a moment lies, its ticks and their words."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.times import to_datetime
from core.base.words import day_and_month
from core.place.zones import local_time

#: Room for figures left and right of the axis, pixels; the same in every view that shares it.
LEFT_PX, RIGHT_PX = 62.0, 104.0
_STEPS_MIN = (1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880)


@dataclass(frozen=True)
class TimeAxis:
    """From ``start_s`` at ``left`` to ``end_s`` at ``right``, pixels."""

    start_s: float
    end_s: float
    left: float
    right: float

    @classmethod
    def across(cls, shown_s: tuple[float, float], width: float) -> TimeAxis:
        """The shared axis of a view of this width."""
        return cls(*shown_s, LEFT_PX, max(width - RIGHT_PX, LEFT_PX + 1.0))

    @property
    def px_s(self) -> float:
        """Pixels in a second."""
        return (self.right - self.left) / (self.end_s - self.start_s)

    def x(self, utc_s: float) -> float:
        """Where a moment lies."""
        return self.left + (utc_s - self.start_s) * self.px_s

    def utc_s(self, x: float) -> float:
        """The moment at a place, held to the axis' ends."""
        return min(max(self.start_s + (x - self.left) / self.px_s, self.start_s), self.end_s)

    def ticks(self, apart_px: float) -> list[float]:
        """Round moments, no closer than this."""
        wanted_min = apart_px / self.px_s / 60.0
        step_s = 60.0 * next((step for step in _STEPS_MIN if step >= wanted_min), _STEPS_MIN[-1])
        first = math.ceil(self.start_s / step_s)
        return [step_s * k for k in range(first, math.floor(self.end_s / step_s) + 1)]


def tick_words(utc_s: float, zone: str | None = None) -> str:
    """``HH:MM`` in UTC or in a zone; the day at midnight."""
    moment = to_datetime(utc_s) if zone is None else local_time(utc_s, zone)
    if moment.hour == 0 and moment.minute == 0:
        return day_and_month(moment)
    return f"{moment:%H:%M}"
