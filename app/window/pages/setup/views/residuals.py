"""What the fit leaves of each sighting: azimuth across, elevation up, nothing left in the middle."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import LIGHT, Scheme, font
from app.window.views.painting import painting
from core.base.words import first_few, plain, signed

_ROOM_PX = 40.0
#: Rings stand at one of these distances, degrees.
_RINGS_DEG = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
_MOST_RINGS = 4
_DOT_PX, _MOST_NUMBERS = 7.0, 6
#: Nearer than so many dots, one would hide the number of the other.
_APART_DOTS = 3.2


@dataclass(frozen=True)
class Left:
    """One sighting: its number, what is left, degrees (None: not read), and whether it was left out."""

    number: int
    azimuth_deg: float | None
    elevation_deg: float | None
    left_out: bool


class ResidualView(QWidget):
    """A target to be read at a glance: dots far out disagree."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._scheme = LIGHT
        self._left: tuple[Left, ...] = ()

    def sizeHint(self) -> QSize:
        return QSize(360, 250)  # it takes what is left

    def minimumSizeHint(self) -> QSize:
        return QSize(220, 220)

    def show_left(self, left: Sequence[Left], scheme: Scheme) -> None:
        """Other residuals."""
        if (tuple(left), scheme) == (self._left, self._scheme):
            return
        self._left, self._scheme = tuple(left), scheme
        self.setAccessibleDescription("; ".join(_words(one) for one in left) or "No sightings yet.")
        self.update()

    @property
    def _step_deg(self) -> float:
        """Distance of the rings."""
        reach = max(
            (math.hypot(one.azimuth_deg or 0.0, one.elevation_deg or 0.0) for one in self._left), default=1.0
        )
        return next((step for step in _RINGS_DEG if reach <= step * _MOST_RINGS), _RINGS_DEG[-1])

    def paintEvent(self, _event: QPaintEvent) -> None:
        scheme = self._scheme
        with painting(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            centre = QPointF(self.width() / 2.0, self.height() / 2.0)
            radius = max(min(self.width(), self.height()) / 2.0 - _ROOM_PX, 60.0)
            self._paint_rings(painter, centre, radius)
            for at, ones in self._dots(centre, radius).items():
                left_out = any(one.left_out for one in ones)
                color = scheme.color("accent" if left_out else "signal")
                painter.setPen(QPen(color, 3.0))
                painter.setBrush(scheme.color("card") if left_out else color)
                place = QPointF(*at)
                painter.drawEllipse(place, _DOT_PX, _DOT_PX)
                painter.setPen(scheme.color("accent" if left_out else "ink"))
                painter.setFont(font(12, True))
                numbers = first_few([str(one.number) for one in ones], _MOST_NUMBERS)
                painter.drawText(place + QPointF(_DOT_PX + 2.0, -_DOT_PX), numbers)

    def _dots(self, centre: QPointF, radius: float) -> dict[tuple[float, float], list[Left]]:
        """Where the sightings lie, pixels; those that would cover each other share a dot."""
        px = radius / (self._step_deg * _MOST_RINGS)
        dots: dict[tuple[float, float], list[Left]] = {}
        for one in self._left:
            across, up = (one.azimuth_deg or 0.0) * px, (one.elevation_deg or 0.0) * px
            far = max(math.hypot(across, up) / radius, 1.0)
            at = (centre.x() + across / far, centre.y() - up / far)
            near = (known for known, ones in dots.items() if math.dist(known, at) < _APART_DOTS * _DOT_PX)
            same = next((known for known in near if dots[known][0].left_out == one.left_out), at)
            dots.setdefault(same, []).append(one)
        return dots

    def _paint_rings(self, painter: QPainter, centre: QPointF, radius: float) -> None:
        scheme = self._scheme
        for ring in range(_MOST_RINGS, 0, -1):
            size = radius * ring / _MOST_RINGS
            painter.setPen(QPen(scheme.color("faint"), 1.2))
            painter.setBrush(scheme.color("card"))
            painter.drawEllipse(centre, size, size)
        painter.drawLine(centre - QPointF(radius, 0.0), centre + QPointF(radius, 0.0))
        painter.drawLine(centre - QPointF(0.0, radius), centre + QPointF(0.0, radius))
        painter.setFont(font(10))
        painter.setPen(scheme.color("ink"))
        for ring in range(1, _MOST_RINGS + 1):
            at = centre + QPointF(0.707, 0.707) * (radius * ring / _MOST_RINGS)
            painter.drawText(at + QPointF(2.0, 12.0), f"{plain(self._step_deg * ring)} deg")
        painter.setFont(font(11, True))
        wide = QRectF(0.0, centre.y() - radius - 26.0, self.width(), 20.0)
        painter.drawText(wide, Qt.AlignmentFlag.AlignCenter, "elevation dial reads too much")
        low = QRectF(0.0, centre.y() + radius + 6.0, self.width(), 20.0)
        painter.drawText(
            low, Qt.AlignmentFlag.AlignCenter, "right of the middle: azimuth dial reads too much"
        )


def _words(one: Left) -> str:
    parts = [
        f"{words} {signed(value)} deg"
        for words, value in (("azimuth", one.azimuth_deg), ("elevation", one.elevation_deg))
        if value is not None
    ]
    return f"sighting {one.number}: {', '.join(parts)}" + (", left out" if one.left_out else "")
