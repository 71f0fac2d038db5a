"""A stay of a satellite over the horizon, and the moments that are told of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.base.angles import Floats

Cut = Literal["start", "end", "both"]


@dataclass(frozen=True)
class Event:
    """A moment of a pass.

    Attributes:
        utc_s: POSIX seconds UTC.
        azimuth_deg: true, 0 to 360.
        elevation_deg: geometric, -90 to 90.
        range_km: slant range.
    """

    utc_s: float
    azimuth_deg: float
    elevation_deg: float
    range_km: float


@dataclass(frozen=True, eq=False)
class Stay:
    """One stay of a satellite over the search floor (the horizon, or the mask's lowest point if negative).

    Attributes:
        satellite: object name.
        norad_id: catalogue number.
        utc_s: knots (N,), rising.
        position_km: (N, 3) topocentric east, north, up.
        velocity_km_s: (N, 3) the same axes, as seen from the turning ground.
        cut: which ends are the window's (or the element set's last valid moment) and no crossing.
        peak: highest elevation within the stay.
        tca: least range within the stay.
    """

    satellite: str
    norad_id: int
    utc_s: Floats
    position_km: Floats
    velocity_km_s: Floats
    cut: Cut | None
    peak: Event
    tca: Event
