"""From the paths over the spans of a search to the stays of a chunk of satellites."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from core.base.angles import Floats, Indices
from core.base.ragged import first_least, ranges
from core.elements.model import ElementSet
from core.passes.cones import over_cone
from core.passes.fit import Spans
from core.passes.frames import elevation, slant_range
from core.passes.looks import Looks
from core.passes.paths import Paths
from core.passes.stays import StayTable, rows_at

#: Looks at a piece of path; peaks, told by cubics between two of them, are then good to ten milliseconds.
_LOOKS = 9


def stays_within(spans: Spans, paths: Paths, floor_deg: float, sets: Sequence[ElementSet]) -> StayTable:
    """Every stay over the floor within some spans, by satellite and time.

    Args:
        spans: where stays may be.
        paths: over them, owned by their rows.
        floor_deg: the elevation the stays are over.
        sets: the satellites that the spans name.
    """
    looks = Looks.along(paths, _LOOKS)
    over = over_cone(looks, floor_deg)
    span, start, end = paths.owner[over.piece], over.start_utc_s, over.end_utc_s
    cut_start = start == looks.utc_s[np.searchsorted(paths.owner, span), 0]
    cut_end = end == looks.utc_s[np.searchsorted(paths.owner, span, side="right") - 1, -1]
    start, end = np.where(cut_start, spans.low[span], start), np.where(cut_end, spans.high[span], end)
    which = spans.which[span]
    stay, piece = ranges(over.piece, over.last_piece + 1)
    own = looks.taken(piece, stay)
    peak, tca = _events(own, start, end)
    return StayTable(
        satellites=tuple(map([one.name for one in sets].__getitem__, which.tolist())),
        norad_id=np.array([one.norad_id for one in sets], dtype=np.intp)[which],
        start_utc_s=start,
        end_utc_s=end,
        paths=own.paths,
        cut_start=cut_start,
        cut_end=cut_end,
        peak=peak,
        tca=tca,
        floor_deg=floor_deg,
    )


def _events(looks: Looks, start_utc_s: Floats, end_utc_s: Floats) -> tuple[Floats, Floats]:
    """Highest elevation and least range of every stay, rows (S, 4) each.

    A stay can have several tops, and the highest point can be one of its ends.
    """
    owner = looks.paths.owner
    first = np.searchsorted(owner, np.arange(start_utc_s.size + 1))
    ends = (first[:-1], start_utc_s), (first[1:] - 1, end_utc_s)
    piece, utc_s = (np.concatenate(column) for column in zip(_turns(looks), *ends, strict=True))
    stay = owner[piece]
    inside = np.flatnonzero((utc_s >= start_utc_s[stay]) & (utc_s <= end_utc_s[stay]))
    inside = inside[np.argsort(stay[inside], kind="stable")]
    stay, utc_s = stay[inside], utc_s[inside]
    position = looks.paths.position(piece[inside], utc_s)
    best = np.append(first_least(stay, -elevation(position)), first_least(stay, slant_range(position)))
    rows = rows_at(utc_s[best], position[best])
    return rows[: start_utc_s.size], rows[start_utc_s.size :]


def _turns(looks: Looks) -> tuple[Indices, Floats]:
    """Where elevation is highest, and then where range is least: pieces and moments (T,)."""
    position, velocity, acceleration = looks.position_km, looks.velocity_km_s, looks.acceleration_km_s2
    up, up_rate, up_bend = position[..., 2], velocity[..., 2], acceleration[..., 2]
    away = np.einsum("...i,...i->...", position, position)
    # Range times its rate, negative while range falls.
    along = np.einsum("...i,...i->...", position, velocity)
    along_rate = np.einsum("...i,...i->...", velocity, velocity)
    along_rate += np.einsum("...i,...i->...", position, acceleration)
    # The rate of the sine of elevation, times range cubed: smooth at the zenith too.
    climb = up_rate * away - up * along
    climb_rate = up_bend * away + up_rate * along - up * along_rate
    value, slope = np.array([climb, -along]), np.array([climb_rate, -along_rate])
    return looks.roots((value[..., :-1] > 0.0) & (value[..., 1:] <= 0.0), value, slope)
