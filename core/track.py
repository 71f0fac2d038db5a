"""Tracks: one stay of a satellite over the horizon as knots that are interpolated, and the pass cut out of it by the mask."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.angles import Floats

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


@dataclass(frozen=True, eq=False)
class Pass:
    """A stay as the site sees it: cut to mask and minimum elevation.

    Attributes:
        satellite: object name.
        norad_id: catalogue number.
        aos: first crossing of mask and minimum elevation (or the window's start).
        peak: highest elevation of the stay (it may lie behind the mask).
        tca: least range of the stay.
        los: last crossing.
        stretches: the parts over the mask, (start, end) in POSIX seconds.
        cut: which of aos and los are window ends and no crossings.
        stay: the knots everything else is sampled from.
        utc_s: samples (N,) from aos to los, both included, at most 0.5 s apart for fast passes;
            the ends of every stretch are among them.
        azimuth_deg: (N,) true, wrapped to [0, 360).
        elevation_deg: (N,) geometric.
        range_km: (N,).
        range_rate_km_s: (N,) positive receding.
        azimuth_rate_deg_s: (N,) clockwise positive.
        elevation_rate_deg_s: (N,).
        over_mask: (N,) bool, inside a stretch (its ends included).
    """

    satellite: str
    norad_id: int
    aos: Event
    peak: Event
    tca: Event
    los: Event
    stretches: tuple[tuple[float, float], ...]
    cut: Cut | None
    stay: Stay
    utc_s: Floats
    azimuth_deg: Floats
    elevation_deg: Floats
    range_km: Floats
    range_rate_km_s: Floats
    azimuth_rate_deg_s: Floats
    elevation_rate_deg_s: Floats
    over_mask: Floats
