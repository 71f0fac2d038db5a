"""The passes as arcs round the station, kept in a pixmap of which only the arcs that changed are redrawn."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap

from app.window.look.scheme import Scheme
from app.window.pages.keyway.views.station_view_geometry import CompassFrame, qt_arc
from app.window.views.painting import painting
from core.mount.seat.pass_arcs import PassArc, Piece

#: Up to this many passes have a ring each; more share rings where they do not meet.
MOST_ALONE = 32


@dataclass(frozen=True)
class ArcLook:
    """How one arc is drawn, all but the gaps that move with the stop.

    Attributes:
        kind: "held", "over", "split", "thin" (part, out of reach) or "plain" (nothing known yet).
        chosen: drawn heavier.
    """

    kind: str
    chosen: bool = False


class ArcsLayer:
    """The pixmap of arcs."""

    def __init__(self) -> None:
        self._pixmap = QPixmap()
        self._key: object = None
        self._looks: list[ArcLook | None] = []
        self.arcs: tuple[PassArc, ...] = ()
        self.on_ring: tuple[int, ...] = ()
        self.ring_count = 0

    def set_arcs(self, arcs: tuple[PassArc, ...], on_ring: tuple[int, ...]) -> None:
        """Other passes."""
        self.arcs, self.on_ring = arcs, on_ring
        self.ring_count = max(on_ring, default=-1) + 1
        self._key = None

    def radius(self, index: int, disc: CompassFrame) -> float:
        """Radius of one pass' ring."""
        return disc.ring_radius(self.on_ring[index], self.ring_count)

    def width(self, disc: CompassFrame) -> float:
        """Stroke of the arcs: half the room of a ring, 5 pixels at most at ordinary sizes."""
        return max(min(disc.ring_step(self.ring_count) * 0.55, disc.radius * 0.019), 1.0)

    def nearest(self, point: QPointF, disc: CompassFrame) -> int | None:
        """The pass whose arc lies under a point, if any."""
        if not self.ring_count:
            return None
        step = disc.ring_step(self.ring_count)
        ring = round((disc.outer - disc.distance_of(point)) / step - 0.5)
        bearing = disc.bearing_of(point)
        for index, arc in enumerate(self.arcs):
            if self.on_ring[index] == ring and (bearing - arc.low_deg) % 360.0 <= arc.high_deg - arc.low_deg:
                return index
        return None

    def pixmap(
        self, size: tuple[int, int], ratio: float, disc: CompassFrame, scheme: Scheme, looks: list[ArcLook]
    ) -> QPixmap:
        """The arcs in these looks; what did not change since the last call is not drawn again."""
        key = (size, ratio, disc, scheme.name)
        if key != self._key or len(looks) != len(self._looks):
            self._key = key
            self._pixmap = QPixmap(round(size[0] * ratio), round(size[1] * ratio))
            self._pixmap.setDevicePixelRatio(ratio)
            self._pixmap.fill(Qt.GlobalColor.transparent)
            self._looks = [None] * len(looks)
        stale = [k for k, look in enumerate(looks) if look != self._looks[k]]
        if stale:
            with painting(self._pixmap) as painter:
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                for index in stale:
                    if self._looks[index] is not None:
                        self._clear(painter, index, disc)
                for index in stale:
                    self._draw(painter, index, disc, scheme, looks[index])
                self._looks = list(looks)
        return self._pixmap

    def _clear(self, painter: QPainter, index: int, disc: CompassFrame) -> None:
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_Clear)
        arc, radius = self.arcs[index], self.radius(index, disc)
        width = min(self.width(disc) * 1.5 + 2.0, disc.ring_step(self.ring_count))
        # The arc itself and its dots, a little beyond both ends, but never into the next arc of the ring.
        margin = min(3.0, 200.0 / radius)
        painter.setPen(QPen(Qt.GlobalColor.black, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        painter.drawArc(disc.box(radius), *qt_arc(arc.low_deg - margin, arc.high_deg + margin))
        painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_SourceOver)

    def _draw(self, painter: QPainter, index: int, disc: CompassFrame, scheme: Scheme, look: ArcLook) -> None:
        arc, radius, width = self.arcs[index], self.radius(index, disc), self.width(disc)
        color = scheme.color(COLOR_ROLES[look.kind])
        if look.chosen:
            width = min(width * 1.5, disc.ring_step(self.ring_count) * 0.9)
        span = (arc.low_deg, min(arc.high_deg, arc.low_deg + 360.0))
        if look.kind == "thin":
            stroke(painter, disc, radius, span, color, max(width * 0.28, 1.0))
        elif look.kind == "over":
            hatched(painter, disc, radius, span, color, scheme.color("card"), width)
        else:
            stroke(painter, disc, radius, span, color, width)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(color)
        dot = min(max(width * 0.95, 1.6), disc.ring_step(self.ring_count) * 0.5)
        painter.drawEllipse(disc.point(arc.aos_deg, radius), dot, dot)
        painter.setBrush(Qt.BrushStyle.NoBrush)


COLOR_ROLES = {"held": "signal", "over": "signal", "split": "accent", "thin": "accent", "plain": "faint"}


def stroke(
    painter: QPainter,
    disc: CompassFrame,
    radius: float,
    piece: Piece,
    color: QColor,
    width: float,
    flat: bool = True,
) -> None:
    """A solid piece of a ring."""
    cap = Qt.PenCapStyle.FlatCap if flat else Qt.PenCapStyle.RoundCap
    painter.setPen(QPen(color, width, Qt.PenStyle.SolidLine, cap))
    painter.drawArc(disc.box(radius), *qt_arc(*piece))


def hatched(
    painter: QPainter,
    disc: CompassFrame,
    radius: float,
    piece: Piece,
    color: QColor,
    ground: QColor,
    width: float,
) -> None:
    """A piece of a ring in the mark of over the top: hatched where wide enough, dashed where thin."""
    if width >= 3.5:
        stroke(painter, disc, radius, piece, color, width)
        pen = QPen(ground, width - 2.2, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([5.0 / (width - 2.2), 4.0 / (width - 2.2)])
    else:
        pen = QPen(color, width, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([4.0 / width, 2.5 / width])
    painter.setPen(pen)
    painter.drawArc(disc.box(radius), *qt_arc(*piece))
