"""The sheet's drawings in a page of few bytes: what the polar plots share is drawn once and used by all."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import takewhile

from core.base.drawing import Drawing, Item, Stroke
from core.base.drawing_svg import svg_of

#: How far a line may be from where the sheet has it; a fifth of a thin line's width.
_WITHIN_MM = 0.04
_DECIMALS = 2
#: The element that holds what all polar plots begin with.
_SHARED = "sky-ground"

_Point = tuple[float, float]


@dataclass(frozen=True)
class SkyPictures:
    """Polar plots as elements; ``shared`` must stand in the page once, wherever one of them is."""

    shared: str
    plots: tuple[str, ...]


def sky_pictures(drawings: Sequence[Drawing]) -> SkyPictures:
    """The polar plots of an evening, in order."""
    if not drawings:
        return SkyPictures("", ())
    columns = zip(*(drawing.items for drawing in drawings), strict=False)
    common = [items[0] for items in takewhile(lambda items: len(set(items)) == 1, columns)]
    first = drawings[0]
    ground = svg_of(lighter(replace(first, items=tuple(common))), "")
    head, _, rest = ground.partition(">")
    shared = f'{head} class="shared"><defs><g id="{_SHARED}">{rest.removesuffix("</svg>")}</g></defs></svg>'
    return SkyPictures(shared, tuple(_on_ground(drawing, len(common)) for drawing in drawings))


def _on_ground(drawing: Drawing, common: int) -> str:
    own = svg_of(lighter(replace(drawing, items=drawing.items[common:])), "the sky of this pass, north up")
    head, _, rest = own.partition(">")
    return f'{head} class="sky"><use href="#{_SHARED}"/>{rest}'


def lighter(drawing: Drawing) -> Drawing:
    """The same to the eye: points that lie on the line between others are left out, places are rounded."""
    return replace(drawing, items=tuple(_lighter(item) for item in drawing.items))


def _lighter(item: Item) -> Item:
    if not isinstance(item, Stroke):
        return replace(item, x_mm=round(item.x_mm, _DECIMALS), y_mm=round(item.y_mm, _DECIMALS))
    kept = _bends(item.points_mm)
    return replace(item, points_mm=tuple((round(x, _DECIMALS), round(y, _DECIMALS)) for x, y in kept))


def _bends(points: tuple[_Point, ...]) -> list[_Point]:
    """First, last, and those between without which the line would be too far off."""
    if len(points) < 3:
        return list(points)
    start, end = points[0], points[-1]
    far, at = max((_aside(point, start, end), i) for i, point in enumerate(points[1:-1], start=1))
    if far <= _WITHIN_MM:
        return [start, end]
    return [*_bends(points[: at + 1])[:-1], *_bends(points[at:])]


def _aside(point: _Point, start: _Point, end: _Point) -> float:
    """Distance of a point from the line between two others, mm."""
    x, y = end[0] - start[0], end[1] - start[1]
    length = math.hypot(x, y)
    if length == 0.0:
        return math.dist(point, start)
    along = min(max(((point[0] - start[0]) * x + (point[1] - start[1]) * y) / length**2, 0.0), 1.0)
    return math.dist(point, (start[0] + along * x, start[1] + along * y))
