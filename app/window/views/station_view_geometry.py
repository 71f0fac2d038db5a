"""Where things of the station view lie on the widget: radii, points at a bearing, room for the labels."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF

#: Room outside the ring for figures and for the labels of stops and keyway.
_OUTSIDE = 52.0
#: Width kept free on both sides for the longest label.
_BESIDE = 150.0
#: Height of the legend of marks under the picture.
LEGEND = 26.0


@dataclass(frozen=True)
class Disc:
    """The round picture: its centre and the radius of the compass ring, in logical pixels."""

    x: float
    y: float
    radius: float

    @property
    def plate(self) -> float:
        """Radius of the tripod plate."""
        return self.radius * 0.2

    @property
    def inner(self) -> float:
        """Radius of the innermost ring of passes."""
        return self.radius * 0.36

    @property
    def outer(self) -> float:
        """Radius of the outermost ring of passes."""
        return self.radius * 0.925

    def point(self, bearing_deg: float, radius: float) -> QPointF:
        """The point at a bearing (clockwise from up) and distance from the centre."""
        angle = math.radians(bearing_deg)
        return QPointF(self.x + radius * math.sin(angle), self.y - radius * math.cos(angle))

    def box(self, radius: float) -> QRectF:
        """The square round a circle."""
        return QRectF(self.x - radius, self.y - radius, 2.0 * radius, 2.0 * radius)

    def bearing_of(self, point: QPointF) -> float:
        """Bearing of a point from the centre, 0 to 360."""
        return math.degrees(math.atan2(point.x() - self.x, self.y - point.y())) % 360.0

    def distance_of(self, point: QPointF) -> float:
        """Distance of a point from the centre."""
        return math.hypot(point.x() - self.x, point.y() - self.y)

    def ring_radius(self, ring: int, rings: int) -> float:
        """Middle radius of a ring, 0 the outermost."""
        return self.outer - (ring + 0.5) * self.ring_step(rings)

    def ring_step(self, rings: int) -> float:
        """Distance between rings; few rings are not spread over the whole picture."""
        return min((self.outer - self.inner) / max(rings, 1), self.radius * 0.062)


def disc_in(width: float, height: float) -> Disc:
    """The largest disc that leaves room for labels and legend."""
    tall = height - LEGEND
    radius = max(min(tall / 2.0 - _OUTSIDE, width / 2.0 - _BESIDE), 60.0)
    return Disc(width / 2.0, tall / 2.0, radius)


#: Qt counts sixteenths of a degree, counter-clockwise from east.
def qt_arc(from_deg: float, to_deg: float) -> tuple[int, int]:
    """Start and span for `QPainter.drawArc` of bearings from one clockwise to the other."""
    return round((90.0 - from_deg) * 16.0), -round((to_deg - from_deg) * 16.0)


def label_box(disc: Disc, bearing_deg: float, radius: float, width: float, height: float) -> QRectF:
    """A box for text outside the ring at a bearing, its near edge or corner touching ``radius``."""
    at = disc.point(bearing_deg, radius)
    sine, cosine = math.sin(math.radians(bearing_deg)), math.cos(math.radians(bearing_deg))
    # Slides from centred above and below to fully beside the ring at east and west.
    left = at.x() - width / 2.0 + width / 2.0 * max(-1.0, min(1.0, sine * 1.25))
    top = at.y() - height / 2.0 - height / 2.0 * cosine
    return QRectF(left, top, width, height)


def spread(boxes: list[QRectF], within: QRectF) -> list[QRectF]:
    """The boxes moved up or down as little as keeps each clear of those before it, all inside ``within``."""
    placed: list[QRectF] = []
    for box in boxes:
        tries = [0.0]
        for other in placed:
            tries += [other.bottom() + 1.0 - box.top(), other.top() - 1.0 - box.bottom()]
        moved = [_inside(box.translated(0.0, step), within) for step in sorted(tries, key=abs)]
        free = (b for b in moved if not any(b.intersects(other) for other in placed))
        placed.append(next(free, moved[0]))
    return placed


def _inside(box: QRectF, within: QRectF) -> QRectF:
    x = min(max(box.left(), within.left()), within.right() - box.width())
    y = min(max(box.top(), within.top()), within.bottom() - box.height())
    return QRectF(x, y, box.width(), box.height())
