"""From the paths over the spans of a search to the stays: of one chunk of satellites, and of all chunks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.ragged import first_least, ranges
from core.elements.model import ElementSet
from core.passes.cones import Ends, over_cone
from core.passes.fit import Spans
from core.passes.looks import Looks
from core.passes.paths import Paths
from core.passes.stays import StayTable, rows_at


@dataclass(frozen=True, eq=False)
class StayColumns:
    """The stays of one chunk of satellites: columns as in `StayTable`, by satellite and time.

    Attributes:
        index: (S,) position of each stay's element set in the search.
    """

    index: Indices
    start_utc_s: Floats
    end_utc_s: Floats
    paths: Paths
    cut_start: Flags
    cut_end: Flags
    peak: Floats
    tca: Floats


def stay_columns(spans: Spans, paths: Paths, floor_deg: float, indices: Sequence[int]) -> StayColumns:
    """Every stay over the floor within some spans.

    Args:
        spans: where stays may be.
        paths: over them, owned by their rows.
        floor_deg: the elevation the stays are over.
        indices: position in the search of each satellite that the spans name.
    """
    looks = Looks(paths)
    ends = over_cone(looks, floor_deg)
    span = paths.owner[ends.low_piece]
    cut_start, cut_end = np.isinf(ends.low), np.isinf(ends.high)
    ends = ends._replace(
        low=np.where(cut_start, spans.low[span], ends.low),
        high=np.where(cut_end, spans.high[span], ends.high),
    )
    peak, tca = _events(looks, ends)
    stay, piece = ranges(ends.low_piece, ends.high_piece + 1)
    return StayColumns(
        index=np.asarray(indices, dtype=np.intp)[spans.which[span]],
        start_utc_s=ends.low,
        end_utc_s=ends.high,
        paths=paths.taken(piece, stay),
        cut_start=cut_start,
        cut_end=cut_end,
        peak=peak,
        tca=tca,
    )


def stay_table(sets: Sequence[ElementSet], chunks: Sequence[StayColumns], floor_deg: float) -> StayTable:
    """The stays of all chunks in one table, by start, catalogue number and position in the search."""
    if not chunks:
        return StayTable.of(())
    index, start, end, cut_start, cut_end, peak, tca = (
        np.concatenate([getattr(chunk, name) for chunk in chunks])
        for name in ("index", "start_utc_s", "end_utc_s", "cut_start", "cut_end", "peak", "tca")
    )
    numbers = np.array([sets[i].norad_id for i in index.tolist()], dtype=np.intp)
    order = np.lexsort((index, numbers, start))
    paths = Paths.joined([chunk.paths for chunk in chunks], [chunk.index.size for chunk in chunks])
    return StayTable(
        satellites=tuple(sets[i].name for i in index[order].tolist()),
        norad_id=numbers[order],
        start_utc_s=start[order],
        end_utc_s=end[order],
        paths=paths.of_owners(order, index.size),
        cut_start=cut_start[order],
        cut_end=cut_end[order],
        peak=peak[order],
        tca=tca[order],
        floor_deg=floor_deg,
    )


def _events(looks: Looks, ends: Ends) -> tuple[Floats, Floats]:
    """Highest elevation and least range of every stay, rows (S, 4) each.

    A stay can have several tops, and the highest point can be one of its ends.
    """
    turn_piece, turn_utc_s = looks.turning(_climbing, _approaching)
    every = np.arange(ends.low.size)
    piece = np.concatenate([ends.low_piece, ends.high_piece, turn_piece])
    utc_s = np.concatenate([ends.low, ends.high, turn_utc_s])
    stay = np.concatenate([every, every, _stay_at(looks, ends, turn_piece, turn_utc_s)])
    order = np.lexsort((utc_s, stay))
    order = order[stay[order] >= 0]
    rows = rows_at(utc_s[order], looks.paths.at(piece[order], utc_s[order])[0])
    stay = stay[order]
    return rows[first_least(stay, -rows[:, 2])], rows[first_least(stay, rows[:, 3])]


def _climbing(position_km: Floats, velocity_km_s: Floats) -> Floats:
    """Positive while elevation rises: the rate of its sine times range cubed, smooth at the zenith too."""
    away = np.einsum("...i,...i->...", position_km, position_km)
    along = np.einsum("...i,...i->...", position_km, velocity_km_s)
    return np.asarray(velocity_km_s[..., 2] * away - position_km[..., 2] * along)


def _approaching(position_km: Floats, velocity_km_s: Floats) -> Floats:
    """Positive while range falls."""
    return np.asarray(-np.einsum("...i,...i->...", position_km, velocity_km_s))


def _stay_at(looks: Looks, ends: Ends, piece: Indices, utc_s: Floats) -> Indices:
    """The stay that each moment (N,) on a piece (N,) lies in, -1 where none."""
    count = ends.low.size
    owner = looks.paths.owner[np.concatenate([ends.low_piece, piece])]
    order = np.lexsort((np.concatenate([ends.low, utc_s]), owner))
    stay = np.empty(order.size, dtype=np.intp)
    stay[order] = np.cumsum(order < count) - 1
    stay, owner = stay[count:], owner[count:]
    if not count:
        return np.full(utc_s.size, -1)
    within = (stay >= 0) & (looks.paths.owner[ends.low_piece[stay]] == owner) & (utc_s < ends.high[stay])
    return np.where(within, stay, -1)
