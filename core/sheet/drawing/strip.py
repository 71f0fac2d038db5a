"""The evening on the dial: time across, mechanical azimuth up from one stop to the other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from core.base.angles import Floats
from core.base.drawing import Drawing, Item, Label, Points, Stroke, on_paper, thinned
from core.base.times import clock
from core.base.words import bearing_text
from core.mount.dial.readings import azimuth_dial, dial_figure
from core.mount.evening.drawn import DrawnPass
from core.mount.evening.results import Contact
from core.mount.model.chain import zeta_deg
from core.mount.model.station import Mount
from core.place.zones import local_clock
from core.sheet.drawing.marks import MARK_OF, band

#: Width and height in the evening's list, and on a page of its own (A4 or Letter, across).
IN_THE_LIST_MM, ALONE_MM = (182.0, 66.0), (250.0, 118.0)

_LONGEST_STRIP_S = 86_400.0

#: Width of a figure in bold at 9 pt, of HH:MM at 9 pt.
_FIGURE_MM = 2.1
_CLOCK_MM = 9.5


def evening_strip(
    contacts: Sequence[Contact],
    passes: Sequence[DrawnPass],
    mount: Mount,
    zone: str,
    size_mm: tuple[float, float] = IN_THE_LIST_MM,
) -> Drawing | None:
    """Time across, mechanical azimuth up from stop to stop; None without contacts or for more than a day."""
    told = [(i, c) for i, c in enumerate(passes) if c.in_reach]
    if not told:
        return None
    start = min(c.utc_s[0] for _, c in told)
    end = max(c.utc_s[-1] for _, c in told)
    if end - start > _LONGEST_STRIP_S:
        return None
    frame = _StripFrame(float(start), float(end), mount, size_mm)
    items = [*frame.scales(zone), *_moves(contacts, frame)]
    strokes: list[tuple[int, Points]] = []
    for index, drawn in told:
        points = frame.along(drawn.utc_s, drawn.m_deg)
        for kind, first, last in drawn.runs():
            items += band(points[first : last + 1], MARK_OF[kind], 0.8)
        strokes.append((index + 1, thinned(points, 1.0)))
    return Drawing(*size_mm, (*items, *_number_labels(strokes, frame)))


class _StripFrame:
    """Where a moment and a mechanical azimuth lie on the strip."""

    left, top = 17.0, 3.0

    def __init__(self, start_s: float, end_s: float, mount: Mount, size_mm: tuple[float, float]) -> None:
        self.right, self.bottom = size_mm[0] - 23.0, size_mm[1] - 12.0
        pad = max(0.02 * (end_s - start_s), 60.0)
        self.start_s, self.end_s = start_s - pad, end_s + pad
        self.mount, self.axis = mount, mount.azimuth

    def at(self, utc_s: float, m_deg: float) -> tuple[float, float]:
        """Millimetres on the drawing."""
        return self.along(np.array([utc_s]), np.array([m_deg]))[0]

    def along(self, utc_s: Floats, m_deg: Floats) -> Points:
        """The same of (N,) moments and mechanical azimuths."""
        share = (utc_s - self.start_s) / (self.end_s - self.start_s)
        x = self.left + share * (self.right - self.left)
        y = self.bottom - m_deg / self.axis.travel_deg * (self.bottom - self.top)
        return list(zip(x.tolist(), y.tolist(), strict=True))

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
            items.append(Stroke(on_paper([(self.left, y), (self.right, y)]), 0.7 if edge else 0.12))
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
            items.append(Stroke(on_paper([(self.left, inner), (self.right, inner)]), 0.12))
            slant = abs(outer - inner)
            places = np.arange(self.left, self.right - slant + 1e-9, 1.6)
            items += [Stroke(on_paper([(x, outer), (x + slant, inner)]), 0.15) for x in places.tolist()]
        return items

    def _time_marks(self, zone: str) -> list[Item]:
        span_min = (self.end_s - self.start_s) / 60.0
        step_s = next(60.0 * s for s in (5, 10, 15, 30, 60, 120, 180, 240, 360) if span_min / s <= 11)
        items: list[Item] = []
        for t in np.arange(math.ceil(self.start_s / step_s) * step_s, self.end_s, step_s).tolist():
            x = self.at(t, 0.0)[0]
            items.append(Stroke(on_paper([(x, self.top), (x, self.bottom + 2.0)]), 0.12, "dotted"))
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
            items.append(Stroke(on_paper(ends), 0.25, "dashed"))
    for contact in contacts:
        split = contact.check.split
        if split is not None:
            ends = [
                frame.at(split.start_utc_s, split.m_from_deg),
                frame.at(split.end_utc_s, split.m_to_deg),
            ]
            items.append(Stroke(on_paper(ends), 0.25, "dashed"))
    return items


#: From the end of a stroke to the middle of its number: beside it, and further off with a line to it.
_NEAR_MM, *_FAR_MM = 3.4, 7.0, 10.5, 14.0


def _number_labels(strokes: Sequence[tuple[int, Points]], frame: _StripFrame) -> list[Item]:
    """Each contact's number beside its stroke, where it covers nothing: over, under, before or after it.

    Where there is no room beside it, further off with a thin line; where there is none at all, where it
    covers least of the strokes and no other number, if that can be.
    """
    labels: list[Label] = []
    leaders: list[Item] = []
    every = np.array([point for _, points in strokes for point in points])

    def room(spot: tuple[float, float], text: str) -> tuple[float, float]:
        to_strokes = float(np.hypot(every[:, 0] - spot[0], every[:, 1] - spot[1]).min()) - 2.9
        to_labels = min((_between_mm(spot, text, other) for other in labels), default=9.0)
        to_edges = min(spot[1] - frame.top, frame.bottom - spot[1]) - 2.2
        return min(to_labels, to_edges, 0.0), min(to_strokes, to_labels, to_edges)

    for number, points in strokes:
        text = str(number)
        tried = [(spot, end, False) for spot, end in _spots(points, _NEAR_MM)]
        tried += [(spot, end, True) for away in _FAR_MM for spot, end in _spots(points, away)]
        roomy = (one for one in tried if room(one[0], text)[1] >= 0.0)
        (x, y), end, led = next(roomy, None) or max(tried, key=lambda one: room(one[0], text))
        if led:
            leaders.append(Stroke(on_paper([end, (x, y)]), 0.12))
        labels.append(Label(round(x, 3), round(y, 3), text, bold=True, on_white=True))
    return [*leaders, *labels]


def _spots(points: Points, away_mm: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Places for a number so far from a stroke's ends, each with the end it belongs to."""
    high, low = min(points, key=lambda p: p[1]), max(points, key=lambda p: p[1])
    first, last = points[0], points[-1]
    slant = 0.75 * away_mm
    return [
        ((high[0], high[1] - away_mm), high),
        ((low[0], low[1] + away_mm), low),
        ((first[0] - away_mm - 0.2, first[1]), first),
        ((last[0] + away_mm + 0.2, last[1]), last),
        ((high[0] + slant, high[1] - slant), high),
        ((high[0] - slant, high[1] - slant), high),
        ((low[0] + slant, low[1] + slant), low),
        ((low[0] - slant, low[1] + slant), low),
    ]


def _between_mm(spot: tuple[float, float], text: str, other: Label) -> float:
    """White between two numbers, side by side or one over the other; negative where they touch."""
    aside = abs(spot[0] - other.x_mm) - _FIGURE_MM * (len(text) + len(other.text)) / 2.0
    apart = abs(spot[1] - other.y_mm) - 2.6
    return max(aside, apart) - 0.4
