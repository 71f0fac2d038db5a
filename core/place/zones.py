"""The site's time zone: its name, local time, the offset in words. The tables come with the program."""

from __future__ import annotations

import math
from bisect import bisect_left
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from core.base.errors import ValueRangeError
from core.base.times import to_datetime
from core.place.locator import check_position
from core.place.site import Site

_PROBE_S = 3600


def resolve_time_zone(site: Site) -> str:
    """The name of the site's zone: the one it sets, else the one its position lies in.

    The look-up's borders are simplified: within a few kilometres of one the neighbour's zone may come out,
    so output names the zone. At sea it gives the nautical zone, such as ``"Etc/GMT-10"`` (which is UTC+10).

    Raises:
        ValueRangeError: the zone that the site sets does not exist; names near to it are told.
    """
    if site.time_zone is not None:
        return _zone(site.time_zone).key
    return zone_at(site.latitude_deg, site.longitude_deg)


def zone_at(latitude_deg: float, longitude_deg: float) -> str:
    """The name of the time zone at a position, north and east positive.

    Raises:
        ValueRangeError: a figure out of its range.
    """
    from tzfpy import get_tz

    check_position(latitude_deg, longitude_deg)
    name = str(get_tz(longitude_deg, latitude_deg))
    try:
        return _zone(name).key
    except ValueRangeError:  # nothing found there, or a zone younger than the tables of this machine
        hours = round(longitude_deg / 15.0)
        return f"Etc/GMT{-hours:+d}" if hours else "Etc/GMT"  # the sign of these names counts westward


def local_time(utc_s: float, zone: str) -> datetime:
    """The moment as an aware date-time in the zone, to the microsecond.

    Raises:
        ValueRangeError: there is no such zone.
    """
    return to_datetime(utc_s).astimezone(_zone(zone))


def utc_of_local(day: date, clock_s: float, zone: str, which: int = 0) -> float:
    """POSIX seconds of a local time.

    Args:
        day: the date.
        clock_s: seconds after midnight, a day's at most.
        zone: name of the time zone.
        which: 2 for the second of two where the clocks show it twice; else the first. One that the clocks
            skip counts with the offset before.

    Raises:
        ValueRangeError: there is no such zone.
    """
    local_time(0.0, zone)  # refuses a zone that does not exist
    midnight = datetime(day.year, day.month, day.day)
    wall = (midnight + timedelta(seconds=clock_s)).replace(tzinfo=ZoneInfo(zone))
    second = wall.replace(fold=1)
    if which == 2 and second.timestamp() > wall.timestamp():
        return second.timestamp()
    return wall.timestamp()


def local_clock(utc_s: float, zone: str, seconds: bool = True) -> str:
    """``HH:MM:SS`` (or ``HH:MM``) on the zone's clock, rounded as `core.base.times.clock` rounds.

    Raises:
        ValueRangeError: there is no such zone.
    """
    step = 1.0 if seconds else 60.0
    moment = local_time(step * math.floor(utc_s / step + 0.5), zone)
    return f"{moment:%H:%M:%S}" if seconds else f"{moment:%H:%M}"


def utc_offset_text(utc_s: float, zone: str) -> str:
    """The zone's offset at a moment in words, with its abbreviation where it has one: ``"UTC+1 (CET)"``.

    Raises:
        ValueRangeError: there is no such zone.
    """
    moment = local_time(utc_s, zone)
    seconds = round(_offset(moment).total_seconds())
    abbreviation = moment.tzname() or ""
    if abbreviation == "UTC":
        return "UTC"
    minutes, rest = divmod(abs(seconds), 60)
    figure = f"{minutes // 60}"
    if minutes % 60 or rest:
        figure += f":{minutes % 60:02d}"
    if rest:
        figure += f":{rest:02d}"
    # Zones without an abbreviation of their own carry the offset in its place.
    named = f" ({abbreviation})" if abbreviation[:1].isalpha() else ""
    return f"UTC{'-' if seconds < 0 else '+'}{figure}{named}"


def utc_offset_s(utc_s: float, zone: str) -> float:
    """How far a zone's clocks are ahead of UTC at a moment, seconds."""
    return _offset_at(utc_s, zone).total_seconds()


def offset_changes_s(start_s: float, end_s: float, zone: str) -> tuple[float, ...]:
    """Moments after ``start_s`` and up to ``end_s`` at which the zone's offset changes; whole seconds UTC.

    An evening over which it changes shows two local clocks, and output has to say so. Zones whose offset
    changes and changes back within one hour do not exist.

    Raises:
        ValueRangeError: there is no such zone.
    """
    changes = []
    low, end = int(start_s // 1), int(end_s // 1)
    while low < end:
        high = min(low + _PROBE_S, end)
        if _offset_at(low, zone) != _offset_at(high, zone):
            changes.append(float(_first_like(low, high, zone)))
        low = high
    return tuple(changes)


def _first_like(low: int, high: int, zone: str) -> int:
    """The first whole second with the offset of ``high``, between two that differ."""
    new = _offset_at(high, zone)
    return low + bisect_left(range(low, high), True, key=lambda second: _offset_at(second, zone) == new)


def _offset_at(utc_s: float, zone: str) -> timedelta:
    return _offset(local_time(utc_s, zone))


def _offset(moment: datetime) -> timedelta:
    return moment.utcoffset() or timedelta(0)


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):  # OSError: a folder of zones, such as "Europe"
        raise ValueRangeError("time_zone", repr(name), f"a time zone's name{_near_names(name)}") from None


def _near_names(name: str) -> str:
    """The clause that names up to four zones like the one asked for."""
    import difflib  # only where something was misspelt

    wanted = name.strip().casefold().replace(" ", "_")
    known = {zone.casefold(): zone for zone in sorted(available_timezones())}
    by_place = [zone for key, zone in known.items() if wanted and wanted in key.split("/")]
    by_letters = [known[key] for key in difflib.get_close_matches(wanted, known, n=4, cutoff=0.7)]
    near = list(dict.fromkeys(by_place + by_letters))[:4]
    return f", perhaps {', '.join(near)}" if near else " such as Europe/Vienna"
