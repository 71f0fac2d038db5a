"""The marks of the five verdicts, the same on every page: pattern and tone beside the word.

Upright is filled; over the top hatched; a split is a fill with a gap where the signal is lost; a part is a
fill that ends where the work ends, outlined on; out of reach is an outline only.
"""

from __future__ import annotations

import math

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPen

from core.mount.model.results import Verdict

#: Distance between the strokes of a hatch, pixels.
HATCH_STEP = 4.0


def hatch(painter: QPainter, path: QPainterPath, color: QColor, step: float = HATCH_STEP) -> None:
    """Diagonal strokes inside a path, with its outline: over the top."""
    painter.save()
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    painter.setPen(QPen(color, 1.2))
    box = path.boundingRect()
    height, top, bottom = box.height(), box.top(), box.bottom()
    first, count = box.left() - height, math.ceil((box.width() + height) / step)
    starts = [first + step * place for place in range(count)]
    painter.drawLines([QLineF(across, bottom, across + height, top) for across in starts])
    painter.restore()
    painter.strokePath(path, QPen(color, 1.2))


def paint_mark(
    painter: QPainter, box: QRectF, verdict: Verdict, color: QColor, lost: QColor, resting: bool = False
) -> None:
    """One mark in a box, for lists and legends.

    Args:
        painter: antialiasing is switched on here.
        box: about 16 by 11 pixels or larger.
        verdict: which mark.
        color: of the work; ``lost`` of what is lost.
        resting: a bar at the right end tells that it rests.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    path = QPainterPath()
    path.addRoundedRect(box, 1.5, 1.5)
    if verdict == Verdict.UPRIGHT:
        painter.fillPath(path, color)
    elif verdict == Verdict.OVER_THE_TOP:
        hatch(painter, path, color)
    elif verdict == Verdict.SPLIT:
        third = box.width() * 0.36
        painter.fillRect(QRectF(box.left(), box.top(), third, box.height()), lost)
        painter.fillRect(QRectF(box.right() - third, box.top(), third, box.height()), lost)
    elif verdict == Verdict.PART:
        painter.fillRect(QRectF(box.left(), box.top(), box.width() * 0.55, box.height()), lost)
        painter.strokePath(path, QPen(lost, 1.2))
    else:
        painter.strokePath(path, QPen(lost, 1.2))
    if resting:
        bar = QRectF(box.right() + 2.0, box.top(), 2.0, box.height())
        painter.fillRect(bar, QBrush(color))
    painter.restore()
