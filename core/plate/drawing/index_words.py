"""What is said of the index holes beside a view on the screen: both offsets side by side."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.angles import wrap_360
from core.plate.drawing.view import View
from core.plate.model import Side
from core.plate.part import PlatePart


@dataclass(frozen=True)
class IndexWords:
    """An index hole on a view.

    Attributes:
        name: of the hole. in_use: the pin goes through it.
        side: of the view. angle_deg: clockwise on the paper, from the datum mark on top.
        x_mm, y_mm: of its middle, on the paper.
        drilled_deg, offset_deg: h clockwise from the datum mark from above, and iota = -h.
    """

    name: str
    in_use: bool
    side: Side
    angle_deg: float
    x_mm: float
    y_mm: float
    drilled_deg: float
    offset_deg: float


def index_words(part: PlatePart, view: View, hole_in_use: str) -> tuple[IndexWords, ...]:
    """Of every index hole, in the mount's order."""
    found = []
    for one in part.features:
        if one.offset_deg is None:
            continue
        name = one.name.removeprefix("index ")
        angle_deg = one.angle_deg if view.side == "above" else one.below_angle_deg
        place = view.place(one.x_mm, one.y_mm)
        found.append(
            IndexWords(
                name,
                name == hole_in_use,
                view.side,
                wrap_360(angle_deg),
                *place,
                wrap_360(one.angle_deg),
                one.offset_deg,
            )
        )
    return tuple(found)
