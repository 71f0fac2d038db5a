"""What the horizon mask costs: seconds over the minimum elevation that it hides, by its raised parts.

Works on paths sampled once from the stays, so that dragging a point of the mask costs one array expression.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.base.angles import Floats, Indices, unwrap_deg, wrap_180, wrap_360
from core.base.ragged import parted
from core.passes.frames import azimuth_elevation
from core.passes.stays import Stay, StayTable
from core.place.raised_parts import RaisedPart, raised_parts
from core.place.site import HorizonPoint, mask_elevation_deg

#: Samples of a path, seconds apart at most; a slow one has no more than this many.
_STEP_S = 2.0
_MOST_SAMPLES = 1500
#: A pass with less than this over the mask counts as hidden altogether, seconds.
_NOTHING_S = 1.0


@dataclass(frozen=True, eq=False)
class SkyPaths:
    """The stays as samples, one stay after another, and as steps from each to the next.

    Attributes:
        azimuth_deg: of the samples (S,), true, 0 to 360.
        elevation_deg: of the samples (S,).
        first: where each step begins (N,), rising; it ends a sample further.
        seconds: length of each step (N,).
        owner: which stay each step belongs to (N,).
        count: how many stays there are.
    """

    azimuth_deg: Floats
    elevation_deg: Floats
    first: Indices
    seconds: Floats
    owner: Indices
    count: int

    @cached_property
    def middle_azimuth_deg(self) -> Floats:
        """In the middle of each step (N,), 0 to 360."""
        first, last = self.azimuth_deg[self.first], self.azimuth_deg[self.first + 1]
        return wrap_360(first + 0.5 * wrap_180(last - first))

    def line(self, index: int) -> tuple[Floats, Floats]:
        """Azimuth, unwrapped, and elevation along one stay, (N,) each."""
        here = slice(*np.searchsorted(self.owner, [index, index + 1]))
        steps = self.first[here]
        samples = np.append(steps, steps[-1:] + 1)
        return unwrap_deg(self.azimuth_deg[samples]), self.elevation_deg[samples]


@dataclass(frozen=True)
class MaskCost:
    """What a mask costs some passes.

    Attributes:
        passes: how many rise over the minimum elevation.
        hidden_passes: how many of them the mask hides altogether.
        seconds: all their seconds over the minimum elevation.
        hidden_s: how many of these the mask hides.
        parts: its raised parts by what they cost, the dearest first.
    """

    passes: int
    hidden_passes: int
    seconds: float
    hidden_s: float
    parts: tuple[RaisedPart, ...]


def sky_paths(stays: Sequence[Stay]) -> SkyPaths:
    """Sample the stays; nothing propagates."""
    table = StayTable.of(stays)
    length_s = table.end_utc_s - table.start_utc_s
    parts = np.clip(np.ceil(length_s / _STEP_S), 1, _MOST_SAMPLES).astype(np.intp)
    owner, share = parted(parts)
    # The steps' beginnings, and the end of every stay.
    every = np.arange(parts.size)
    rows = np.concatenate([owner, every])
    utc_s = table.start_utc_s[rows] + length_s[rows] * np.concatenate([share, np.ones(parts.size)])
    order = np.lexsort((utc_s, rows))
    rows, utc_s = rows[order], utc_s[order]
    azimuth, elevation = azimuth_elevation(table.paths.position(table.paths.piece_at(rows, utc_s), utc_s))
    first = np.flatnonzero(rows[1:] == rows[:-1])
    return SkyPaths(
        azimuth_deg=azimuth,
        elevation_deg=elevation,
        first=first,
        seconds=np.diff(utc_s)[first],
        owner=owner,
        count=parts.size,
    )


def mask_cost(
    paths: SkyPaths,
    horizon: Sequence[HorizonPoint],
    minimum_elevation_deg: float,
    only: frozenset[int] | None = None,
) -> MaskCost:
    """What a mask costs.

    Args:
        paths: of all stays.
        horizon: the mask.
        minimum_elevation_deg: what does not count even without a mask.
        only: indices of the stays to count; None counts all.

    Good to a second a pass: the crossing within a step is taken on a straight line.
    """
    chosen = np.ones(paths.count, dtype=bool)
    if only is not None:
        chosen[:] = False
        chosen[sorted(only)] = True
    level = minimum_elevation_deg
    limit = np.maximum(mask_elevation_deg(horizon, paths.azimuth_deg), level)
    clear = _share_above(paths.elevation_deg - level, paths.first)
    seen = _share_above(paths.elevation_deg - limit, paths.first)
    counted = paths.seconds * chosen[paths.owner]
    hidden = np.maximum(clear - seen, 0.0) * counted
    over = np.bincount(paths.owner, clear * counted, minlength=paths.count)
    left = over - np.bincount(paths.owner, hidden, minlength=paths.count)
    risen = over > _NOTHING_S
    parts = _with_seconds(raised_parts(horizon, level), paths.middle_azimuth_deg, hidden)
    return MaskCost(
        passes=int(risen.sum()),
        hidden_passes=int((risen & (left < _NOTHING_S)).sum()),
        seconds=float(over.sum()),
        hidden_s=float(hidden.sum()),
        parts=tuple(sorted(parts, key=lambda part: -part.hidden_s)),
    )


def cost_words(cost: MaskCost, whose: str = "tonight's") -> str:
    """One sentence: "the horizon from 200 to 240 costs 31 of tonight's 190 minutes"."""
    whole = f"{round(cost.seconds / 60.0)}"
    if not cost.parts:
        return f"Nothing stands over the minimum elevation: all of {whose} {whole} minutes are in sight."
    dear = [part for part in cost.parts if part.hidden_s >= 1.0]
    if not dear:
        return f"The horizon hides none of {whose} {whole} minutes."
    first = dear[0]
    dearest = minutes_words(first.hidden_s).removesuffix(" min")
    sentence = f"The horizon {_from_to(first)} costs {dearest} of {whose} {whole} minutes"
    if len(dear) > 1:
        sentence += f"; all of it costs {minutes_words(cost.hidden_s)}"
    return sentence + "."


def rest_words(cost: MaskCost) -> str:
    """What the other parts cost, and the passes that are hidden altogether; empty where there is nothing."""
    others = [part for part in cost.parts[1:] if part.hidden_s >= 1.0]
    phrases = [f"{_from_to(part)} {minutes_words(part.hidden_s)}" for part in others[:5]]
    said = f"Then {', '.join(phrases)}." if phrases else ""
    if cost.hidden_passes:
        noun, verb = ("pass", "is") if cost.hidden_passes == 1 else ("passes", "are")
        said += f" {cost.hidden_passes} of {cost.passes} {noun if cost.passes == 1 else 'passes'} "
        said += f"{verb} hidden altogether."
    return said.strip()


def minutes_words(seconds: float) -> str:
    """``"31 min"``, or seconds below two minutes."""
    return f"{round(seconds)} s" if seconds < 120.0 else f"{round(seconds / 60.0)} min"


def _share_above(clearance_deg: Floats, first: Indices) -> Floats:
    """Share of each step (N,) over zero, on the straight line between its ends' clearances (S,)."""
    over = clearance_deg > 0.0
    share = over[first].astype(float)
    mixed = np.flatnonzero(over[first] != over[first + 1])
    begin, end = clearance_deg[first[mixed]], clearance_deg[first[mixed] + 1]
    share[mixed] = np.clip(np.maximum(begin, end) / np.abs(end - begin), 0.0, 1.0)
    return share


def _with_seconds(parts: tuple[RaisedPart, ...], azimuth_deg: Floats, hidden_s: Floats) -> list[RaisedPart]:
    """Every hidden second goes to the part it is in, or to the nearest one (a step can straddle an end)."""
    if not parts:
        return []
    centres = np.array([0.5 * (part.from_deg + part.to_deg) for part in parts])
    halves = np.array([0.5 * (part.to_deg - part.from_deg) for part in parts])
    where = np.flatnonzero(hidden_s > 0.0)
    outside = np.abs(wrap_180(azimuth_deg[where, None] - centres)) - halves
    sums = np.bincount(np.argmin(outside, axis=1), hidden_s[where], minlength=len(parts))
    return [
        RaisedPart(part.from_deg, part.to_deg, part.peak_deg, float(seconds))
        for part, seconds in zip(parts, sums, strict=True)
    ]


def _from_to(part: RaisedPart) -> str:
    if part.to_deg - part.from_deg >= 359.5:
        return "all round"
    return f"from {part.from_deg:.0f} to {part.to_deg % 360.0:.0f}"
