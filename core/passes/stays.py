"""Stays of satellites over the horizon: the moments told of them, and their states at any moment.

All stays of a search are one table of columns, in which every stay has a row and the pieces of its path; a
`Stay` is a view of its row.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain, pairwise
from typing import Any, Literal

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_180
from core.base.errors import PropagationError, ValueRangeError
from core.base.times import format_iso
from core.passes.frames import azimuth_elevation, slant_range
from core.passes.paths import Paths

Cut = Literal["start", "end", "both"]

#: Times this far outside a stay are taken as its ends.
_OUTSIDE_S = 1e-3
#: No two samples are further apart in azimuth, unless they are closer than this in time.
_AZIMUTH_STEP_DEG = 90.0
_FINEST_S = 1e-4


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
        start_utc_s, end_utc_s: its ends, POSIX seconds.
        path: the pieces of its path, one owner's; they may reach a little beyond its ends.
        cut: which ends are the window's (or the element set's last valid moment) and no crossing.
        peak: highest elevation within the stay.
        tca: least range within the stay.
    """

    satellite: str
    norad_id: int
    start_utc_s: float
    end_utc_s: float
    path: Paths
    cut: Cut | None
    peak: Event
    tca: Event


@dataclass(frozen=True, eq=False)
class StayTable:
    """Stays in columns: (S,) unless said otherwise, by start and catalogue number.

    Attributes:
        satellites: object names.
        norad_id: catalogue numbers.
        start_utc_s, end_utc_s: their ends.
        paths: the pieces of all their paths, owned by their rows.
        cut_start, cut_end: where that end is the window's, or the last valid moment, and no crossing.
        peak, tca: (S, 4) rows as in `event_rows`: highest elevation, and least range.
        floor_deg: an elevation that none of them goes below.
    """

    satellites: tuple[str, ...]
    norad_id: Indices
    start_utc_s: Floats
    end_utc_s: Floats
    paths: Paths
    cut_start: Flags
    cut_end: Flags
    peak: Floats
    tca: Floats
    floor_deg: float = -90.0

    @classmethod
    def of(cls, stays: Sequence[Stay]) -> StayTable:
        """The table of some stays; its views are these very ones."""
        table = cls(
            satellites=tuple(stay.satellite for stay in stays),
            norad_id=np.array([stay.norad_id for stay in stays], dtype=np.intp),
            start_utc_s=np.array([stay.start_utc_s for stay in stays], dtype=float),
            end_utc_s=np.array([stay.end_utc_s for stay in stays], dtype=float),
            paths=Paths.joined([stay.path for stay in stays], [1] * len(stays)),
            cut_start=np.array([stay.cut in ("start", "both") for stay in stays], dtype=bool),
            cut_end=np.array([stay.cut in ("end", "both") for stay in stays], dtype=bool),
            peak=event_rows([stay.peak for stay in stays]),
            tca=event_rows([stay.tca for stay in stays]),
        )
        table.__dict__["stays"] = tuple(stays)
        return table

    @classmethod
    def joined(cls, tables: Sequence[StayTable]) -> StayTable:
        """The rows of several tables, by start and catalogue number."""
        if not tables:
            return cls.of(())

        def column(name: str) -> Any:
            return np.concatenate([getattr(table, name) for table in tables])

        order = np.lexsort((column("norad_id"), column("start_utc_s")))
        satellites = [*chain.from_iterable(table.satellites for table in tables)]
        paths = Paths.joined([table.paths for table in tables], [len(table.satellites) for table in tables])
        columns = "norad_id", "start_utc_s", "end_utc_s", "cut_start", "cut_end", "peak", "tca"
        return cls(
            satellites=tuple(map(satellites.__getitem__, order.tolist())),
            paths=paths.of_owners(order, order.size),
            floor_deg=min(table.floor_deg for table in tables),
            **{name: column(name)[order] for name in columns},
        )

    @cached_property
    def offsets(self) -> Indices:
        """(S + 1,) where the pieces of each stay begin."""
        return np.searchsorted(self.paths.owner, np.arange(len(self.satellites) + 1))

    @cached_property
    def stays(self) -> tuple[Stay, ...]:
        """A view of every row, always the same ones."""
        columns = (self.norad_id, self.start_utc_s, self.end_utc_s, self.cut_start, self.cut_end)
        rows = zip(
            self.satellites,
            pairwise(self.offsets.tolist()),
            zip(*(column.tolist() for column in columns), strict=True),
            self.peak.tolist(),
            self.tca.tolist(),
            strict=True,
        )
        return tuple(
            Stay(
                satellite=name,
                norad_id=number,
                start_utc_s=start,
                end_utc_s=end,
                path=self.paths.taken(slice(first, beyond), np.zeros(beyond - first, dtype=np.intp)),
                cut=cut_at(cut_start, cut_end),
                peak=Event(*peak),
                tca=Event(*tca),
            )
            for name, (first, beyond), (number, start, end, cut_start, cut_end), peak, tca in rows
        )


