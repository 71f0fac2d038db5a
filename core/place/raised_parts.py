"""The raised parts of a mask, a hill or some trees each: runs of bearings over the minimum elevation."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from core.place.site import HorizonPoint, mask_corners

#: A valley this far below both its neighbours parts two hills, degrees.
_VALLEY_DEG = 4.0


@dataclass(frozen=True)
class RaisedPart:
    """A raised part of the mask: a run of bearings where it stands over the minimum elevation.

    Attributes:
        from_deg: its counter-clockwise end, 0 to 360, true.
        to_deg: its clockwise end, above ``from_deg``; may run past 360.
        peak_deg: its highest elevation.
        hidden_s: seconds of the passes that it hides.
    """

    from_deg: float
    to_deg: float
    peak_deg: float
    hidden_s: float = 0.0


def raised_parts(horizon: Sequence[HorizonPoint], minimum_elevation_deg: float) -> tuple[RaisedPart, ...]:
    """The raised parts of a mask: runs over the minimum elevation, parted again at every deep valley."""
    ring = _ring(horizon)
    if len(ring) < 2:
        return ()
    runs = _runs(ring, minimum_elevation_deg)
    return tuple(part for run in runs for part in _parted(run))


def _ring(horizon: Sequence[HorizonPoint]) -> list[tuple[float, float]]:
    """Corners by bearing, the first one again a full circle on; a step has two corners at one bearing."""
    azimuths, elevations = mask_corners(horizon)
    corners = list(zip(azimuths.tolist(), elevations.tolist(), strict=True))
    return [*corners, (corners[0][0] + 360.0, corners[0][1])] if corners else []


def _runs(ring: list[tuple[float, float]], level: float) -> list[list[tuple[float, float]]]:
    """Chains of corners over the level, cut exactly where the mask crosses it; bearings rise in each."""
    runs: list[list[tuple[float, float]]] = []
    here: list[tuple[float, float]] = []
    for (a0, e0), (a1, e1) in itertools.pairwise(ring):
        if e0 > level and not here:
            here = [(a0, e0)]
        if (e0 > level) != (e1 > level):
            crossing = a0 + (a1 - a0) * (level - e0) / (e1 - e0)
            here.append((crossing, level))
            if e0 > level:
                runs.append(here)
                here = []
        if e1 > level:
            here.append((a1, e1))
    if here:
        runs.append(here)
    return _closed(runs, ring, level)


def _closed(
    runs: list[list[tuple[float, float]]], ring: list[tuple[float, float]], level: float
) -> list[list[tuple[float, float]]]:
    """Join the run that ends where the ring closes to the one that starts there."""
    # Where the mask only touches the level the hills on both sides stay two, as at any other bearing.
    over = ring[0][1] > level
    joins = over and len(runs) > 1 and runs[-1][-1] == ring[-1] and runs[0][0] == ring[0]
    if joins:
        runs = [*runs[1:-1], runs[-1] + [(a + 360.0, e) for a, e in runs[0][1:]]]
    whole = over and len(runs) == 1 and runs[0][-1][0] - runs[0][0][0] >= 360.0
    if whole:
        # A closed ring is cut at its lowest corner.
        corners = runs[0][:-1]
        lowest = min(range(len(corners)), key=lambda i: corners[i][1])
        turned = [*corners[lowest:], *((a + 360.0, e) for a, e in corners[: lowest + 1])]
        runs = [turned]
    return runs


def _parted(run: list[tuple[float, float]]) -> list[RaisedPart]:
    """A run parted at its deepest valley, and so on, until no valley is deep."""
    heights = [e for _a, e in run]
    depths = [min(max(heights[: i + 1]), max(heights[i:])) - heights[i] for i in range(len(run))]
    deepest = max(range(len(run)), key=lambda i: depths[i])
    if depths[deepest] >= _VALLEY_DEG:
        return _parted(run[: deepest + 1]) + _parted(run[deepest:])
    turns = 360.0 * (run[0][0] // 360.0)
    return [RaisedPart(run[0][0] - turns, run[-1][0] - turns, max(heights))]
