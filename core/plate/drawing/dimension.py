"""Dimension lines, leaders and what they point at."""

from __future__ import annotations

import math

from core.base.drawing import Anchor, Item, Label, Stroke, arrow, line_of, on_paper
from core.plate.drawing.lettering import TEXT_PT, text_width_mm

#: Line widths of ISO 128: outlines, and everything else.
THICK_MM, THIN_MM = 0.5, 0.2
ARROW_MM = 2.2
#: An extension line goes so far beyond its dimension line.
_BEYOND_MM = 1.2
_UNDER_MM = 2.7


def across(left_mm: float, right_mm: float, from_mm: float, at_mm: float, text: str) -> list[Item]:
    """A dimension from left to right on the line at y ``at_mm``; its extension lines begin at ``from_mm``.

    Its text stands in the line, or under it where the line is too short.
    """
    beyond = math.copysign(_BEYOND_MM, at_mm - from_mm)
    lines: list[Item] = [line_of([(x, from_mm), (x, at_mm + beyond)], THIN_MM) for x in (left_mm, right_mm)]
    lines += _measured((left_mm, at_mm), (right_mm, at_mm))
    fits = text_width_mm(text) <= right_mm - left_mm - 2.0 * ARROW_MM
    text_mm = at_mm if fits else at_mm + _UNDER_MM
    return [*lines, Label((left_mm + right_mm) / 2.0, text_mm, text, size_pt=TEXT_PT, on_white=True)]


def upright(top_mm: float, bottom_mm: float, from_mm: float, at_mm: float, text: str) -> list[Item]:
    """A dimension from top to bottom on the line at x ``at_mm``; its text stands beside, outward."""
    beyond = math.copysign(_BEYOND_MM, at_mm - from_mm)
    lines: list[Item] = [line_of([(from_mm, y), (at_mm + beyond, y)], THIN_MM) for y in (top_mm, bottom_mm)]
    lines += _measured((at_mm, top_mm), (at_mm, bottom_mm))
    anchor: Anchor = "left" if beyond > 0.0 else "right"
    return [
        *lines,
        Label(at_mm + beyond * 1.25, (top_mm + bottom_mm) / 2.0, text, anchor, TEXT_PT, on_white=True),
    ]


def _measured(one: tuple[float, float], other: tuple[float, float]) -> list[Item]:
    """Line with a head at either end, inside where there is room, else from outside."""
    angle = math.atan2(other[1] - one[1], other[0] - one[0])
    if math.dist(one, other) > 2.5 * ARROW_MM:
        return [
            line_of([one, other], THIN_MM),
            arrow(one, angle + math.pi, ARROW_MM),
            arrow(other, angle, ARROW_MM),
        ]
    out = (2.0 * ARROW_MM * math.cos(angle), 2.0 * ARROW_MM * math.sin(angle))
    far = [(one[0] - out[0], one[1] - out[1]), (other[0] + out[0], other[1] + out[1])]
    return [line_of(far, THIN_MM), arrow(one, angle, ARROW_MM), arrow(other, angle + math.pi, ARROW_MM)]


def called_out(tip: tuple[float, float], at_mm: float, lines: list[str], pitch_mm: float) -> list[Item]:
    """A leader straight up from a tip to y ``at_mm``, and lines of text beginning there, to its right."""
    items: list[Item] = [
        line_of([tip, (tip[0], at_mm), (tip[0] + 2.5, at_mm)], THIN_MM),
        arrow(tip, math.pi / 2.0, ARROW_MM),
    ]
    for number, text in enumerate(lines):
        items.append(Label(tip[0] + 3.2, at_mm + number * pitch_mm, text, "left", TEXT_PT, on_white=True))
    return items


def leader_to(tip: tuple[float, float], elbow: tuple[float, float], end: tuple[float, float]) -> list[Item]:
    """From a text's end over an elbow to a tip with its head."""
    angle = math.atan2(tip[1] - elbow[1], tip[0] - elbow[0])
    return [line_of([end, elbow, tip], THIN_MM), arrow(tip, angle, 0.7 * ARROW_MM)]


def arc(
    centre: tuple[float, float], radius_mm: float, from_deg: float, to_deg: float, width_mm: float = THIN_MM
) -> Stroke:
    """Part of a circle, angles clockwise on the paper from its top."""
    count = max(2, math.ceil(abs(to_deg - from_deg) / 3.0) + 1)
    angles = [from_deg + (to_deg - from_deg) * k / (count - 1) for k in range(count)]
    points = [
        (centre[0] + radius_mm * math.sin(math.radians(a)), centre[1] - radius_mm * math.cos(math.radians(a)))
        for a in angles
    ]
    return Stroke(on_paper(points), width_mm)


def datum_flag(x_mm: float, y_mm: float, letter: str) -> list[Item]:
    """A datum's triangle on a line from underneath, its letter framed below (ISO 5459)."""
    half_mm, foot_mm = 1.2, 2.2
    wings = [(x_mm, y_mm), (x_mm - half_mm, y_mm + foot_mm), (x_mm + half_mm, y_mm + foot_mm)]
    top_mm, bottom_mm, side_mm = y_mm + foot_mm + 1.2, y_mm + foot_mm + 5.4, 2.1
    corners = [
        (x_mm - side_mm, top_mm),
        (x_mm + side_mm, top_mm),
        (x_mm + side_mm, bottom_mm),
        (x_mm - side_mm, bottom_mm),
    ]
    return [
        Stroke(on_paper(wings), THIN_MM, closed=True, fill="black"),
        line_of([(x_mm, y_mm + foot_mm), (x_mm, top_mm)], THIN_MM),
        Stroke(on_paper(corners), THIN_MM, closed=True, fill="white"),
        Label(x_mm, (top_mm + bottom_mm) / 2.0, letter, size_pt=TEXT_PT, bold=True),
    ]


def lines_of_text(x_mm: float, y_mm: float, lines: list[str], pitch_mm: float) -> list[Item]:
    """Lines under each other, the first one's middle at y."""
    return [Label(x_mm, y_mm + k * pitch_mm, text, "left", TEXT_PT) for k, text in enumerate(lines)]
