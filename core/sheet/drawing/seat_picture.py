"""The station from above: plate, keyway, holes, both stops and the travel between them."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

from core.base.angles import wrap_180
from core.base.drawing import (
    Anchor,
    Disc,
    Drawing,
    Item,
    Label,
    Points,
    Stroke,
    arrow,
    line_of,
    on_paper,
)
from core.base.words import bearing_text
from core.mount.model.from_above import FromAbove, station_from_above
from core.mount.model.station import Mount
from core.sheet.drawing.marks import Mark, band

_SEAT_MM = (90.0, 72.0)

_COMPASS_MM = 24.5

_PLATE_MM = 10.8

_HOLES_MM = 8.0

_SPIRAL_MM = 13.6

#: Half the height of a line of letters.
_LETTERS_MM = 2.2

#: More holes than this, or longer names, would cover each other: then they stay unnamed.
_NAMED_HOLES, _NAME_LETTERS = 8, 2

#: A bearing and a radius in millimetres to a point on the drawing.
Polar = Callable[[float, float], tuple[float, float]]


def seat_picture(mount: Mount) -> Drawing:
    """Plate, keyway with the hole in use, the other holes, both stops and the travel between them."""
    above = station_from_above(mount)
    items = _items(above, _SEAT_MM[1] / 2.0)
    top, bottom = _heights(items)
    return Drawing(_SEAT_MM[0], bottom - top, tuple(_items(above, _SEAT_MM[1] / 2.0 - top)))


def _heights(items: list[Item]) -> tuple[float, float]:
    """From where to where the items reach: callouts stand where the bearings are, and the rest is white."""
    reach = [
        (item.y_mm - item.radius_mm, item.y_mm + item.radius_mm)
        if isinstance(item, Disc)
        else (item.y_mm - _LETTERS_MM, item.y_mm + _LETTERS_MM)
        if isinstance(item, Label)
        else (min(y for _, y in item.points_mm), max(y for _, y in item.points_mm))
        for item in items
    ]
    return min(low for low, _ in reach) - 0.5, max(high for _, high in reach) + 0.5


def _items(above: FromAbove, cy: float) -> list[Item]:
    """Everything, about a middle so high."""
    cx = _SEAT_MM[0] / 2.0

    def polar(azimuth_deg: float, radius_mm: float) -> tuple[float, float]:
        a = math.radians(azimuth_deg)
        return cx + radius_mm * math.sin(a), cy - radius_mm * math.cos(a)

    items: list[Item] = [Disc(cx, cy, _COMPASS_MM, 0.3, "white")]
    for tick in range(0, 360, 10):
        length = 1.2 if tick % 30 else 2.4
        items.append(Stroke(on_paper([polar(tick, _COMPASS_MM), polar(tick, _COMPASS_MM - length)]), 0.2))
    for name, azimuth in (("N", 0.0), ("E", 90.0), ("S", 180.0), ("W", 270.0)):
        items.append(Label(*polar(azimuth, _COMPASS_MM - 4.6), name, bold=True, size_pt=10.0))
    items += _travel_spiral(above, polar)
    items += _plate(above, (cx, cy), polar)
    named = [
        ("keyway", above.keyway_deg, 0.0),
        ("ccw stop", above.counter_clockwise_stop_deg, 1.0),
        ("cw stop", above.clockwise_stop_deg, -1.0),
    ]
    return items + _callouts(named, polar)


def _travel_spiral(above: FromAbove, polar: Polar) -> list[Item]:
    """From the counter-clockwise stop outward to the clockwise one, so that an overlap lies beside itself."""
    travel, guard = above.travel_deg, above.guards[0].span_deg
    rise = min(3.0 * max(travel / 360.0, 1.0), 4.6)

    def at(m_deg: float, aside_mm: float = 0.0) -> tuple[float, float]:
        return polar(above.counter_clockwise_stop_deg + m_deg, _SPIRAL_MM + rise * m_deg / travel + aside_mm)

    def arc(start: float, end: float) -> Points:
        return [at(m) for m in np.linspace(start, end, max(int(abs(end - start) / 2.0), 8)).tolist()]

    items: list[Item] = [line_of(arc(guard, travel - guard), 0.9)]
    if guard > 0.0:
        items += band(arc(0.0, guard), Mark.OUTLINED, 0.8)
        items += band(arc(travel - guard, travel), Mark.OUTLINED, 0.8)
    items += [line_of([at(m, -1.8), at(m, 1.8)], 1.1) for m in (0.0, travel)]
    middle, ahead = at(travel * 0.5), at(travel * 0.5 + 4.0)
    angle = math.atan2(ahead[1] - middle[1], ahead[0] - middle[0])
    return [*items, arrow(ahead, angle, 3.8)]


def _plate(above: FromAbove, centre: tuple[float, float], polar: Polar) -> list[Item]:
    """The adapter plate: keyway slot with the screw in it, datum mark, the holes not in use."""
    kappa, datum = above.keyway_deg, above.datum_deg
    items: list[Item] = [Disc(*centre, _PLATE_MM, 0.5, "white"), Disc(*centre, 2.4, 0.25)]
    items.append(line_of([polar(kappa, 6.2), polar(kappa, _PLATE_MM)], 3.0))
    items.append(Disc(*polar(kappa, _HOLES_MM), 0.9, 0.0, "white"))
    tip = polar(datum, _PLATE_MM + 0.3)
    sides = [polar(datum + lean, _PLATE_MM + 2.7) for lean in (-6.0, 6.0)]
    items.append(Stroke(on_paper([tip, *sides]), 0.2, closed=True, fill="black"))
    others = [hole for hole in above.holes if not hole.in_use]
    name_them = len(others) <= _NAMED_HOLES and all(len(h.name) <= _NAME_LETTERS for h in others)
    for other in others:
        items.append(Disc(*polar(other.bearing_deg, _HOLES_MM), 1.2, 0.3, "white"))
        if name_them:
            items.append(Label(*polar(other.bearing_deg, 4.8), other.name))
    return items


def _callouts(named: list[tuple[str, float, float]], polar: Polar) -> list[Item]:
    """Names with bearings outside the ring, pushed apart where two would touch, each with a leader."""
    spots = _apart([azimuth + 0.5 * lean for _, azimuth, lean in named], 22.0)
    items: list[Item] = []
    for (name, azimuth, _), spot in zip(named, spots, strict=True):
        ends = [
            polar(azimuth, _COMPASS_MM),
            polar(azimuth, _COMPASS_MM + 1.6),
            polar(spot, _COMPASS_MM + 4.2),
        ]
        items.append(Stroke(on_paper(ends), 0.3))
        x, y = polar(spot, _COMPASS_MM + 5.2)
        across, down = math.sin(math.radians(spot)), -math.cos(math.radians(spot))
        anchor: Anchor = "center" if abs(across) < 0.34 else ("left" if across > 0 else "right")
        y += 4.0 * down if anchor == "center" else 2.0 * down
        items.append(Label(x, y - 2.0, name, anchor, bold=True))
        items.append(Label(x, y + 2.0, bearing_text(azimuth), anchor))
    return items


def _apart(bearings_deg: list[float], least_deg: float) -> list[float]:
    """Bearings pushed from each other, a little at a time, until none are nearer than the least."""
    spots = list(bearings_deg)
    for _ in range(60):
        for i in range(len(spots)):
            for j in range(i + 1, len(spots)):
                apart = wrap_180(spots[j] - spots[i])
                push = max(least_deg - abs(apart), 0.0) / 2.0 * (1.0 if apart >= 0.0 else -1.0)
                spots[i], spots[j] = spots[i] - push, spots[j] + push
    return spots
