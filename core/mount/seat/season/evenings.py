"""The evenings of a season: the search of each, and of its passes no more than their clear arcs are kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.errors import PropagationError
from core.base.progress import reported
from core.base.units import INSIDE_DEG, Progress, no_progress
from core.elements.model import ElementSet
from core.elements.statistics import for_statistics
from core.mount.clearance.lengths import Clearance
from core.mount.model.chain import axis_elevation_deg, posture_shift_deg
from core.mount.model.station import POSTURES, ElevationAxis, Mount, Posture, Tilt
from core.mount.seat.arcs import Arcs, Struck, arcs_through
from core.mount.seat.season.extents import Extents, extents_of
from core.mount.seat.season.not_clear import NotClear
from core.mount.seat.season.struck_passes import joined_evenings, struck_of
from core.mount.seat.season.struck_season import AnySeason, StruckSeason
from core.passes.frames import Observer
from core.passes.search import find_stays
from core.passes.track import PassTable, pass_table
from core.place.site import Site, mask_floor_deg

Window = tuple[float, float]

_NONE_STRUCK = {p: Struck(np.zeros(0, dtype=np.intp), np.zeros(0), np.zeros(0)) for p in POSTURES}


@dataclass(frozen=True, eq=False)
class SeasonPasses:
    """The passes of a season's evenings, (P,) by evening; satellites that never rise or set are left out.

    Attributes:
        evening: (P,) number of the evening.
        extents: (P,) what they need of the axes.
        refused: satellites that could not be followed on some evening, once each.
        struck: per posture the arcs of the keyway's bearing at which they strike; None: nothing does.
    """

    evening: Indices
    extents: Extents
    refused: tuple[PropagationError, ...]
    struck: dict[Posture, Struck] | None = None


class Standing(NamedTuple):
    """What passes of a season may strike: the station's lengths, and the elevation axis with its range."""

    lengths: Clearance
    elevation: ElevationAxis


class _Evening(NamedTuple):
    """The passes of one evening: rows as in `Extents`, (4, P)."""

    rows: Floats
    refused: tuple[PropagationError, ...]
    struck: dict[Posture, Struck] | None = None


def find_season(
    sets: Sequence[ElementSet],
    site: Site,
    tilt: Tilt,
    windows: Sequence[Window],
    progress: Progress = no_progress,
    standing: Standing | None = None,
) -> SeasonPasses:
    """The passes of every evening, with element sets made for statistics.

    Args:
        sets: element sets.
        site: the station, its mask and minimum elevation.
        tilt: the mount's lean.
        windows: start and end of each evening, POSIX seconds.
        progress: called with the number of evenings done.
        standing: what may be struck, where it is to be counted.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    lasting = [for_statistics(one) for one in sets]
    found = list(_each_evening(lasting, site, tilt, windows, progress, standing))
    refused: dict[int | None, PropagationError] = {}
    for one in found:
        for error in one.refused:
            refused.setdefault(error.norad_id, error)
    counts = [one.rows.shape[1] for one in found]
    return SeasonPasses(
        np.repeat(np.arange(len(windows)), counts),
        Extents(*np.concatenate([one.rows for one in found], axis=1)),
        tuple(refused.values()),
        None if standing is None else joined_evenings([one.struck or _NONE_STRUCK for one in found], counts),
    )


def _each_evening(
    sets: Sequence[ElementSet],
    site: Site,
    tilt: Tilt,
    windows: Sequence[Window],
    progress: Progress,
    standing: Standing | None,
) -> Iterator[_Evening]:
    for window in reported(windows, "searching evenings", progress, every=1):
        yield _evening(sets, site, tilt, window, standing)


def _evening(
    sets: Sequence[ElementSet], site: Site, tilt: Tilt, window: Window, standing: Standing | None
) -> _Evening:
    floor_deg = mask_floor_deg(site.horizon, site.minimum_elevation_deg)
    search = find_stays(sets, Observer.of_site(site), *window, floor_deg)
    passes = pass_table(search.table, site.horizon, site.minimum_elevation_deg)
    if not len(passes):
        return _Evening(np.zeros((4, 0)), search.refused)
    extents = extents_of(passes, tilt)
    rows = np.stack(list(vars(extents).values()))
    kept, struck = rises_or_sets(passes), None
    if standing is not None and kept.any():
        struck = struck_of(passes, kept, tilt, standing.lengths.keep_out, standing.elevation)
    return _Evening(rows[:, kept], search.refused, struck)


def rises_or_sets(passes: PassTable) -> Flags:
    """(M,) which passes are not over the mask all evening long."""
    return np.asarray(~(passes.cut_start & passes.cut_end))


def clear_of(extents: Extents, mount: Mount) -> dict[Posture, Arcs]:
    """Per posture the arcs of zeta in which each pass is clear."""
    return {posture: _clear(extents, mount, posture) for posture in POSTURES}


def not_clear_of(season: SeasonPasses, evenings: int, mount: Mount) -> AnySeason:
    """Where the season's passes are not clear, on so many evenings."""
    if season.struck is not None:
        return StruckSeason.of(season.evening, evenings, clear_of(season.extents, mount), season.struck)
    return NotClear.of(season.evening, evenings, *clear_of(season.extents, mount).values())


def _clear(extents: Extents, mount: Mount, posture: Posture) -> Arcs:
    shift = posture_shift_deg(posture)
    low, high = extents.azimuth_low_deg + shift, extents.azimuth_high_deg + shift
    return arcs_through(low, high, _in_range(extents, mount.elevation, posture), mount.azimuth)


def _in_range(extents: Extents, elevation: ElevationAxis, posture: Posture) -> Flags:
    """(M,) the elevation axis has such a posture, and its range holds the pass from AOS to LOS."""
    ends = [
        axis_elevation_deg(angle, posture)
        for angle in (extents.elevation_low_deg, extents.elevation_high_deg)
    ]
    inside = np.minimum(*ends) >= elevation.minimum_deg - INSIDE_DEG
    inside &= np.maximum(*ends) <= elevation.maximum_deg + INSIDE_DEG
    return np.asarray(inside & (posture == POSTURES[0] or elevation.maximum_deg > 90.0))
