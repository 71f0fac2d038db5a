"""When there is light to set up by: until when the Sun can be sighted, sunset, and the end of civil twilight.

The Sun for a sighting is its apparent place over mask and horizon, no lower and no higher than its shadow
can be used (`core.setup.methods`). Sunset and twilight are the almanacs' (`core.place.sun`), over a level
horizon.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Floats
from core.place.site import Site, mask_elevation_deg
from core.place.sun import sky_spans, sun_direction_deg
from core.setup.methods import HIGHEST_DEG, LOWEST_SUN_DEG
from core.setup.sky import directions

#: So long before a moment light is looked for, and so long after it.
BEFORE_S, AFTER_S = 24 * 3600.0, 24 * 3600.0
#: Time between two looks at the Sun, and between those about the moment at which it goes or comes.
_STEP_S, _FINE_S = 240.0, 10.0
#: Nearer to mask or limits than this, the almanac's formula without refraction does not say on which side.
_NEAR_DEG = 1.0

#: A stretch of time, POSIX seconds.
Span = tuple[float, float]


@dataclass(frozen=True)
class Light:
    """The light about a moment.

    Attributes:
        sun: when the Sun can be sighted.
        daylight: from the beginning to the end of civil twilight.
        sun_begun, sun_up: before the moment the Sun came into sight; it rose over a level horizon.
        sun_last_utc_s: the Sun goes out of sight for the last time; None where it never comes into it in
            these hours or never goes.
        sunset_utc_s, dusk_utc_s: sunset, end of civil twilight; None where there is none.
    """

    sun: tuple[Span, ...]
    daylight: tuple[Span, ...]
    sun_begun: bool
    sun_up: bool
    sun_last_utc_s: float | None
    sunset_utc_s: float | None
    dusk_utc_s: float | None


def light_about(site: Site, utc_s: float) -> Light:
    """The light from a day before a moment to a day after it.

    What is last is of the last stretch of light that begins before the moment, so that an evening that starts
    by day is told when its day ends.
    """
    first, last = utc_s - BEFORE_S, utc_s + AFTER_S
    spans = sky_spans(site, first, last)
    days = _joined([(one.start_utc_s, one.end_utc_s) for one in spans if one.sky == "day"])
    lit = _joined([(one.start_utc_s, one.end_utc_s) for one in spans if one.sky in ("day", "civil twilight")])
    sun = sun_in_sight(site, first, last)
    return Light(
        sun=sun,
        daylight=lit,
        sun_begun=any(start < utc_s for start, _ in sun),
        sun_up=any(start < utc_s for start, _ in days),
        sun_last_utc_s=_ends(sun, utc_s, last),
        sunset_utc_s=_ends(days, utc_s, last),
        dusk_utc_s=_ends(lit, utc_s, last),
    )


def sun_in_sight(site: Site, start_utc_s: float, end_utc_s: float) -> tuple[Span, ...]:
    """When the Sun can be sighted by its shadow; stretches and gaps below four minutes may be missed."""
    count = max(int(np.ceil((end_utc_s - start_utc_s) / _STEP_S)), 1) + 1
    utc_s = np.linspace(start_utc_s, end_utc_s, count)
    azimuth_deg, elevation_deg = sun_direction_deg(site.latitude_deg, site.longitude_deg, utc_s)
    room_deg = _room_of(site, azimuth_deg, elevation_deg)
    near = np.abs(room_deg) < _NEAR_DEG
    if near.any():
        room_deg[near] = _room_deg(site, utc_s[near])
    seen = room_deg >= 0.0
    turns = np.flatnonzero(seen[1:] != seen[:-1])
    moments = [
        _turn(site, float(utc_s[turn]), float(utc_s[turn + 1]), bool(seen[turn + 1]))
        for turn in turns.tolist()
    ]
    starts = [float(utc_s[0])] if seen[0] else []
    ends = [float(utc_s[-1])] if seen[-1] else []
    starts += [moment for moment, turn in zip(moments, turns, strict=True) if seen[turn + 1]]
    ends = [moment for moment, turn in zip(moments, turns, strict=True) if seen[turn]] + ends
    return tuple(zip(starts, ends, strict=True))


def _room_deg(site: Site, utc_s: Floats) -> Floats:
    """(N,) how far the Sun is inside what can be sighted, by its apparent place; negative outside."""
    (sun,) = directions(site, ("Sun",), utc_s)
    return _room_of(site, sun.azimuth_deg, sun.apparent_deg)


def _room_of(site: Site, azimuth_deg: Floats, elevation_deg: Floats) -> Floats:
    least = np.maximum(mask_elevation_deg(site.horizon, azimuth_deg), LOWEST_SUN_DEG)
    return np.minimum(elevation_deg - least, HIGHEST_DEG - elevation_deg)


def _turn(site: Site, start_utc_s: float, end_utc_s: float, seen_after: bool) -> float:
    """The first moment between two at which the Sun comes into sight or goes, straight between fine looks."""
    utc_s = np.linspace(start_utc_s, end_utc_s, int(np.ceil((end_utc_s - start_utc_s) / _FINE_S)) + 1)
    room_deg = _room_deg(site, utc_s)
    seen = room_deg >= 0.0
    turns = np.flatnonzero(seen[1:] != seen[:-1])
    if not turns.size:  # at a wall in the mask, seconds beyond one of the two
        return start_utc_s if seen[0] == seen_after else end_utc_s
    turn = int(turns[0])
    share = room_deg[turn] / (room_deg[turn] - room_deg[turn + 1])
    return float(utc_s[turn] + share * (utc_s[turn + 1] - utc_s[turn]))


def _joined(spans: list[Span]) -> tuple[Span, ...]:
    """Stretches that touch made one."""
    joined: list[Span] = []
    for start, end in spans:
        if joined and joined[-1][1] == start:
            joined[-1] = (joined[-1][0], end)
        else:
            joined.append((start, end))
    return tuple(joined)


def _ends(spans: tuple[Span, ...], utc_s: float, last_utc_s: float) -> float | None:
    """Where the last stretch that begins before a moment ends, if it does within the hours looked at."""
    begun = [end for start, end in spans if start < utc_s]
    return begun[-1] if begun and begun[-1] < last_utc_s else None
