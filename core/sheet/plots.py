"""Drawings in plain black: the marks, the sky of a pass, the evening on the dial, the station from above.

North up, east right, angles clockwise, in millimetres from the upper left corner. Nothing is told by a shade
of grey, so that a copy of a copy still reads.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from enum import Enum
from itertools import pairwise

import numpy as np

from core.base.angles import Floats, wrap_180
from core.base.times import clock
from core.base.words import bearing_text
from core.mount.dial.readings import azimuth_dial, dial_figure
from core.mount.evening.drawn import DrawnPass, Kind
from core.mount.evening.results import Contact
from core.mount.model.chain import zeta_deg
from core.mount.model.from_above import FromAbove, station_from_above
from core.mount.model.results import Verdict
from core.mount.model.station import Mount
from core.place.site import HorizonPoint, mask_elevation_deg
from core.place.zones import local_clock
from core.sheet.nouns import Anchor, Disc, Drawing, Item, Label, Stroke

Points = list[tuple[float, float]]
#: True azimuths and elevations (N,) to points on the drawing.
Place = Callable[[Floats, Floats], Points]
#: A bearing and a radius in millimetres to a point on the drawing.
Polar = Callable[[float, float], tuple[float, float]]
_BAND_MM = 1.0


class Mark(Enum):
    """What a stretch of a pass looks like on paper."""

    FILLED = "filled"
    HATCHED = "hatched"
    OUTLINED = "outlined"
    GAP = "gap"
    HIDDEN = "hidden"


#: How a moment is worked says how it is drawn.
MARK_OF: dict[Kind, Mark] = {
    Kind.UPRIGHT: Mark.FILLED,
    Kind.OVER_THE_TOP: Mark.HATCHED,
    Kind.MOVING: Mark.GAP,
    Kind.LET_GO: Mark.OUTLINED,
    Kind.HIDDEN: Mark.HIDDEN,
}


# --- marks ------------------------------------------------------------------------------------------------


def band(points_mm: Points, mark: Mark, half_width_mm: float = _BAND_MM) -> list[Item]:
    """A stretch of a track in its mark; a gap paints nothing, what the mask hides is a thin line."""
    points = _thinned(points_mm, 0.25)
    if mark is Mark.GAP or len(points) < 2:
        return []
    if mark is Mark.HIDDEN:
        return [_stroke(points, 0.25)]
    if mark is Mark.FILLED:
        return [_stroke(points, 2.0 * half_width_mm)]
    left, right = _edges(points, half_width_mm - 0.15)
    outline = Stroke(_tuple([*left, *reversed(right)]), 0.3, closed=True, fill="white")
    return [outline, *(_hatch(left, right, half_width_mm) if mark is Mark.HATCHED else [])]


def _stroke(points: Points, width_mm: float) -> Stroke:
    return Stroke(_tuple(points), width_mm)


def _tuple(points: Points) -> tuple[tuple[float, float], ...]:
    return tuple((round(float(x), 3), round(float(y), 3)) for x, y in points)


def _thinned(points: Points, apart_mm: float) -> Points:
    """First and last, and between them those at least so far from the last one kept."""
    kept = points[:1]
    for point in points[1:-1]:
        if math.dist(point, kept[-1]) >= apart_mm:
            kept.append(point)
    if len(points) > 1 and math.dist(points[-1], kept[-1]) > 1e-6:
        kept.append(points[-1])
    return kept


def _edges(points: Points, aside_mm: float) -> tuple[Points, Points]:
    line = np.array(points)
    along = np.gradient(line, axis=0)
    length = np.hypot(along[:, 0], along[:, 1])
    normal = np.stack([-along[:, 1], along[:, 0]], axis=1) / np.maximum(length, 1e-9)[:, None]
    return (
        [(float(x), float(y)) for x, y in line - aside_mm * normal],
        [(float(x), float(y)) for x, y in line + aside_mm * normal],
    )


def _hatch(left: Points, right: Points, half_width_mm: float) -> list[Item]:
    """Oblique strokes from edge to edge at equal distances along the band."""
    middle = (np.array(left) + np.array(right)) / 2.0
    run = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(middle, axis=0), axis=1))])
    slant = 1.2 * half_width_mm
    places = np.arange(0.5 * half_width_mm, max(run[-1] - slant, 0.0) + 1e-9, 1.5 * half_width_mm)
    return [Stroke(_tuple([_along(left, run, s), _along(right, run, s + slant)]), 0.45) for s in places]


def _along(points: Points, run: Floats, at_mm: float) -> tuple[float, float]:
    line = np.array(points)
    return float(np.interp(at_mm, run, line[:, 0])), float(np.interp(at_mm, run, line[:, 1]))


def verdict_mark(word: Verdict, hatched_first: bool = False, hatched_last: bool = False) -> Drawing:
    """The mark of a verdict, as it stands in lists and in the legend.

    Args:
        word: the verdict.
        hatched_first, hatched_last: a split's halves (a part's worked piece) are over the top.
    """
    width, height, half = 14.0, 4.0, 1.4
    middle = height / 2.0

    def piece(start: float, end: float, mark: Mark) -> list[Item]:
        steps = np.linspace(start, end, 9)
        return band([(float(x), middle) for x in steps], mark, half)

    first = Mark.HATCHED if hatched_first else Mark.FILLED
    last = Mark.HATCHED if hatched_last else Mark.FILLED
    pieces: dict[Verdict, list[tuple[float, float, Mark]]] = {
        Verdict.UPRIGHT: [(0.5, 13.5, Mark.FILLED)],
        Verdict.OVER_THE_TOP: [(0.5, 13.5, Mark.HATCHED)],
        Verdict.SPLIT: [(0.5, 5.2, first), (8.8, 13.5, last)],
        Verdict.PART: [(7.0, 13.5, Mark.OUTLINED), (0.5, 7.5, first)],
        Verdict.OUT_OF_REACH: [(0.5, 13.5, Mark.OUTLINED)],
    }
    items = [item for piece_ in pieces[word] for item in piece(*piece_)]
    return Drawing(width, height, tuple(items))


# --- the sky of one pass ----------------------------------------------------------------------------------

_SKY_MM = 62.0
_RING_MM = 26.0


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
        items.append(Stroke(_tuple(place(np.full(2, float(tick)), np.array([-2.5, 0.0]))), 0.3))
    items.append(Stroke(_tuple([(centre - 1.2, centre), (centre + 1.2, centre)]), 0.2))
    items.append(Stroke(_tuple([(centre, centre - 1.2), (centre, centre + 1.2)]), 0.2))
    items += _ring_labels(track, centre)
    for name, azimuth in (("N", 0.0), ("E", 90.0), ("S", 180.0), ("W", 270.0)):
        aside = math.radians(azimuth)
        x, y = centre + 29.2 * math.sin(aside), centre - 29.0 * math.cos(aside)
        items.append(Label(x, y, name, bold=True, size_pt=10.0))
    for kind, first, last in drawn.runs():
        items += band(track[first : last + 1], MARK_OF[kind])
    items += _minutes(drawn, track, centre)
    items += _ends(track)
    return Drawing(_SKY_MM, _SKY_MM, tuple(items))


def _mask_comb(horizon: Sequence[HorizonPoint], place: Place) -> list[Item]:
    """The mask's outline, and short strokes from the horizon up to it: what is hidden is combed."""
    if not horizon:
        return []
    azimuth = np.arange(0.0, 361.0, 2.0)
    height = np.clip(mask_elevation_deg(horizon, azimuth), 0.0, 90.0)
    outline = Stroke(_tuple(place(azimuth, height)), 0.35)
    combs = [
        Stroke(_tuple(place(np.array([a, a]), np.array([0.0, h]))), 0.15)
        for a, h in zip(azimuth[:-1:2].tolist(), height[:-1:2].tolist(), strict=True)
        if h > 0.5
    ]
    return [outline, *combs]


