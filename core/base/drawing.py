"""What a drawing is made of: strokes, discs and labels in plain black.

Millimetres from the drawing's upper left corner, x to the right, y down; in every drawing with bearings north
is up, east right, angles clockwise. Nothing is told by a shade of grey, so that a copy of a copy still reads.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Dash = Literal["solid", "dashed", "dotted", "chain"]

Paint = Literal["none", "black", "white"]

Anchor = Literal["left", "center", "right"]

Points = list[tuple[float, float]]

#: A typographic point.
POINT_MM = 25.4 / 72.0


@dataclass(frozen=True)
class Stroke:
    """A line through points; x to the right, y down from the drawing's upper left corner.

    Attributes:
        points_mm: at least two (x, y).
        width_mm: thickness of the line, 0 for none.
        dash: how the line is broken.
        closed: the last point is joined to the first.
        fill: what fills it.
        kind: which item of a drawing this is.
    """

    points_mm: tuple[tuple[float, float], ...]
    width_mm: float = 0.2
    dash: Dash = "solid"
    closed: bool = False
    fill: Paint = "none"
    kind: Literal["stroke"] = "stroke"


@dataclass(frozen=True)
class Disc:
    """A circle about (x, y)."""

    x_mm: float
    y_mm: float
    radius_mm: float
    width_mm: float = 0.2
    fill: Paint = "none"
    dash: Dash = "solid"
    kind: Literal["disc"] = "disc"


@dataclass(frozen=True)
class Label:
    """A text whose left end, middle or right end lies at (x, y), centred in height; on white over lines."""

    x_mm: float
    y_mm: float
    text: str
    anchor: Anchor = "center"
    size_pt: float = 9.0
    bold: bool = False
    on_white: bool = False
    kind: Literal["label"] = "label"


Item = Stroke | Disc | Label


@dataclass(frozen=True)
class Drawing:
    """Items in the order they are painted, in a box of this size."""

    width_mm: float
    height_mm: float
    items: tuple[Item, ...]


def on_paper(points: Points) -> tuple[tuple[float, float], ...]:
    """Points as they are printed, to a thousandth of a millimetre."""
    return tuple((round(float(x), 3), round(float(y), 3)) for x, y in points)


def line_of(points: Points, width_mm: float) -> Stroke:
    """A solid line through the points."""
    return Stroke(on_paper(points), width_mm)


def thinned(points: Points, apart_mm: float) -> Points:
    """First and last, and between them those at least so far from the last one kept."""
    kept = points[:1]
    for point in points[1:-1]:
        if math.dist(point, kept[-1]) >= apart_mm:
            kept.append(point)
    if len(points) > 1 and math.dist(points[-1], kept[-1]) > 1e-6:
        kept.append(points[-1])
    return kept


def arrow(tip: tuple[float, float], angle: float, length_mm: float) -> Stroke:
    """A filled head; the angle is the drawing's, 0 to the right, growing downward."""
    wings = [
        (tip[0] - length_mm * math.cos(angle + turn), tip[1] - length_mm * math.sin(angle + turn))
        for turn in (0.45, -0.45)
    ]
    return Stroke(on_paper([tip, *wings]), 0.2, closed=True, fill="black")
