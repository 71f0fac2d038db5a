"""Dials at the best signal become sightings: a satellite's true direction is known at every moment.

How near to its peak a signal is found, how finely a dial is read and how late old elements are the fit knows
of every sighting by satellite (`core.setup.sightings`); what is added here is how well the moment is known.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from core.afterwards.planned import Planned, is_within, planned_at
from core.afterwards.rows import EveningLog, LogRow
from core.base.edits import changed
from core.base.times import format_iso, parse_iso
from core.log.model import LogEntry
from core.mount.dial.readings import azimuth_from_dial, elevation_from_dial
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, Mount, Posture
from core.plan.document import Plan
from core.setup.ambiguous import rounds_to_tell
from core.setup.model import Sighting
from core.setup.satellites import PEAK_SHARE
from core.setup.sky import BODIES

#: How well a noted moment is that of the reading, s, one standard deviation (common practice, no source): to
#: the second; to the minute, which may have been rounded or read off; the peak, where no moment was noted.
NOTED_S, TO_THE_MINUTE_S, AT_THE_PEAK_S = 3.0, 60.0 / math.sqrt(3.0), 20.0
#: Further than this from 90 deg the elevation dial itself says which posture it was, deg.
_PLAINLY_DEG = 15.0
#: What of a sighting that is there already is not the log's to say.
_KEPT = ("used", "came_from", "sigma_deg")
#: A place of the dial is told from the next by what was planned where it is so much nearer.
_NEARER = 0.5


@dataclass(frozen=True, eq=False)
class FromLog:
    """What one row's dials would be as a sighting.

    Attributes:
        row: of the log, with a dial.
        sighting: as it would stand in the table; None where it can be none.
        reason: why not, one clause; empty where it can.
        place: of the same reading in the plan's sightings; None where it is not there.
        same: it stands there as it is now.
    """

    row: LogRow
    sighting: Sighting | None
    reason: str = ""
    place: int | None = None
    same: bool = False

    @property
    def to_make(self) -> bool:
        """It can be added, or put in place of what was noted before."""
        return self.sighting is not None and not self.same


class _NoSighting(Exception):
    """Why a reading says nothing of north."""


def from_log(plan: Plan, log: EveningLog) -> tuple[FromLog, ...]:
    """What each row with a dial would be as a sighting, in the order of the rows."""
    names = Names(plan)
    rows = (row for row in log.rows if row.entry is not None and row.entry.has_a_dial)
    return tuple(_of_row(plan, row, names) for row in rows)


def with_sightings(plan: Plan, chosen: Sequence[FromLog]) -> Plan:
    """The plan with these as sightings, each of them once: what is there already is put right in its place.

    Raises:
        ValueRangeError: there are too many.
    """
    sightings = list(plan.sightings)
    for one in chosen:
        if one.sighting is None or one.same:
            continue
        if one.place is None:
            sightings.append(one.sighting)
        else:
            sightings[one.place] = one.sighting
    return plan if tuple(sightings) == plan.sightings else changed(plan, "sightings", tuple(sightings))


def _of_row(plan: Plan, row: LogRow, names: Names) -> FromLog:
    assert row.entry is not None
    try:
        sighting = _sighting(plan, row, row.entry, names)
    except _NoSighting as why:
        return FromLog(row, None, str(why))
    place = _place_of(plan, row, sighting)
    if place is None:
        return FromLog(row, sighting)
    there = plan.sightings[place]
    kept = sighting.model_copy(update={name: getattr(there, name) for name in _KEPT})
    return FromLog(row, kept, "", place, _told(kept) == _told(there))


def _told(one: Sighting) -> dict[str, object]:
    """All of it; a value that is left out is the same as one that is written."""
    return one.model_dump()


def _sighting(plan: Plan, row: LogRow, entry: LogEntry, names: Names) -> Sighting:
    mount, utc_s = plan.mount, row.best_utc_s
    planned = planned_at(row, utc_s, mount)
    if entry.worked is False:
        raise _NoSighting("it was not worked")
    if not is_within(row, utc_s):
        raise _NoSighting("its time is outside the pass")
    _refuse_off_the_dial(entry, mount)
    if planned is not None and planned.off_deg > PEAK_SHARE * plan.station.narrowest_deg:
        raise _NoSighting("the mount is not on the satellite then, by plan: at a stop, too slow or in a move")
    row_of_table: dict[str, object] = {
        "time": format_iso(utc_s),
        "target": names.of(entry.norad_id),
        "azimuth_dial_deg": entry.azimuth_dial_deg,
        "elevation_dial_deg": entry.elevation_dial_deg,
        "time_round": _time_round(entry, planned, mount),
        "posture": _posture(entry, planned, mount),
        "time_sigma_s": _time_sigma_s(entry),
    }
    return Sighting.model_validate({key: value for key, value in row_of_table.items() if value is not None})


def _refuse_off_the_dial(entry: LogEntry, mount: Mount) -> None:
    figure, level = entry.azimuth_dial_deg, entry.elevation_dial_deg
    if figure is not None:
        places = azimuth_from_dial(figure, mount.azimuth)
        if not places:
            raise _NoSighting(f"{figure:g} is nowhere on the azimuth dial")
        if entry.time_round is not None and entry.time_round > len(places):
            raise _NoSighting(f"the azimuth dial shows {figure:g} {len(places)} times at most")
    if level is not None and elevation_from_dial(level, mount.elevation) is None:
        raise _NoSighting(f"{level:g} is nowhere on the elevation dial")


def _time_sigma_s(entry: LogEntry) -> float:
    if entry.time is None:
        return AT_THE_PEAK_S
    return TO_THE_MINUTE_S if parse_iso(entry.time) % 60.0 == 0.0 else NOTED_S


def _posture(entry: LogEntry, planned: Planned | None, mount: Mount) -> Posture:
    """As the elevation dial says where it says it plainly, else as planned."""
    if entry.elevation_dial_deg is not None:
        e_deg = elevation_from_dial(entry.elevation_dial_deg, mount.elevation)
        if e_deg is not None and abs(e_deg - 90.0) > _PLAINLY_DEG:
            return OVER_THE_TOP if e_deg > 90.0 else UPRIGHT
    if mount.elevation.maximum_deg <= 90.0:
        return UPRIGHT
    if planned is None or planned.posture is None:
        raise _NoSighting("nobody knows whether it was upright or over the top")
    return planned.posture


def _time_round(entry: LogEntry, planned: Planned | None, mount: Mount) -> int | None:
    """As noted; else, where it matters, the place that what was planned tells from the others."""
    if entry.azimuth_dial_deg is None:
        return None
    if entry.time_round is not None or not rounds_to_tell(entry.azimuth_dial_deg, mount):
        return entry.time_round
    places = azimuth_from_dial(entry.azimuth_dial_deg, mount.azimuth)
    if planned is not None:
        apart = sorted((abs(m_deg - planned.m_deg), k) for k, m_deg in enumerate(places, start=1))
        if apart[0][0] < _NEARER * apart[1][0]:
            return apart[0][1]
    raise _NoSighting("the dial reads this figure more than once: note which, as in 20 (2nd)")


class Names:
    """A sighting's target for a satellite: its name where that means it alone, else its number."""

    def __init__(self, plan: Plan) -> None:
        self._names = {one.elements.norad_id: one.name for one in plan.satellites}
        self._times = Counter(_plain(name) for name in self._names.values())
        self._others = {_plain(mark.name) for mark in plan.landmarks} | {_plain(body) for body in BODIES}

    def of(self, norad_id: int) -> str:
        """The target."""
        name = self._names.get(norad_id, "")
        plain = _plain(name)
        # A name of digits may be another one's number, one with a comma is a list.
        alone = self._times[plain] == 1 and plain not in self._others
        return name if alone and not plain.isdigit() and "," not in plain else str(norad_id)


def _plain(name: str) -> str:
    """Case and blanks do not matter."""
    return "".join(name.casefold().split())


def _place_of(plan: Plan, row: LogRow, sighting: Sighting) -> int | None:
    """Where the same reading stands in the plan's sightings.

    That is the same satellite at the same moment; else, its moment having been put right, the same dials in
    the same pass: one reading counts once.
    """
    own = {sighting.target.casefold(), row.pass_.satellite.casefold(), str(row.pass_.norad_id)}
    of_it = [(place, one) for place, one in enumerate(plan.sightings) if one.target.casefold() in own]
    for place, there in of_it:
        if there.time == sighting.time:
            return place
    for place, there in of_it:
        if _dials(there) == _dials(sighting) and is_within(row, parse_iso(there.time)):
            return place
    return None


def _dials(one: Sighting) -> tuple[float | None, float | None]:
    return one.azimuth_dial_deg, one.elevation_dial_deg
