"""Epochs as CCSDS 301.0-B / 502.0-B allow them: calendar and day-of-year forms."""

from __future__ import annotations

from datetime import date

from core.units import DAY_S, UNIX_EPOCH_JD


def split_jd(epoch: str) -> tuple[float, float]:
    """Julian date of a canonical epoch text as (whole day at 0h, fraction of the day).

    Two floats, since one would keep only 40 microseconds.
    """
    day_text, clock_text = epoch.split("T")
    days = date.fromisoformat(day_text).toordinal() - date(1970, 1, 1).toordinal()
    hours, minutes, seconds = clock_text.split(":")
    return UNIX_EPOCH_JD + days, (int(hours) * 3600 + int(minutes) * 60 + float(seconds)) / DAY_S