def _ring_labels(track: Points, centre: float) -> list[Item]:
    """30 and 60 on the diagonal that the track comes least near to."""
    best: tuple[float, list[Item]] = (-1.0, [])
    for azimuth in (45.0, 135.0, 225.0, 315.0):
        way = math.radians(azimuth)
        spots = [
            (centre + _RING_MM * share * math.sin(way), centre - _RING_MM * share * math.cos(way), text)
            for share, text in ((1 / 3, "60"), (2 / 3, "30"))
        ]
        near = min(math.dist((x, y), point) for x, y, _ in spots for point in track)
        if near > best[0]:
            best = near, [Label(x, y, text, on_white=True) for x, y, text in spots]
    return best[1]


def _minutes(drawn: DrawnPass, track: Points, centre: float) -> list[Item]:
    """A tick at every whole minute (every few of a long pass), its figure where there is room."""
    items: list[Item] = []
    taken: Points = [track[0], track[-1]]
    taken += [
        (centre + 29.2 * math.sin(a), centre - 29.0 * math.cos(a)) for a in np.radians([0, 90, 180, 270])
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
        items.append(Stroke(_tuple([(x - 1.9 * dy, y + 1.9 * dx), (x + 1.9 * dy, y - 1.9 * dx)]), 0.3))
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
    return [*start, _arrow(tip, angle, 4.0)]


# --- the evening on the dial ------------------------------------------------------------------------------

_STRIP_MM = (182.0, 74.0)
_LONGEST_STRIP_S = 86_400.0
#: Width of HH:MM at 9 pt.
_CLOCK_MM = 9.5


def evening_strip(
    contacts: Sequence[Contact], passes: Sequence[DrawnPass], mount: Mount, zone: str
) -> Drawing | None:
    """Time across, mechanical azimuth up from stop to stop; None without contacts or for more than a day."""
    told = [(i, c) for i, c in enumerate(passes) if c.in_reach]
    if not told:
        return None
    start = min(c.utc_s[0] for _, c in told)
    end = max(c.utc_s[-1] for _, c in told)
    if end - start > _LONGEST_STRIP_S:
        return None
    frame = _StripFrame(float(start), float(end), mount)
    items = [*frame.scales(zone), *_moves(contacts, frame)]
    strokes: list[tuple[int, Points]] = []
    for index, drawn in told:
        points = [frame.at(t, m) for t, m in zip(drawn.utc_s.tolist(), drawn.m_deg.tolist(), strict=True)]
        for kind, first, last in drawn.runs():
            items += band(points[first : last + 1], MARK_OF[kind], 0.8)
        strokes.append((index + 1, _thinned(points, 1.0)))
    return Drawing(*_STRIP_MM, (*items, *_number_labels(strokes, frame)))


class _StripFrame:
    """Where a moment and a mechanical azimuth lie on the strip."""

    left, right, top, bottom = 17.0, 159.0, 3.0, 62.0

    def __init__(self, start_s: float, end_s: float, mount: Mount) -> None:
        pad = max(0.02 * (end_s - start_s), 60.0)
        self.start_s, self.end_s = start_s - pad, end_s + pad
        self.mount, self.axis = mount, mount.azimuth

    def at(self, utc_s: float, m_deg: float) -> tuple[float, float]:
        """Millimetres on the drawing."""
        share = (utc_s - self.start_s) / (self.end_s - self.start_s)
        height = self.bottom - self.top
        return (
            self.left + share * (self.right - self.left),
            self.bottom - m_deg / self.axis.travel_deg * height,
        )

    def scales(self, zone: str) -> list[Item]:
        """Stops, guards, dial figures to the left, true bearings to the right, UTC and local below."""
        items: list[Item] = [Label(self.left - 1.5, self.bottom + 4.0, "UTC", "right")]
        items.append(Label(self.left - 1.5, self.bottom + 8.6, "local", "right"))
        step = 90.0 if self.axis.travel_deg <= 720.0 else 180.0
        zeta = zeta_deg(self.mount)
        inner = [float(m) for m in np.arange(step, self.axis.travel_deg - 0.3 * step, step)]
        for m in [0.0, *inner, self.axis.travel_deg]:
            y = self.at(self.start_s, m)[1]
            edge = m in {0.0, self.axis.travel_deg}
            items.append(Stroke(_tuple([(self.left, y), (self.right, y)]), 0.7 if edge else 0.12))
            figure = dial_figure(azimuth_dial(m, self.axis).shown_deg)
            items.append(Label(self.left - 1.5, y, figure, "right", 10.0, bold=True))
            items.append(Label(self.right + 1.5, y, f"{bearing_text(zeta + m)} true", "left"))
        items += self._guard_hatch()
        items += self._time_marks(zone)
        return items

    def _guard_hatch(self) -> list[Item]:
        """From a little beyond each stop to its guard: where the boom must not go."""
        items: list[Item] = []
        for stop_m, guard_m, outward in (
            (0.0, self.axis.guard_deg, 1.0),
            (self.axis.travel_deg, self.axis.travel_deg - self.axis.guard_deg, -1.0),
        ):
            outer = self.at(self.start_s, stop_m)[1] + 1.3 * outward
            inner = self.at(self.start_s, guard_m)[1]
            items.append(Stroke(_tuple([(self.left, inner), (self.right, inner)]), 0.12))
            slant = abs(outer - inner)
            places = np.arange(self.left, self.right - slant + 1e-9, 1.6)
            items += [Stroke(_tuple([(x, outer), (x + slant, inner)]), 0.15) for x in places.tolist()]
        return items

    def _time_marks(self, zone: str) -> list[Item]:
        span_min = (self.end_s - self.start_s) / 60.0
        step_s = next(60.0 * s for s in (5, 10, 15, 30, 60, 120, 180, 240, 360) if span_min / s <= 11)
        items: list[Item] = []
        for t in np.arange(math.ceil(self.start_s / step_s) * step_s, self.end_s, step_s).tolist():
            x = self.at(t, 0.0)[0]
            items.append(Stroke(_tuple([(x, self.top), (x, self.bottom + 2.0)]), 0.12, "dotted"))
            if x - self.left > _CLOCK_MM / 2.0:  # else it would run into the words UTC and local
                items.append(Label(x, self.bottom + 4.0, clock(t, seconds=False)))
                items.append(Label(x, self.bottom + 8.6, local_clock(t, zone, seconds=False)))
        return items


def _moves(contacts: Sequence[Contact], frame: _StripFrame) -> list[Item]:
    """Dashed from where the hand leaves the mount to where the next pass starts; a split's move likewise."""
    items: list[Item] = []
    for before, after in pairwise(contacts):
        move = after.move_before
        if move is not None:
            ends = [frame.at(before.end_utc_s, move.m_from_deg), frame.at(after.start_utc_s, move.m_to_deg)]
            items.append(Stroke(_tuple(ends), 0.25, "dashed"))
    for contact in contacts:
        split = contact.check.split
        if split is not None:
            ends = [
                frame.at(split.start_utc_s, split.m_from_deg),
                frame.at(split.end_utc_s, split.m_to_deg),
            ]
            items.append(Stroke(_tuple(ends), 0.25, "dashed"))
    return items


def _number_labels(strokes: Sequence[tuple[int, Points]], frame: _StripFrame) -> list[Label]:
    """Each contact's number beside its stroke, where it covers least: over, under, before or after it."""
    labels: list[Label] = []
    every = np.array([point for _, points in strokes for point in points])
    for number, points in strokes:
        high, low = min(points, key=lambda p: p[1]), max(points, key=lambda p: p[1])
        first, last = points[0], points[-1]
        spots = [
            (high[0], high[1] - 3.4),
            (low[0], low[1] + 3.4),
            (first[0] - 3.6, first[1]),
            (last[0] + 3.6, last[1]),
        ]

        def room(spot: tuple[float, float]) -> float:
            to_strokes = float(np.hypot(every[:, 0] - spot[0], every[:, 1] - spot[1]).min()) - 2.9
            to_labels = min((math.dist(spot, (o.x_mm, o.y_mm)) for o in labels), default=9.0) - 4.6
            to_edges = min(spot[1] - frame.top, frame.bottom - spot[1]) - 2.2
            return min(to_strokes, to_labels, to_edges)

        x, y = next((spot for spot in spots if room(spot) >= 0.0), max(spots, key=room))
        labels.append(Label(round(x, 3), round(y, 3), str(number), bold=True, on_white=True))
    return labels


# --- the station from above -------------------------------------------------------------------------------

_SEAT_MM = (108.0, 92.0)
_COMPASS_MM = 33.0
_PLATE_MM = 13.2
_HOLES_MM = 10.0
_SPIRAL_MM = 18.2
#: More holes than this, or longer names, would cover each other: then they stay unnamed.
_NAMED_HOLES, _NAME_LETTERS = 8, 2


def seat_picture(mount: Mount) -> Drawing:
    """Plate, keyway with the hole in use, the other holes, both stops and the travel between them."""
    cx, cy = _SEAT_MM[0] / 2.0, _SEAT_MM[1] / 2.0

    def polar(azimuth_deg: float, radius_mm: float) -> tuple[float, float]:
        a = math.radians(azimuth_deg)
        return cx + radius_mm * math.sin(a), cy - radius_mm * math.cos(a)

    above = station_from_above(mount)
    items: list[Item] = [Disc(cx, cy, _COMPASS_MM, 0.3, "white")]
    for tick in range(0, 360, 10):
        length = 1.2 if tick % 30 else 2.4
        items.append(Stroke(_tuple([polar(tick, _COMPASS_MM), polar(tick, _COMPASS_MM - length)]), 0.2))
    for name, azimuth in (("N", 0.0), ("E", 90.0), ("S", 180.0), ("W", 270.0)):
        items.append(Label(*polar(azimuth, _COMPASS_MM - 4.6), name, bold=True, size_pt=10.0))
    items += _travel_spiral(above, polar)
    items += _plate(above, (cx, cy), polar)
    named = [
        ("keyway", above.keyway_deg, 0.0),
        ("ccw stop", above.counter_clockwise_stop_deg, 1.0),
        ("cw stop", above.clockwise_stop_deg, -1.0),
    ]
    items += _callouts(named, polar)
    return Drawing(*_SEAT_MM, tuple(items))


def _travel_spiral(above: FromAbove, polar: Polar) -> list[Item]:
    """From the counter-clockwise stop outward to the clockwise one, so that an overlap lies beside itself."""
    travel, guard = above.travel_deg, above.guards[0].span_deg
    rise = min(4.0 * max(travel / 360.0, 1.0), 7.0)

    def at(m_deg: float, aside_mm: float = 0.0) -> tuple[float, float]:
        return polar(above.counter_clockwise_stop_deg + m_deg, _SPIRAL_MM + rise * m_deg / travel + aside_mm)

    def arc(start: float, end: float) -> Points:
        return [at(m) for m in np.linspace(start, end, max(int(abs(end - start) / 2.0), 8)).tolist()]

    items: list[Item] = [_stroke(arc(guard, travel - guard), 0.9)]
    if guard > 0.0:
        items += band(arc(0.0, guard), Mark.OUTLINED, 0.8)
        items += band(arc(travel - guard, travel), Mark.OUTLINED, 0.8)
    items += [_stroke([at(m, -1.8), at(m, 1.8)], 1.1) for m in (0.0, travel)]
    middle, ahead = at(travel * 0.5), at(travel * 0.5 + 4.0)
    angle = math.atan2(ahead[1] - middle[1], ahead[0] - middle[0])
    return [*items, _arrow(ahead, angle, 3.8)]


def _arrow(tip: tuple[float, float], angle: float, length_mm: float) -> Stroke:
    """A filled head; the angle is the drawing's, 0 to the right, growing downward."""
    wings = [
        (tip[0] - length_mm * math.cos(angle + turn), tip[1] - length_mm * math.sin(angle + turn))
        for turn in (0.45, -0.45)
    ]
    return Stroke(_tuple([tip, *wings]), 0.2, closed=True, fill="black")


def _plate(above: FromAbove, centre: tuple[float, float], polar: Polar) -> list[Item]:
    """The adapter plate: keyway slot with the screw in it, datum mark, the holes not in use."""
    kappa, datum = above.keyway_deg, above.datum_deg
    items: list[Item] = [Disc(*centre, _PLATE_MM, 0.5, "white"), Disc(*centre, 2.4, 0.25)]
    items.append(_stroke([polar(kappa, 7.6), polar(kappa, _PLATE_MM)], 3.0))
    items.append(Disc(*polar(kappa, _HOLES_MM), 0.9, 0.0, "white"))
    tip = polar(datum, _PLATE_MM + 0.3)
    sides = [polar(datum + lean, _PLATE_MM + 2.7) for lean in (-6.0, 6.0)]
    items.append(Stroke(_tuple([tip, *sides]), 0.2, closed=True, fill="black"))
    others = [hole for hole in above.holes if not hole.in_use]
    name_them = len(others) <= _NAMED_HOLES and all(len(h.name) <= _NAME_LETTERS for h in others)
    for other in others:
        items.append(Disc(*polar(other.bearing_deg, _HOLES_MM), 1.2, 0.3, "white"))
        if name_them:
            items.append(Label(*polar(other.bearing_deg, 6.0), other.name))
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
        items.append(Stroke(_tuple(ends), 0.3))
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
