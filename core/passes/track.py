"""Passes: what mask and minimum elevation leave of stays, and each sampled as finely as a mount needs it.

All passes of a search are one table of columns; a `Pass` is a view of its row, and is sampled when something
asks for its track. Everything here reads the paths of the stays; nothing propagates, so the mask can be
edited at no such cost.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import overload

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.errors import Cancelled, PropagationError
from core.base.ragged import distinct, parted, places_in
from core.base.units import Progress, no_progress
from core.elements.model import ElementSet
from core.passes.frames import Observer, azimuth_elevation, slant_range
from core.passes.over_zero import SHORTEST_S
from core.passes.stays import (
    Cut,
    Event,
    Stay,
    StayTable,
    cut_at,
    rows_at,
    stay_at,
    without_wide_steps,
)
from core.place.site import HorizonPoint, Site, mask_floor_deg

#: Passes up to this long are sampled every ``_FAST_STEP_S``; longer ones by angle, ``_SLOW_STEP_S`` at most.
_FAST_PASS_S = 2000.0
_FAST_STEP_S = 0.5
_SLOW_STEP_S = 60.0
_STEP_DEG = 0.3
#: Looks at every piece of a slow pass's path, between which its pace is taken to change evenly.
_PACES = 24


@dataclass(frozen=True, eq=False)
class Pass:
    """A stay as the site sees it: cut to mask and minimum elevation.

    Attributes:
        stay: the path everything else is sampled from.
        aos: first crossing of mask and minimum elevation (or the window's start).
        los: last crossing.
        stretches: the parts over the mask, (start, end) in POSIX seconds.
        cut: which of aos and los are window ends and no crossings.
    """

    stay: Stay
    aos: Event
    los: Event
    stretches: tuple[tuple[float, float], ...]
    cut: Cut | None

    @property
    def satellite(self) -> str:
        """Object name."""
        return self.stay.satellite

    @property
    def norad_id(self) -> int:
        """Catalogue number."""
        return self.stay.norad_id

    @property
    def peak(self) -> Event:
        """Highest elevation of the stay (it may lie behind the mask)."""
        return self.stay.peak

    @property
    def tca(self) -> Event:
        """Least range of the stay."""
        return self.stay.tca

    @cached_property
    def even_utc_s(self) -> Floats:
        """Moments (N,) from aos to los, both included, however fast azimuth turns between two of them."""
        return _sample_times(self.stay, self.stretches)

    @cached_property
    def _samples(self) -> tuple[Floats, Floats, Floats, Floats]:
        utc_s, position, _ = without_wide_steps(self.stay, self.even_utc_s)
        return utc_s, *azimuth_elevation(position), slant_range(position)

    @property
    def utc_s(self) -> Floats:
        """Samples (N,) from aos to los, both included, at most 0.5 s apart for fast passes.

        The ends of every stretch are among them.
        """
        return self._samples[0]

    @property
    def azimuth_deg(self) -> Floats:
        """(N,) at the samples, true, wrapped to [0, 360)."""
        return self._samples[1]

    @property
    def elevation_deg(self) -> Floats:
        """(N,) at the samples, geometric."""
        return self._samples[2]

    @property
    def range_km(self) -> Floats:
        """(N,) at the samples."""
        return self._samples[3]


@dataclass(frozen=True, eq=False)
class PassTable(Sequence[Pass]):
    """Passes in columns: (M,) unless said otherwise, by AOS and catalogue number. In order it gives `Pass`es.

    Attributes:
        table: the stays they are cut from.
        stay: row of each pass's stay there.
        aos, los: (M, 4) rows of `Event`: time, azimuth, elevation, range.
        stretch_utc_s: (K, 2) start and end of all their parts over the mask, by pass and time.
        offsets: (M + 1,) where the parts of each pass begin.
        cut_start, cut_end: where that end is no crossing.
    """

    table: StayTable
    stay: Indices
    aos: Floats
    los: Floats
    stretch_utc_s: Floats
    offsets: Indices
    cut_start: Flags
    cut_end: Flags

    def __len__(self) -> int:
        return self.stay.size

    @overload
    def __getitem__(self, index: int) -> Pass: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Pass, ...]: ...
    def __getitem__(self, index: int | slice) -> Pass | tuple[Pass, ...]:
        return self.passes[index]

    @cached_property
    def passes(self) -> tuple[Pass, ...]:
        """A view of every row, always the same ones."""
        stays, parts = self.table.stays, [(start, end) for start, end in self.stretch_utc_s.tolist()]
        rows = zip(
            self.stay.tolist(),
            self.aos.tolist(),
            self.los.tolist(),
            pairwise(self.offsets.tolist()),
            self.cut_start.tolist(),
            self.cut_end.tolist(),
            strict=True,
        )
        return tuple(
            Pass(
                stay=stays[stay],
                aos=Event(*aos),
                los=Event(*los),
                stretches=tuple(parts[first:beyond]),
                cut=cut_at(cut_start, cut_end),
            )
            for stay, aos, los, (first, beyond), cut_start, cut_end in rows
        )


def cut_pass(stay: Stay, horizon: Sequence[HorizonPoint], minimum_elevation_deg: float) -> Pass | None:
    """The pass that mask and minimum elevation leave of a stay, or None where they leave nothing.

    Works on the stay's path alone. Crossing times are good to a millisecond; a stretch, or a gap in one, of
    2 s or more is never missed.
    """
    found = pass_table(StayTable.of((stay,)), horizon, minimum_elevation_deg).passes
    return found[0] if found else None


def pass_table(table: StayTable, horizon: Sequence[HorizonPoint], minimum_elevation_deg: float) -> PassTable:
    """The passes that mask and minimum elevation leave of the stays."""
    from core.passes.stretches import stretches_in_sight

    over = stretches_in_sight(table, horizon, minimum_elevation_deg)
    rows, first, count = np.unique(over.stay, return_index=True, return_counts=True)
    last = first + count - 1
    begin, end = over.start_utc_s[first], over.end_utc_s[last]
    aos, los = _rows(table, rows, begin), _rows(table, rows, end)
    order = np.lexsort((table.norad_id[rows], begin))
    parts = np.repeat(first[order], count[order]) + places_in(count[order])
    return PassTable(
        table=table,
        stay=rows[order],
        aos=aos[order],
        los=los[order],
        stretch_utc_s=np.stack([over.start_utc_s[parts], over.end_utc_s[parts]], axis=1),
        offsets=np.concatenate([[0], np.cumsum(count[order])]),
        cut_start=(table.cut_start[rows] & (begin == table.start_utc_s[rows]))[order],
        cut_end=(table.cut_end[rows] & (end == table.end_utc_s[rows]))[order],
    )


def _rows(table: StayTable, stay: Indices, utc_s: Floats) -> Floats:
    """Rows (M, 4) of events at moments of stays."""
    piece = table.paths.piece_at(stay, utc_s)
    return rows_at(utc_s, table.paths.position(piece, utc_s))


def cut_passes(
    stays: StayTable | Sequence[Stay],
    horizon: Sequence[HorizonPoint],
    minimum_elevation_deg: float,
    progress: Progress = no_progress,
) -> tuple[Pass, ...]:
    """The passes that mask and minimum elevation leave of the stays, by AOS.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    table = stays if isinstance(stays, StayTable) else StayTable.of(stays)
    if not progress(0, len(table.satellites), "cutting passes to the horizon"):
        raise Cancelled
    return pass_table(table, horizon, minimum_elevation_deg).passes


def predict(
    sets: Sequence[ElementSet],
    site: Site,
    start_utc_s: float,
    end_utc_s: float,
    progress: Progress = no_progress,
    maximum_age_days: float = math.inf,
) -> tuple[PassTable, tuple[PropagationError, ...]]:
    """Search and cut in one: passes by AOS over the site's mask and minimum elevation, and the refusals.

    Sets older than ``maximum_age_days`` at the start, or as far ahead of it, are among these.

    Raises:
        Cancelled: ``progress`` returned False.
        ValueRangeError: the window is empty or turned round.
    """
    floor_deg = mask_floor_deg(site.horizon, site.minimum_elevation_deg)
    observer = Observer.of_site(site)
    from core.passes.search import find_stays

    search = find_stays(
        sets,
        observer,
        start_utc_s,
        end_utc_s,
        floor_deg,
        maximum_age_days=maximum_age_days,
        progress=progress,
    )
    return pass_table(search.table, site.horizon, site.minimum_elevation_deg), search.refused


def _sample_times(stay: Stay, stretches: Sequence[tuple[float, float]]) -> Floats:
    """Sample times (N,) from AOS to LOS; the ends of the stretches, peak and TCA are among them."""
    first, last = stretches[0][0], stretches[-1][1]
    fixed = [moment for stretch in stretches for moment in stretch]
    for moment in (stay.peak.utc_s, stay.tca.utc_s):
        if first < moment < last and min(abs(moment - other) for other in fixed) > SHORTEST_S:
            fixed.append(moment)
    fixed_utc_s = np.sort(np.array(fixed))
    times, steps_s = _paces(stay, first, last)
    # A clock that ticks once a step, laid along the pass and cut at the fixed moments.
    ticks = np.concatenate([[0.0], np.cumsum(np.diff(times) / steps_s)])
    ticks_fixed = np.interp(fixed_utc_s, times, ticks)
    parts = np.maximum(np.ceil(np.diff(ticks_fixed) - 1e-9), 1.0).astype(np.intp)
    piece, share = parted(parts)
    between = np.interp(ticks_fixed[piece] + share * np.diff(ticks_fixed)[piece], ticks, times)
    utc_s = np.where(share == 0.0, fixed_utc_s[piece], between)
    return np.append(utc_s, fixed_utc_s[-1])


def _paces(stay: Stay, first: float, last: float) -> tuple[Floats, Floats]:
    """Moments (K,) from first to last, and how far apart samples may be between them (K - 1,), seconds."""
    if last - first <= _FAST_PASS_S:
        return np.array([first, last]), np.array([_FAST_STEP_S])
    times = stay.path.looks(_PACES)[0].ravel()
    times = distinct(np.concatenate([[first, last], times[(times > first) & (times < last)]]))
    position, velocity = stay_at(stay, times)
    across = np.linalg.norm(np.cross(position, velocity), axis=1)
    rate_deg_s = np.degrees(across / slant_range(position) ** 2)
    fastest = np.maximum(np.maximum(rate_deg_s[:-1], rate_deg_s[1:]), 1e-9)
    return times, np.clip(_STEP_DEG / fastest, _FAST_STEP_S, _SLOW_STEP_S)
