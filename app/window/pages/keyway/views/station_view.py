"""The station from above: the keyway is dragged or stepped by keys, and the passes lie round it as arcs."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QHelpEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
)
from PySide6.QtWidgets import QToolTip, QWidget

from app.window.pages.keyway.views.keyway_view import KeywayView
from app.window.pages.keyway.views.station_view_arcs import MOST_ALONE, ArcLook, ArcsLayer
from app.window.pages.keyway.views.station_view_geometry import CompassFrame, compass_in, legend_height
from app.window.pages.keyway.views.station_view_paint import (
    HatchBrushes,
    paint_compass,
    paint_gaps,
    paint_handle,
    paint_labels,
    paint_legend,
    paint_limits,
    paint_plate,
    paint_sectors,
    paint_stops,
)
from app.window.views.kept_picture import KeptPicture
from app.window.views.painting import painting
from app.window.widgets.plain import tip
from core.base.angles import wrap_180, wrap_360
from core.base.times import clock
from core.mount.model.from_above import FromAbove
from core.mount.model.results import Verdict
from core.mount.model.station import AzimuthAxis
from core.mount.seat.limits import SeatLimit
from core.mount.seat.outcome import PassAtSeat, SeatOutcome
from core.mount.seat.pass_arcs import pass_arc, rings
from core.mount.seat.words import short_why, station_description
from core.passes.track import Pass

#: Half the width of the compass ring's band that can be grabbed.
_GRIP = 18.0


class StationView(KeywayView):
    """North up, east right, angles clockwise.

    Signals:
        pass_chosen(int): index of the pass clicked, -1 for none.
    """

    pass_chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Station from above", parent)
        self._passes: tuple[Pass, ...] = ()
        self._above: FromAbove | None = None
        self._azimuth = AzimuthAxis()
        self._outcome: SeatOutcome | None = None
        self._chosen = -1
        self._limits: tuple[SeatLimit, ...] = ()
        self._layer = ArcsLayer()
        self._hatch = HatchBrushes()
        self._ground = KeptPicture()
        self._drag: tuple[float, float] | None = None

    def sizeHint(self) -> QSize:
        return QSize(760, 620)

    def minimumSizeHint(self) -> QSize:
        return QSize(340, 280)

    # --- what is shown ------------------------------------------------------------------------------------

    def set_limits(self, limits: tuple[SeatLimit, ...]) -> None:
        """Where the keyway must not point, hatched outside the ring."""
        if limits != self._limits:
            self._limits = limits
            if self._above is not None:
                self.setAccessibleDescription(
                    station_description(self._above, self._outcome) + self._forbidden()
                )
            self.update()

    def set_passes(self, passes: tuple[Pass, ...]) -> None:
        """The passes studied, by time; the arcs keep this order, the first outermost."""
        if passes != self._passes:
            self._passes = passes
            arcs = tuple(pass_arc(pass_) for pass_ in passes)
            self._layer.set_arcs(arcs, rings(arcs, MOST_ALONE))
            self._outcome = None
            self.update()

    def set_seat(self, above: FromAbove, azimuth: AzimuthAxis, outcome: SeatOutcome | None) -> None:
        """Where the station stands, and how the passes fare there (None while that is unknown)."""
        if outcome is not None and len(outcome.passes) != len(self._passes):
            outcome = None
        if (above, azimuth, outcome) == (self._above, self._azimuth, self._outcome):
            return
        self._above, self._azimuth, self._outcome = above, azimuth, outcome
        self.setAccessibleDescription(station_description(above, outcome) + self._forbidden())
        self.update()

    def _forbidden(self) -> str:
        arcs = [f"{limit.from_deg:g} to {limit.to_deg:g}" for limit in self._limits]
        return f" Forbidden to the keyway: {', '.join(arcs)} deg true." if arcs else ""

    def set_chosen(self, index: int) -> None:
        """The pass drawn heavier; -1 for none."""
        if index != self._chosen:
            self._chosen = index
            self.update()

    def keyway_deg(self) -> float | None:
        return None if self._above is None else self._above.keyway_deg

    def disc(self) -> CompassFrame:
        """The round picture at the present size."""
        return compass_in(self.width(), self.height())

    # --- painting -----------------------------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            painter.drawPixmap(0, 0, self._fixed())
            if self._above is None:
                return
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            disc, scheme, ratio = self.disc(), self._scheme, self.devicePixelRatioF()
            paint_sectors(painter, disc, self._above, scheme, self._hatch.get(scheme, ratio))
            size = (self.width(), self.height())
            painter.drawPixmap(0, 0, self._layer.pixmap(size, ratio, disc, scheme, self._looks()))
            if self._outcome is not None:
                unheld = [here for here in self._outcome.passes if here.resting or not here.held]
                paint_gaps(painter, disc, self._layer, unheld, self._above, self._azimuth, scheme)
            paint_stops(painter, disc, self._above, scheme)
            paint_plate(painter, disc, self._above, scheme)
            paint_handle(painter, disc, self._above.keyway_deg, scheme, self.hasFocus())
            within = QRectF(2.0, 0.0, self.width() - 4.0, self.height() - legend_height(self.width()))
            paint_labels(painter, disc, self._above, scheme, within)

    def _fixed(self) -> QPixmap:
        """Compass, forbidden arcs and legend."""
        shown = (self._scheme.name, self._limits, self._strikes())
        return self._ground.get(self, self._paint_fixed, shown, self._scheme.color("paper"))

    def _paint_fixed(self, painter: QPainter) -> None:
        brush = self._hatch.get(self._scheme, self.devicePixelRatioF())
        paint_limits(painter, self.disc(), self._limits, self._scheme, brush)
        paint_compass(painter, self.disc(), self._scheme)
        paint_legend(painter, self.width(), self.height(), self._scheme, self._strikes())

    def _strikes(self) -> bool:
        """Some bearing of the boom is marked as striking."""
        return self._above is not None and bool(self._above.strikes)

    def _looks(self) -> list[ArcLook]:
        if self._outcome is None:
            return [ArcLook("plain", index == self._chosen) for index in range(len(self._passes))]
        return [ArcLook(_kind(here), here.index == self._chosen) for here in self._outcome.passes]

    # --- mouse --------------------------------------------------------------------------------------------

    def can_grab(self, at: QPointF) -> bool:
        """Plate and compass ring can be grabbed."""
        disc = self.disc()
        distance = disc.distance_of(at)
        return distance <= disc.plate * 1.1 or abs(distance - disc.radius) <= _GRIP

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton or self._above is None:
            return
        if self.can_grab(event.position()):
            if self.may_drag():
                self._drag = (self.disc().bearing_of(event.position()), self._above.keyway_deg)
                self.setCursor(Qt.CursorShape.ClosedHandCursor)
        else:
            index = self._layer.nearest(event.position(), self.disc())
            self.pass_chosen.emit(-1 if index is None else index)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._drag is None:
            grab = self.can_grab(event.position())
            self.setCursor(Qt.CursorShape.OpenHandCursor if grab else Qt.CursorShape.ArrowCursor)
            return
        pointed, keyway = self._drag
        turned = wrap_180(self.disc().bearing_of(event.position()) - pointed)
        self.moved.emit(wrap_360(round(keyway + turned, 1)))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._drag is not None and event.button() == Qt.MouseButton.LeftButton:
            self._drag = None
            self.setCursor(Qt.CursorShape.OpenHandCursor)
            self.released.emit()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            index = self._layer.nearest(QPointF(event.pos()), self.disc())
            QToolTip.showText(event.globalPos(), "" if index is None else tip(self._words(index)), self)
            return True
        return super().event(event)

    def _words(self, index: int) -> str:
        pass_ = self._passes[index]
        words = (
            f"{pass_.satellite}  {clock(pass_.aos.utc_s, False)} UTC, peak {pass_.peak.elevation_deg:.0f} deg"
        )
        return words if self._outcome is None else f"{words}\n{short_why(self._outcome.passes[index])}"


def _kind(here: PassAtSeat) -> str:
    if here.verdict == Verdict.UPRIGHT:
        return "held"
    if here.verdict == Verdict.OVER_THE_TOP:
        return "over"
    return "split" if here.verdict == Verdict.SPLIT else "thin"
