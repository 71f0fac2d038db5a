"""Seconds off the beam, and the evening's worth, against where the keyway points; it is dragged along."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QWidget

from app.window.look.scheme import font
from app.window.pages.keyway.views.keyway_view import KeywayView
from app.window.pages.keyway.views.season_paint import paint_season, season_frame, season_steps
from app.window.pages.keyway.views.seat_curve_paint import (
    CurveFrame,
    frame_in,
    paint_axes,
    paint_band,
    paint_bearing,
    paint_best,
    paint_reading,
    paint_steps,
)
from app.window.pages.keyway.views.worth_paint import WorthScale, paint_worth, paint_worth_axis, worth_scale
from app.window.views.kept_picture import KeptPicture
from app.window.views.painting import painting
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.station import Mount
from core.mount.seat.best_arcs import BestArcs, best_arcs
from core.mount.seat.curve import CurveSteps, curve_steps
from core.mount.seat.evenings import EveningCurve
from core.mount.seat.season.study import HoleSeason
from core.mount.seat.season.words import curve_sentence, share_reading
from core.mount.seat.study import HoleStudy, SeatStudy
from core.mount.seat.words import curve_description, curve_reading, evening_reading
from core.studies import SeatByEvening


class SeatCurve(KeywayView):
    """The study's curves, keyway bearing across."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Seconds off the beam and the evening's worth against keyway bearing", parent)
        self._study: SeatStudy | None = None
        self._curves: dict[str, CurveSteps] = {}
        self._holes: dict[str, HoleStudy] = {}
        self.arcs: dict[str, BestArcs] = {}
        self._evenings: SeatByEvening | None = None
        self._worths: dict[str, EveningCurve] = {}
        self._season: dict[str, HoleSeason] = {}
        self._shares: dict[str, CurveSteps] = {}
        self._hole = ""
        self._bearing_deg = 0.0
        self._pointed: float | None = None
        self._waiting = ""
        self._ground = KeptPicture()
        self._dragging = False

    def sizeHint(self) -> QSize:
        return QSize(900, 180)

    def minimumSizeHint(self) -> QSize:
        return QSize(300, 120)

    # --- what is shown ------------------------------------------------------------------------------------

    def set_study(self, study: SeatStudy | None, waiting: str = "") -> None:
        """The study to draw; without one the words are shown in its place."""
        if study is self._study and waiting == self._waiting:
            return
        self._study, self._waiting = study, waiting
        self._holes = {} if study is None else {hole.hole.name: hole for hole in study.holes}
        self._curves = {name: curve_steps(hole.curve) for name, hole in self._holes.items()}
        limits = () if study is None else study.limits
        self.arcs = {name: best_arcs(hole.curve, hole.best, limits) for name, hole in self._holes.items()}
        self._ground.forget()
        self._describe()
        self.update()

    def set_evenings(self, evenings: SeatByEvening | None, mount: Mount) -> None:
        """What the evening is worth over the bearing; None until it is known.

        Args:
            mount: its holes turn the curve.
        """
        if evenings is self._evenings:
            return
        self._evenings = evenings
        self._worths = {}
        if evenings is not None and evenings.best is not None:
            self._worths = {
                hole.name: evenings.curve_of(hole.name).turned(-fixed_offset_deg(mount, hole))
                for hole in mount.index_holes
            }
        self._ground.forget()
        self._describe()
        self.update()

    def set_season(self, holes: tuple[HoleSeason, ...]) -> None:
        """A season's curves in place of the evening's; none: the evening's again."""
        season = {hole.hole.name: hole for hole in holes}
        if season == self._season:
            return
        self._season = season
        self._shares = {name: season_steps(hole) for name, hole in season.items()}
        self._ground.forget()
        self._describe()
        self.update()

    @property
    def season_hole(self) -> HoleSeason | None:
        """The season of the hole whose curve is strong; None while the evening is shown."""
        return self._season.get(self._hole)

    def set_hole(self, name: str) -> None:
        """The hole whose curve is strong."""
        if name != self._hole:
            self._hole = name
            self._describe()
            self.update()

    def set_bearing(self, bearing_deg: float) -> None:
        """Where the keyway points now."""
        if bearing_deg != self._bearing_deg:
            self._bearing_deg = bearing_deg
            self._describe()
            self.update()

    @property
    def study(self) -> SeatStudy | None:
        """What is drawn."""
        return self._study

    @property
    def shown_hole(self) -> HoleStudy | None:
        """The study of the hole whose curve is strong."""
        return self._holes.get(self._hole)

    @property
    def evenings(self) -> SeatByEvening | None:
        """The evenings that are drawn."""
        return self._evenings if self._worths else None

    @property
    def _worth(self) -> EveningCurve | None:
        """The evenings of the hole whose curve is strong."""
        return self._worths.get(self._hole)

    def worth_scale(self) -> WorthScale | None:
        """The scale of the evenings' worth; None until they are known."""
        return None if self._worth is None else worth_scale(self._worth)

    def frame(self) -> CurveFrame:
        """The plot at the present size."""
        worst = max((float(steps.lost_s.max()) for steps in self._curves.values()), default=0.0)
        frame = frame_in(self.width(), self.height(), worst)
        return season_frame(frame, self._season.values()) if self._season else frame

    def _describe(self) -> None:
        steps, season = self._curves.get(self._hole), self.season_hole
        if season is not None:
            words = f"{curve_sentence(season)} {share_reading(season, self._bearing_deg)}."
            self.setAccessibleDescription(words)
        elif steps is None:
            self.setAccessibleDescription(self._waiting)
        else:
            words = curve_description(steps, self._bearing_deg, self._holes[self._hole], self._worth)
            self.setAccessibleDescription(words)

    def keyway_deg(self) -> float:
        return self._bearing_deg

    # --- painting -----------------------------------------------------------------------------------------

    def paintEvent(self, _event: QPaintEvent) -> None:
        with painting(self) as painter:
            frame = self.frame()
            painter.drawPixmap(0, 0, self._fixed(frame))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            paint_bearing(painter, frame, self._bearing_deg, self._scheme, self.hasFocus())
            strong = self._pointed is None or self._dragging
            at = self._bearing_deg if self._pointed is None or self._dragging else self._pointed
            words = self._reading(at)
            if words:
                paint_reading(painter, frame, at, words, strong, self._scheme)

    def _reading(self, at_deg: float) -> str:
        """What the strong curve says at a bearing; empty while there is none."""
        steps, season = self._curves.get(self._hole), self.season_hole
        if season is not None:
            return share_reading(season, at_deg)
        if steps is None:
            return ""
        words = curve_reading(steps, at_deg)
        return words if self._worth is None else f"{words}; {evening_reading(self._worth, at_deg)}"

    def _fixed(self, frame: CurveFrame) -> QPixmap:
        """Axes, curves, band and best arcs."""
        shown = (frame, self._scheme.name, self._hole, self._waiting)
        paper = self._scheme.color("paper")
        return self._ground.get(self, lambda painter: self._paint_fixed(painter, frame), shown, paper)

    def _paint_fixed(self, painter: QPainter, frame: CurveFrame) -> None:
        scheme = self._scheme
        if self._season:
            paint_season(painter, frame, self._shares, self.season_hole, scheme)
            return
        paint_axes(painter, frame, scheme)
        for name, steps in self._curves.items():
            if name != self._hole:
                paint_steps(painter, frame, steps, scheme, strong=False)
        if self._hole in self._curves:
            steps = self._curves[self._hole]
            paint_steps(painter, frame, steps, scheme, strong=True)
            paint_band(painter, frame, steps, scheme)
            best_deg = self._holes[self._hole].best_rounded_deg
            paint_best(painter, frame, self.arcs[self._hole], best_deg, scheme)
            self._paint_worth(painter, frame)
        if self._waiting:
            painter.setPen(scheme.color("faint"))
            painter.setFont(font(12))
            painter.drawText(
                int(frame.left),
                int(frame.top),
                int(frame.width),
                int(frame.height),
                Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap,
                self._waiting,
            )

    def _paint_worth(self, painter: QPainter, frame: CurveFrame) -> None:
        scale, worth, evenings = self.worth_scale(), self._worth, self._evenings
        if scale is None or worth is None or evenings is None:
            return
        best = evenings.best
        here = best is not None and best.index_hole == self._hole
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_worth_axis(painter, frame, scale, self._scheme)
        paint_worth(painter, frame, scale, worth, best if here else None, self._scheme)

    # --- mouse and keys -----------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.may_drag():
            self._dragging = True
            self._move_to(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._dragging:
            self._move_to(event)
            return
        frame = self.frame()
        inside = frame.left <= event.position().x() <= frame.left + frame.width
        self._pointed = frame.bearing_at(event.position().x()) if inside else None
        self.update()

    def _move_to(self, event: QMouseEvent) -> None:
        self.moved.emit(round(self.frame().bearing_at(event.position().x()), 1))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._dragging and event.button() == Qt.MouseButton.LeftButton:
            self._dragging = False
            self.released.emit()

    def leaveEvent(self, event: QEvent) -> None:
        self._pointed = None
        self.update()
        super().leaveEvent(event)
