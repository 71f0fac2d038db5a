"""Where the holes' labels stand beside a view: two columns, none over another one."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.drawing import POINT_MM, Item, Label
from core.plate.drawing.dimension import leader_to
from core.plate.drawing.lettering import LINE_SHARE, TEXT_PT, fitting, text_width_mm

_PITCH_MM = LINE_SHARE * TEXT_PT * POINT_MM
#: Between one hole's label and the next.
_APART_MM = 0.8
_STUB_MM = 3.0


@dataclass(frozen=True)
class Pointed:
    """A hole on the paper and what is said of it; ``wanted_mm`` is the y that its label had best have."""

    x_mm: float
    y_mm: float
    radius_mm: float
    name: str
    figures: str
    wanted_mm: float


@dataclass(frozen=True)
class Columns:
    """Where labels may stand: outside of ``inner_mm`` either side of ``middle_mm``, ``room_mm`` wide."""

    middle_mm: float
    inner_mm: float
    room_mm: float
    top_mm: float
    bottom_mm: float


def side_labels(pointed: list[Pointed], columns: Columns) -> list[Item]:
    """Labels with leaders; where there are too many, the names alone: the table has both."""
    items: list[Item] = []
    for column, sign in zip(_sides(pointed, columns), (-1.0, 1.0), strict=True):
        items += _column(column, sign, columns)
    return items


def _sides(pointed: list[Pointed], columns: Columns) -> tuple[list[Pointed], list[Pointed]]:
    """Each hole on its own side; where that is too many for one side, half of them on either."""
    by_x = sorted(pointed, key=lambda one: (one.x_mm, one.y_mm))
    cut = sum(one.x_mm < columns.middle_mm - 1e-6 for one in by_x)
    fits = int((columns.bottom_mm - columns.top_mm) / (_PITCH_MM + _APART_MM))
    if max(cut, len(by_x) - cut) > fits:
        cut = len(by_x) // 2
    return by_x[:cut], by_x[cut:]


def _column(pointed: list[Pointed], sign: float, columns: Columns) -> list[Item]:
    ordered = sorted(pointed, key=lambda one: one.wanted_mm)
    room_mm = columns.bottom_mm - columns.top_mm
    texts = [_texts(one, columns.room_mm) for one in ordered]
    if sum(len(lines) * _PITCH_MM + _APART_MM for lines in texts) > room_mm:
        texts = [[one.name] for one in ordered]
    heights = [len(lines) * _PITCH_MM + _APART_MM for lines in texts]
    squeeze = min(1.0, room_mm / max(sum(heights), 1e-9))
    heights = [height * squeeze for height in heights]
    tops = stacked([one.wanted_mm for one in ordered], heights, columns.top_mm, columns.bottom_mm)
    items: list[Item] = []
    for one, lines, top_mm in zip(ordered, texts, tops, strict=True):
        items += _labelled(one, lines, top_mm, squeeze, sign, columns)
    return items


def _labelled(
    one: Pointed, lines: list[str], top_mm: float, squeeze: float, sign: float, columns: Columns
) -> list[Item]:
    near_mm = columns.middle_mm + sign * columns.inner_mm
    pitch_mm = _PITCH_MM * squeeze
    first_mm = top_mm + pitch_mm / 2.0
    elbow = (near_mm - sign * _STUB_MM, first_mm)
    away = max(((elbow[0] - one.x_mm) ** 2 + (elbow[1] - one.y_mm) ** 2) ** 0.5, 1e-9)
    share = min(1.0, one.radius_mm / away)
    tip = (one.x_mm + share * (elbow[0] - one.x_mm), one.y_mm + share * (elbow[1] - one.y_mm))
    items = leader_to(tip, elbow, (near_mm - sign * 0.6, first_mm))
    for number, text in enumerate(lines):
        label = Label(
            near_mm, first_mm + number * pitch_mm, text, "left" if sign > 0.0 else "right", TEXT_PT * squeeze,
            bold=number == 0 and len(lines) > 1,
        )  # fmt: skip
        items.append(fitting(label, columns.room_mm))
    return items


def _texts(one: Pointed, room_mm: float) -> list[str]:
    whole = f"{one.name}:  {one.figures}"
    return [whole] if text_width_mm(whole) <= room_mm else [one.name, one.figures]


def stacked(wanted_mm: list[float], heights_mm: list[float], top_mm: float, bottom_mm: float) -> list[float]:
    """Upper ends of boxes under each other, each as near as the others let it to its wanted middle."""
    tops: list[float] = []
    at_mm = top_mm
    for wanted, height in zip(wanted_mm, heights_mm, strict=True):
        at_mm = max(at_mm, wanted - height / 2.0)
        tops.append(at_mm)
        at_mm += height
    end_mm = bottom_mm
    for k in reversed(range(len(tops))):
        tops[k] = min(tops[k], end_mm - heights_mm[k])
        end_mm = tops[k]
    return tops
