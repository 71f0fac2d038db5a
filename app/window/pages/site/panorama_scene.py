"""What the panorama shows behind the mask, and how its axes lie on the widget."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF

from core.base.angles import Floats, wrap_360
from core.mount.dial.unrolled import span_deg
from core.mount.model.chain import zeta_deg
from core.mount.model.results import Verdict
from core.mount.model.station import Mount
from core.place.sun import SunPath

#: Room around the plot, pixels: elevation figures left; bearings, dial and their ticks below.
LEFT, RIGHT, TOP, BOTTOM = 62.0, 26.0, 10.0, 58.0


@dataclass(frozen=True, eq=False)
class SkyLine:
    """A path over the sky: azimuth unwrapped (N,), elevation (N,); verdict None where it is hidden."""

    azimuth_deg: Floats
    elevation_deg: Floats
    verdict: Verdict | None
    picked: bool


@dataclass(frozen=True, eq=False)
class PanoramaScene:
    """The fixed layer's content; ``zone`` is of the clock beside the Sun."""

    mount: Mount
    minimum_elevation_deg: float
    lines: tuple[SkyLine, ...] = ()
    sun: SunPath | None = None
    zone: str = "UTC"


@dataclass(frozen=True)
class Axes:
    """Pixels of mechanical azimuth m across and elevation up."""

    plot: QRectF
    zeta: float
    span: float
    low_deg: float
    high_deg: float

    @classmethod
    def of(cls, width: float, height: float, mount: Mount, low_deg: float, high_deg: float) -> Axes:
        """The axes of a widget of that size."""
        plot = QRectF(LEFT, TOP, max(width - LEFT - RIGHT, 10.0), max(height - TOP - BOTTOM, 10.0))
        return cls(plot, zeta_deg(mount), span_deg(mount), low_deg, high_deg)

    def x(self, m_deg: float) -> float:
        """Pixel of a mechanical azimuth."""
        return self.plot.left() + m_deg / self.span * self.plot.width()

    def y(self, elevation_deg: float) -> float:
        """Pixel of an elevation."""
        share = (elevation_deg - self.low_deg) / (self.high_deg - self.low_deg)
        return self.plot.bottom() - share * self.plot.height()

    def point(self, m_deg: float, elevation_deg: float) -> QPointF:
        """Pixel of both."""
        return QPointF(self.x(m_deg), self.y(elevation_deg))

    def m_at(self, x: float) -> float:
        """Mechanical azimuth under a pixel, kept on the axis."""
        return min(max((x - self.plot.left()) / self.plot.width() * self.span, 0.0), self.span)

    def bearing_at(self, x: float) -> float:
        """True bearing under a pixel."""
        return wrap_360(self.zeta + self.m_at(x))

    def elevation_at(self, y: float) -> float:
        """Elevation under a pixel, kept on the axis."""
        share = (self.plot.bottom() - y) / self.plot.height()
        return self.low_deg + min(max(share, 0.0), 1.0) * (self.high_deg - self.low_deg)
