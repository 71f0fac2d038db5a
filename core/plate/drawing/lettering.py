"""How much room a text takes, so that texts are placed without running into each other."""

from __future__ import annotations

from dataclasses import replace

from core.base.drawing import POINT_MM, Label

#: No letter on a drawing is meant to be larger than this, or smaller where it can be helped.
TEXT_PT = 8.0
#: From line to line, shares of the text's size.
LINE_SHARE = 1.3
_SHARES = (
    (frozenset(" .,:;!'|ijlI"), 0.30),
    (frozenset("rtf()[]{}/\\"), 0.40),
    (frozenset("abcdeghknopqsuvxyz"), 0.63),
    (frozenset("0123456789+-±"), 0.68),
    (frozenset("WMmw@%"), 0.96),
)
_OTHER_ASCII, _OTHER = 0.80, 1.1
_BOLD = 1.17


def text_width_mm(text: str, size_pt: float = TEXT_PT, bold: bool = False) -> float:
    """At most so wide in Inter with figures of one width (tests/core/plate/drawing hold it to the font)."""
    em = sum(_share(mark) for mark in text)
    return em * size_pt * POINT_MM * (_BOLD if bold else 1.0)


def _share(mark: str) -> float:
    """Of one mark, in shares of the text's size."""
    return next(
        (share for marks, share in _SHARES if mark in marks), _OTHER_ASCII if mark.isascii() else _OTHER
    )


def fitting(label: Label, room_mm: float) -> Label:
    """The label, in smaller letters where it is wider than its room."""
    width_mm = text_width_mm(label.text, label.size_pt, label.bold)
    return label if width_mm <= room_mm else replace(label, size_pt=label.size_pt * room_mm / width_mm)


def shortened(text: str, room_mm: float, size_pt: float = TEXT_PT) -> str:
    """The text, or as much of its beginning as fits before three dots."""
    if text_width_mm(text, size_pt, bold=True) <= room_mm:
        return text
    while text and text_width_mm(f"{text}...", size_pt, bold=True) > room_mm:
        text = text[:-1]
    return f"{text.rstrip()}..."


def wrapped(text: str, room_mm: float, size_pt: float = TEXT_PT) -> list[str]:
    """The text in lines that fit, broken between words."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width_mm(longer, size_pt) > room_mm:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def label_box(label: Label) -> tuple[float, float, float, float]:
    """Left, top, right, bottom that a label takes at most."""
    width_mm = text_width_mm(label.text, label.size_pt, label.bold)
    left_mm = label.x_mm - {"left": 0.0, "center": 0.5, "right": 1.0}[label.anchor] * width_mm
    half_mm = label.size_pt * POINT_MM / 2.0
    return left_mm, label.y_mm - half_mm, left_mm + width_mm, label.y_mm + half_mm
