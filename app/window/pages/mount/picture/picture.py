"""What the mount's numbers mean: the station from above, the elevation from the side, the dial as drawn.

The part that the focused field changes stands out in the accent colour.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import LIGHT, Scheme
from app.window.pages.mount.picture.above import paint_above
from app.window.pages.mount.picture.dial import paint_dial
from app.window.pages.mount.picture.side import paint_side
from app.window.views.kept_picture import KeptPicture
from app.window.views.painting import painting
from core.mount.dial.summary import elevation_range_words, overlap_words, stop_words
from core.mount.model.from_above import station_from_above
from core.mount.model.station import Antenna, Mount


class PlatePicture(QWidget):
    """Three small drawings of one mount, with one part of them standing out."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.scheme: Scheme = LIGHT
        self.mount = Mount()
        self.antennas: tuple[Antenna, ...] = (Antenna(),)
        self.part = ""
        self._kept = KeptPicture()
        self.setAccessibleName("What the numbers mean")
        self.setMinimumSize(330, 330)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        return QSize(430, 400)

    def show_mount(self, mount: Mount, antennas: tuple[Antenna, ...], scheme: Scheme) -> None:
        """Another mount, other antennas, or another scheme."""
        if (mount, antennas, scheme) != (self.mount, self.antennas, self.scheme):
            self.mount, self.antennas, self.scheme = mount, antennas, scheme
            self._renew()
        self._describe()

    def show_part(self, part: str) -> None:
        """Let another part stand out; empty for none."""
        if part != self.part:
            self.part = part
            self._renew()

    def _renew(self) -> None:
        self._kept.forget()
        self.update()

    def _describe(self) -> None:
        """The drawings in words."""
        holes = ", ".join(f"{h.name} at {h.bearing_deg:.0f}" for h in station_from_above(self.mount).holes)
        counter_clockwise, clockwise = stop_words(self.mount)
        self.setAccessibleDescription(
            f"Keyway at {self.mount.keyway_bearing_deg:.1f} deg true; holes {holes} deg true; "
            f"counter-clockwise stop {counter_clockwise}, clockwise stop {clockwise}; "
            f"{overlap_words(self.mount)}; {elevation_range_words(self.mount)}."
        )

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.drawPixmap(0, 0, self._kept.get(self, self._paint_all))

    def _paint_all(self, painter: QPainter) -> None:
        """The station over the dial's strip; the side view stands in the corner between them."""
        width, height = float(self.width()), float(self.height())
        strip = 74.0
        upper = height - strip
        beside = max(min(width * 0.33, 170.0), 118.0)
        above = QRectF(56.0, 0.0, width - 56.0 - beside * 0.42, upper)
        side = QRectF(width - beside, upper - beside * 0.95, beside, beside * 0.95)
        paint_above(painter, above, self.mount, self.antennas, self.part, self.scheme)
        paint_side(painter, side, self.mount.elevation, self.part, self.scheme)
        paint_dial(painter, QRectF(0.0, upper, width, strip), self.mount.azimuth, self.part, self.scheme)
