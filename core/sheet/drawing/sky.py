"""The sky of one pass as a polar plot."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from core.base.angles import Floats
from core.base.drawing import Disc, Drawing, Item, Label, Points, Stroke, arrow, on_paper
from core.base.times import clock
from core.mount.evening.drawn import DrawnPass
from core.place.site import HorizonPoint, mask_elevation_deg
from core.sheet.drawing.marks import MARK_OF, band

_SKY_MM = 46.0

_RING_MM = 18.2

#: Where the names of the four winds stand.
_NAMES_MM = _RING_MM + 2.9

#: True azimuths and elevations (N,) to points on the drawing.
Projection = Callable[[Floats, Floats], Points]


def sky(drawn: DrawnPass, horizon: Sequence[HorizonPoint]) -> Drawing:
    """Polar plot: zenith in the middle, horizon outside, mask, track with minute marks, start and end."""
    centre = _SKY_MM / 2.0

    def place(azimuth_deg: Floats, elevation_deg: Floats) -> Points:
        radius = _RING_MM * (90.0 - np.maximum(elevation_deg, -4.0)) / 90.0
        azimuth = np.radians(azimuth_deg)
        return list(
            zip(
                (centre + radius * np.sin(azimuth)).tolist(),
                (centre - radius * np.cos(azimuth)).tolist(),
                strict=True,
            )
        )

    track = place(drawn.azimuth_deg, drawn.elevation_deg)
    items: list[Item] = [Disc(centre, centre, _RING_MM, 0.4, "white")]
    items += _mask_comb(horizon, place)
    items += [Disc(centre, centre, _RING_MM * share, 0.15) for share in (1 / 3, 2 / 3)]
    for tick in range(0, 360, 30):
        items.append(Stroke(on_paper(place(np.full(2, float(tick)), np.array([-2.5, 0.0]))), 0.3))
    items.append(Stroke(on_paper([(centre - 1.2, centre), (centre + 1.2, centre)]), 0.2))
    items.append(Stroke(on_paper([(centre, centre - 1.2), (centre, centre + 1.2)]), 0.2))
    items += _ring_labels(track, centre)
    for name, azimuth in (("N", 0.0), ("E", 90.0), ("S", 180.0), ("W", 270.0)):
        aside = math.radians(azimuth)
        x, y = centre + _NAMES_MM * math.sin(aside), centre - _NAMES_MM * math.cos(aside)
        items.append(Label(x, y, name, bold=True, size_pt=10.0))
    for kind, first, last in drawn.runs():
        items += band(track[first : last + 1], MARK_OF[kind])
    items += _minutes(drawn, track, centre)
    items += _ends(track)
    return Drawing(_SKY_MM, _SKY_MM, tuple(items))


def _mask_comb(horizon: Sequence[HorizonPoint], place: Projection) -> list[Item]:
    """The mask's outline, and short strokes from the horizon up to it: what is hidden is combed."""
    if not horizon:
        return []
    azimuth = np.arange(0.0, 361.0, 2.0)
    height = np.clip(mask_elevation_deg(horizon, azimuth), 0.0, 90.0)
    outline = Stroke(on_paper(place(azimuth, height)), 0.35)
    combs = [
        Stroke(on_paper(place(np.array([a, a]), np.array([0.0, h]))), 0.15)
        for a, h in zip(azimuth[:-1:2].tolist(), height[:-1:2].tolist(), strict=True)
        if h > 0.5
    ]
    return [outline, *combs]


def _ring_labels(track: Points, centre: float) -> list[Item]:
    """30 and 60 on the diagonal that the track comes least near to."""
    best: tuple[float, list[Item]] = (-1.0, [])
    line = np.array(track)
    for azimuth in (45.0, 135.0, 225.0, 315.0):
        way = math.radians(azimuth)
        spots = [
            (centre + _RING_MM * share * math.sin(way), centre - _RING_MM * share * math.cos(way), text)
            for share, text in ((1 / 3, "60"), (2 / 3, "30"))
        ]
        near = min(float(np.hypot(line[:, 0] - x, line[:, 1] - y).min()) for x, y, _ in spots)
        if near > best[0]:
            best = near, [Label(x, y, text, on_white=True) for x, y, text in spots]
    return best[1]


def _minutes(drawn: DrawnPass, track: Points, centre: float) -> list[Item]:
    """A tick at every whole minute (every few of a long pass), its figure where there is room."""
    items: list[Item] = []
    taken: Points = [track[0], track[-1]]
    taken += [
        (centre + _NAMES_MM * math.sin(a), centre - _NAMES_MM * math.cos(a))
        for a in np.radians([0, 90, 180, 270])
    ]
    line = np.array(track)
    first = math.ceil(drawn.utc_s[0] / 60.0)
    last = math.floor(drawn.utc_s[-1] / 60.0)
    every = next((step for step in (1, 2, 5, 10, 20, 30) if (last - first) / step <= 30), 60)
    hours_too = last - first >= 60
    for minute in range(math.ceil(first / every) * every, last + 1, every):
        t = 60.0 * minute
        x, y = (float(np.interp(t, drawn.utc_s, line[:, i])) for i in (0, 1))
        dx, dy = _direction(drawn.utc_s, line, t)
        items.append(Stroke(on_paper([(x - 1.9 * dy, y + 1.9 * dx), (x + 1.9 * dy, y - 1.9 * dx)]), 0.3))
        spot = _roomy_spot((x, y), (dx, dy), taken, line, 2.6 if hours_too else 0.0)
        if spot is not None:
            taken.append(spot)
            text = clock(t, seconds=False)
            items.append(Label(*spot, text if hours_too else text[-2:], on_white=True))
    return items


def _direction(utc_s: Floats, line: Floats, t: float) -> tuple[float, float]:
    """Unit vector along the track on the paper."""
    span = 5.0
    a = [float(np.interp(t - span, utc_s, line[:, i])) for i in (0, 1)]
    b = [float(np.interp(t + span, utc_s, line[:, i])) for i in (0, 1)]
    length = max(math.dist(a, b), 1e-9)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _roomy_spot(
    at: tuple[float, float], along: tuple[float, float], taken: Points, line: Floats, wider_mm: float
) -> tuple[float, float] | None:
    """Beside the tick, on the side with more room; None where a label would cover another or the track."""
    best, room = None, 0.0
    for side in (1.0, -1.0):
        aside = (4.4 + wider_mm) * side
        spot = at[0] + aside * along[1], at[1] - aside * along[0]
        to_labels = min(math.dist(spot, other) for other in taken) - 5.8 - wider_mm
        to_track = float(np.hypot(line[:, 0] - spot[0], line[:, 1] - spot[1]).min()) - 3.4 - wider_mm
        if min(to_labels, to_track) > room:
            best, room = spot, min(to_labels, to_track)
    return best


def _ends(track: Points) -> list[Item]:
    """A ring where it starts, an arrow head where it ends."""
    x, y = track[0]
    start = [Disc(x, y, 1.9, 0.6, "white"), Disc(x, y, 0.6, 0.0, "black")]
    back = next((p for p in reversed(track) if math.dist(p, track[-1]) > 2.5), track[0])
    angle = math.atan2(track[-1][1] - back[1], track[-1][0] - back[0])
    tip = track[-1][0] + 1.6 * math.cos(angle), track[-1][1] + 1.6 * math.sin(angle)
    return [*start, arrow(tip, angle, 4.0)]
