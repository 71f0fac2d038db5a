"""The index holes' words beside a view, and a scale."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.window.look.scheme import Scheme, font
from core.base.words import plain, signed
from core.plate.drawing.index_words import IndexWords

#: Room for words at each side of a view.
BESIDE_PX = 76.0
_LABEL_PX, _UNDER_TITLE_PX = 30.0, 22.0
_LONGEST_NAME = 8
#: Lengths that a scale may have, mm.
_SCALES = (5, 10, 20, 50, 100, 200)


def paint_words(
    painter: QPainter, box: QRectF, px_mm: float, words: Sequence[IndexWords], scheme: Scheme
) -> None:
    """Each hole's name and both offsets in a column on its side, joined to the hole by a thin line."""
    for to_right in (False, True):
        here = [
            (one, QPointF(one.x_mm * px_mm, one.y_mm * px_mm))
            for one in words
            if (one.angle_deg <= 180.0) == to_right
        ]
        here.sort(key=lambda pair: pair[1].y())
        wanted = [hole.y() - _LABEL_PX / 2.0 for _one, hole in here]
        tops = _spread(wanted, box.top() + _UNDER_TITLE_PX, box.bottom())
        for (one, hole), top in zip(here, tops, strict=True):
            _paint_hole(painter, box, one, hole, top, to_right, scheme)


def _spread(wanted: Sequence[float], top: float, bottom: float) -> list[float]:
    """Tops of the labels, as near to those wanted as they go without covering each other."""
    step = min(_LABEL_PX, (bottom - top) / max(len(wanted), 1))
    found: list[float] = []
    for at, one in enumerate(wanted):
        left = len(wanted) - at
        low = max(top, found[-1] + step if found else top)
        found.append(max(low, min(one, bottom - left * step)))
    return found


def _paint_hole(
    painter: QPainter,
    box: QRectF,
    one: IndexWords,
    hole: QPointF,
    top: float,
    to_right: bool,
    scheme: Scheme,
) -> None:
    wide = BESIDE_PX - 4.0
    left = box.right() - wide if to_right else box.left()
    inner = QPointF(left - 2.0 if to_right else left + wide + 2.0, top + _LABEL_PX / 2.0)
    painter.setPen(QPen(scheme.color("accent" if one.in_use else "edge"), 1.0))
    painter.drawLine(hole, inner)
    if one.in_use:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(scheme.color("accent"))
        painter.drawEllipse(hole, 2.5, 2.5)
    flush = Qt.AlignmentFlag.AlignLeft if to_right else Qt.AlignmentFlag.AlignRight
    painter.setPen(scheme.color("accent" if one.in_use else "ink"))
    painter.setFont(font(8.5, one.in_use))
    long = len(one.name) > _LONGEST_NAME
    name = f"{one.name[: _LONGEST_NAME - 1]}\N{HORIZONTAL ELLIPSIS}" if long else one.name
    text = f"{name}  h {plain(one.drilled_deg)}\niota {signed(one.offset_deg)}"
    painter.drawText(QRectF(left, top, wide, _LABEL_PX), flush | Qt.AlignmentFlag.AlignVCenter, text)


def paint_scale(painter: QPainter, box: QRectF, scale: float, scheme: Scheme) -> None:
    """A bar of a round length in the middle of a box, ``scale`` being pixels in a mm of the part."""
    fitting = [length for length in _SCALES if length * scale <= box.width()] or [_SCALES[0]]
    wide = fitting[-1] * scale
    y, left = box.center().y() - 8.0, box.right() - wide
    painter.setPen(QPen(scheme.color("ink"), 2.0))
    painter.drawLine(QPointF(left, y), QPointF(left + wide, y))
    for x in (left, left + wide):
        painter.drawLine(QPointF(x, y - 4.0), QPointF(x, y + 4.0))
    painter.setFont(font(8.5))
    painter.setPen(scheme.color("faint"))
    under = QRectF(box.left(), y + 4.0, box.width(), 18.0)
    painter.drawText(under, Qt.AlignmentFlag.AlignRight, f"{fitting[-1]} mm")
