"""A season by brute force: SGP4 every five seconds without drag, and each bearing asked pass by pass.

Nothing of core's. Passes are runs of samples over the limit; each is unwrapped and held against the guarded
travel in every turn, upright and over the top, at one keyway bearing after the other.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
from sgp4.api import WGS72, Satrec
from skyfield.api import wgs84
from skyfield.sgp4lib import theta_GMST1982

STEP_S = 5.0


@dataclass(frozen=True)
class PlainMount:
    """Degrees; ``zeta`` is where boresight looks on the counter-clockwise stop with the keyway at north.

    ``strikes`` tells of the boom's bearings from the keyway and elevations of the axis (N,) whether any does.
    """

    travel: float
    guard: float
    e_min: float
    e_max: float
    zeta: float = 0.0
    strikes: Callable[[np.ndarray, np.ndarray], bool] | None = None


@dataclass(frozen=True)
class PlainHours:
    """Local hours on so many days."""

    zone: str
    first: date
    days: int
    start: time
    hours: float

    def windows(self) -> Iterator[tuple[float, float]]:
        for day in range(self.days):
            local = datetime.combine(self.first + timedelta(days=day), self.start, ZoneInfo(self.zone))
            begin = local.timestamp()
            yield begin, begin + 3600.0 * self.hours


def without_drag(row: dict[str, str]) -> Satrec:
    """The record of an OMM row whose drag terms are nothing."""
    epoch = datetime.fromisoformat(row["EPOCH"] + "+00:00")
    days = (epoch - datetime(1949, 12, 31, tzinfo=epoch.tzinfo)) / timedelta(days=1)
    angles = [
        math.radians(float(row[key]))
        for key in ("ARG_OF_PERICENTER", "INCLINATION", "MEAN_ANOMALY", "RA_OF_ASC_NODE")
    ]
    record = Satrec()
    motion = float(row["MEAN_MOTION"]) * 2.0 * math.pi / 1440.0
    eccentricity = float(row["ECCENTRICITY"])
    record.sgp4init(WGS72, "i", 1, days, 0.0, 0.0, 0.0, eccentricity, *angles[:3], motion, angles[3])
    return record


Track = tuple[np.ndarray, np.ndarray]


def season_tracks(
    rows: Sequence[dict[str, str]], place: tuple[float, float, float], hours: PlainHours, minimum_deg: float
) -> list[list[Track]]:
    """Azimuth (unwrapped) and elevation of every pass over the limit that rises or sets, by evening."""
    records = [without_drag(row) for row in rows]
    latitude, longitude = math.radians(place[0]), math.radians(place[1])
    station_km = wgs84.latlon(*place[:2], place[2]).itrs_xyz.km
    east = np.array([-math.sin(longitude), math.cos(longitude), 0.0])
    up = np.array(
        [
            math.cos(latitude) * math.cos(longitude),
            math.cos(latitude) * math.sin(longitude),
            math.sin(latitude),
        ]
    )
    north = np.cross(up, east)

    def look(record: Satrec, utc_s: np.ndarray) -> Track:
        day, fraction = np.divmod(utc_s / 86400.0, 1.0)
        code, teme_km, _ = record.sgp4_array(day + 2440587.5, fraction)
        assert not code.any()
        theta, _ = theta_GMST1982(day + 2440587.5, fraction)
        turned = np.exp(-1j * theta) * (teme_km[:, 0] + 1j * teme_km[:, 1])
        away = np.stack([turned.real, turned.imag, teme_km[:, 2]], axis=1) - station_km
        level = np.hypot(away @ east, away @ north)
        return np.degrees(np.arctan2(away @ east, away @ north)), np.degrees(np.arctan2(away @ up, level))

    return [
        [track for record in records for track in _tracks(record, look, window, minimum_deg)]
        for window in hours.windows()
    ]


def _tracks(record: Satrec, look: Any, window: tuple[float, float], minimum_deg: float) -> Iterator[Track]:
    grid = np.append(np.arange(*window, STEP_S), window[1])
    azimuth, elevation = look(record, grid)
    over = elevation > minimum_deg
    if over.all():
        return
    edges = np.flatnonzero(np.diff(over.astype(int), prepend=0, append=0))
    for first, beyond in zip(edges[::2], edges[1::2], strict=True):
        own = slice(first, beyond)
        yield np.unwrap(azimuth[own], period=360.0), elevation[own]


def season_shares(
    evenings: Sequence[Sequence[Track]], mount: PlainMount, bearings: Sequence[float]
) -> np.ndarray:
    """(evenings, bearings) the share of passes that are not clear."""
    return np.array(
        [
            [
                sum(not is_clear(track, mount, bearing) for track in tracks) / len(tracks)
                for bearing in bearings
            ]
            for tracks in evenings
        ]
    )


def is_clear(track: Track, mount: PlainMount, bearing: float) -> bool:
    """Some posture and turn keeps both axes inside their ranges all through."""
    azimuth, elevation = track
    low, high = azimuth.min() - bearing - mount.zeta, azimuth.max() - bearing - mount.zeta
    for over_the_top in (False, True):
        e = 180.0 - elevation if over_the_top else elevation
        if e.min() < mount.e_min or e.max() > mount.e_max:
            continue
        shift = 180.0 if over_the_top else 0.0
        if mount.strikes is not None and mount.strikes(finely(azimuth + shift - bearing), finely(e)):
            continue
        for turn in range(-4, 5):
            by = shift + 360.0 * turn
            if low + by >= mount.guard and high + by <= mount.travel - mount.guard:
                return True
    return False


def finely(values: np.ndarray, into: int = 20) -> np.ndarray:
    """Samples with so many steps between each two."""
    at = np.linspace(0.0, values.size - 1.0, (values.size - 1) * into + 1)
    return np.interp(at, np.arange(values.size), values)
