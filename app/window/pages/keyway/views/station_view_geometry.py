"""Where things of the station view lie on the widget: radii, points at a bearing, room for the labels."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF

#: Room outside the ring for figures and for the labels of stops and keyway.
_OUTSIDE = 48.0
#: Width kept free on both sides for the longest label, as pixels at most and as a share of the width.
_BESIDE, _BESIDE_SHARE = 150.0, 0.27
#: Height of a line of the legend of marks under the picture, and the width it needs in one line.
_LEGEND_LINE, _LEGEND_WIDTH = 24.0, 600.0


@dataclass(frozen=True)
class CompassFrame:
    """The round picture: its centre and the radius of the compass ring, in logical pixels."""

    x: float
    y: float
    radius: float

    @property
    def plate(self) -> float:
        """Radius of the tripod plate."""
        return self.radius * 0.25

    @property
    def inner(self) -> float:
        """Radius of the innermost ring of passes."""
        return self.radius * 0.41

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


def legend_lines(width: float) -> int:
    """How many lines the legend takes."""
    return 1 if width >= _LEGEND_WIDTH else 2


def legend_height(width: float) -> float:
    """Room for the legend."""
    return _LEGEND_LINE * legend_lines(width) + 2.0


def compass_in(width: float, height: float) -> CompassFrame:
    """The largest disc that leaves room for labels and legend."""
    tall = height - legend_height(width)
    beside = min(_BESIDE, _BESIDE_SHARE * width)
    radius = max(min(tall / 2.0 - _OUTSIDE, width / 2.0 - beside), 60.0)
    return CompassFrame(width / 2.0, tall / 2.0, radius)


#: Qt counts sixteenths of a degree, counter-clockwise from east.
def qt_arc(from_deg: float, to_deg: float) -> tuple[int, int]:
    """Start and span for `QPainter.drawArc` of bearings from one clockwise to the other."""
    return round((90.0 - from_deg) * 16.0), -round((to_deg - from_deg) * 16.0)


def label_box(disc: CompassFrame, bearing_deg: float, radius: float, width: float, height: float) -> QRectF:
    """A box for text outside the ring at a bearing, its near edge or corner touching ``radius``."""
    at = disc.point(bearing_deg, radius)
    sine, cosine = math.sin(math.radians(bearing_deg)), math.cos(math.radians(bearing_deg))
    # Slides from centred above and below to fully beside the ring at east and west.
    left = at.x() - width / 2.0 + width / 2.0 * max(-1.0, min(1.0, sine * 1.25))
    top = at.y() - height / 2.0 - height / 2.0 * cosine
    return QRectF(left, top, width, height)


def placed(boxes: list[QRectF], obstacles: list[QRectF], disc: CompassFrame, within: QRectF) -> list[QRectF]:
    """The boxes moved as little as keeps each clear of the disc, the obstacles and those before it.

    A box that finds no free place stays where it is, inside ``within``.
    """
    taken, answer = list(obstacles), []
    for box in boxes:
        tries = (_inside(box.translated(x, y), within) for x, y in _SHIFTS)
        free = (b for b in tries if _off_disc(b, disc) and not any(b.intersects(other) for other in taken))
        chosen = next(free, _inside(box, within))
        taken.append(chosen)
        answer.append(chosen)
    return answer


#: Shifts tried in turn, nearest first.
_SHIFTS = sorted(
    ((x * 14.0, y * 9.0) for x in range(-12, 13) for y in range(-6, 7)),
    key=lambda shift: math.hypot(shift[0], shift[1]),
)


def _off_disc(box: QRectF, disc: CompassFrame) -> bool:
    near_x = min(max(disc.x, box.left()), box.right())
    near_y = min(max(disc.y, box.top()), box.bottom())
    return math.hypot(near_x - disc.x, near_y - disc.y) >= disc.radius + 3.0


def _inside(box: QRectF, within: QRectF) -> QRectF:
    x = min(max(box.left(), within.left()), within.right() - box.width())
    y = min(max(box.top(), within.top()), within.bottom() - box.height())
    return QRectF(x, y, box.width(), box.height())