@dataclass(frozen=True, eq=False)
class StaySearch:
    """What a search found.

    Attributes:
        table: the stays, by start, then catalogue number.
        refused: element sets that give no or not all stays in the window, with the reason.
    """

    table: StayTable
    refused: tuple[PropagationError, ...]

    @property
    def stays(self) -> tuple[Stay, ...]:
        """The table's rows."""
        return self.table.stays


def event_rows(events: Sequence[Event]) -> Floats:
    """Events as rows (N, 4): POSIX seconds, azimuth, elevation, range."""
    rows = [(event.utc_s, event.azimuth_deg, event.elevation_deg, event.range_km) for event in events]
    return np.array(rows, dtype=float).reshape(-1, 4)


def rows_at(utc_s: Floats, position_km: Floats) -> Floats:
    """Rows (N, 4) as in `event_rows` of moments (N,) and topocentric positions (N, 3)."""
    return np.stack([utc_s, *azimuth_elevation(position_km), slant_range(position_km)], axis=1)


def cut_at(at_start: bool, at_end: bool) -> Cut | None:
    """The word for which ends are cut; None where none is."""
    if at_start:
        return "both" if at_end else "start"
    return "end" if at_end else None


def stay_at(stay: Stay, utc_s: Floats) -> tuple[Floats, Floats]:
    """States along a stay, read off its path.

    Args:
        stay: the stay.
        utc_s: (N,) within the stay.

    Returns:
        Topocentric position (N, 3) km and velocity (N, 3) km/s, east, north, up, as seen from the turning
        ground.

    Raises:
        ValueRangeError: a time lies outside the stay.
    """
    start, end = stay.start_utc_s, stay.end_utc_s
    if utc_s.size and (utc_s.min() < start - _OUTSIDE_S or utc_s.max() > end + _OUTSIDE_S):
        allowed = f"between {format_iso(start)} and {format_iso(end)}"
        worst = utc_s.min() if utc_s.min() < start - _OUTSIDE_S else utc_s.max()
        raise ValueRangeError("utc_s", format_iso(float(worst)), allowed)
    piece = np.searchsorted(stay.path.start_utc_s[1:], utc_s, side="right")
    return stay.path.at(piece, utc_s)


def without_wide_steps(stay: Stay, utc_s: Floats) -> tuple[Floats, Floats, Floats]:
    """Times (N,) with more put between until no step in azimuth is above 90 deg, or steps are down to 0.1 ms.

    Returns:
        The times, and the stay's positions and velocities (N, 3) at them.
    """
    while True:
        position, velocity = stay_at(stay, utc_s)
        step_deg = np.abs(np.asarray(wrap_180(np.diff(azimuth_elevation(position)[0]))))
        wide = np.flatnonzero((step_deg > _AZIMUTH_STEP_DEG) & (np.diff(utc_s) > 2.0 * _FINEST_S))
        if wide.size == 0:
            return utc_s, position, velocity
        utc_s = np.insert(utc_s, wide + 1, 0.5 * (utc_s[wide] + utc_s[wide + 1]))
