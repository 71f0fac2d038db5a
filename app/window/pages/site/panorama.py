"""The horizon as a panorama unrolled on the dial: seen, dragged, and moved by keys."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QDragEnterEvent,
    QDropEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QRegion,
)
from PySide6.QtWidgets import QWidget

from app.window.look.scheme import LIGHT, Scheme
from app.window.pages.site.panorama_paint import (
    paint_empty,
    paint_mask,
    paint_sky,
    paint_stop_seams,
    touched,
)
from app.window.pages.site.panorama_scene import Axes, PanoramaScene
from app.window.views.kept_picture import KeptPicture
from app.window.views.painting import painting
from core.base.angles import wrap_360
from core.mount.dial.readings import azimuth_dial
from core.mount.dial.unrolled import bearing_places_deg
from core.mount.model.station import Mount
from core.place.site import HorizonPoint

#: A press this near to a point takes it, pixels.
_REACH_PX = 12.0
_MOVES = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}
KEYS_HELP = (
    "Page Up and Page Down choose a point, arrows move it (Shift by 0.1 deg), Insert adds, Delete removes."
)


class Panorama(QWidget):
    """Shows the mask over the sky, and tells what was done to it; it changes nothing itself.

    Signals:
        mask_edited(tuple of HorizonPoint, str label, str merge): a finished change.
        mask_previewed(tuple of HorizonPoint): while a point is dragged.
        point_chosen(int): index of the chosen point, -1 for none.
        pointed(str): what is under the mouse, in words; empty when it left.
        files_dropped(list of Path): files dropped on the picture.
    """

    mask_edited = Signal(tuple, str, str)
    mask_previewed = Signal(tuple)
    point_chosen = Signal(int)
    pointed = Signal(str)
    files_dropped = Signal(list)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.scheme: Scheme = LIGHT
        self.scene = PanoramaScene(Mount(), 5.0)
        self.points: tuple[HorizonPoint, ...] = ()
        self.chosen = -1
        self._dragging = False
        self._sky = KeptPicture()
        self._range = (0.0, 45.0)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAcceptDrops(True)
        self.setMinimumHeight(210)
        self.setAccessibleName("Horizon, unrolled on the dial")

    def sizeHint(self) -> QSize:
        return QSize(760, 240)

    # --- what is shown ------------------------------------------------------------------------------------

    def show_scene(self, scene: PanoramaScene, scheme: Scheme) -> None:
        """Another sky, mount or scheme."""
        if scene is not self.scene or scheme is not self.scheme:
            self.scene, self.scheme = scene, scheme
            self._sky.forget()
            self._fit()

    def show_points(self, points: tuple[HorizonPoint, ...]) -> None:
        """Another mask. What is being dragged stays in hand."""
        if not self._dragging and points != self.points:
            self.points = points
            if self.chosen >= len(points):
                self.choose(-1)
        self._fit()

    def choose(self, index: int) -> None:
        """Choose a point, -1 for none."""
        if index != self.chosen:
            self.chosen = index
            self.point_chosen.emit(index)
            self._describe()
            self.update()

    def _fit(self) -> None:
        """Axis range: room over the highest point, and down to the lowest that matters."""
        heights = [point.elevation_deg for point in self.points]
        floor = min([0.0, self.scene.minimum_elevation_deg, *heights])
        need = max([0.0, *heights]) + 12.0
        fitted = floor, next((top for top in (45.0, 60.0, 90.0) if need <= top), 90.0)
        if fitted != self._range and not self._dragging:
            self._range = fitted
            self._sky.forget()
        self._describe()
        self.update()

    def axes(self) -> Axes:
        """The axes as they lie now."""
        return Axes.of(self.width(), self.height(), self.scene.mount, *self._range)

    def _describe(self) -> None:
        """The picture in words."""
        mount, axes = self.scene.mount, self.axes()
        last = wrap_360(axes.zeta + mount.azimuth.travel_deg)
        words = f"From the counter-clockwise stop at {axes.zeta:.1f} deg true "
        words += f"to the clockwise one at {last:.1f}. "
        if self.points:
            top = max(self.points, key=lambda point: point.elevation_deg)
            words += f"{len(self.points)} points, the highest {top.elevation_deg:g} deg "
            words += f"at {top.azimuth_deg:g} deg true. "
        else:
            words += "No horizon points. "
        if 0 <= self.chosen < len(self.points):
            point = self.points[self.chosen]
            words += f"Chosen: {point.azimuth_deg:g} deg true, {point.elevation_deg:g} deg high. "
        self.setAccessibleDescription(words + KEYS_HELP)

    # --- painting -----------------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        axes = self.axes()
        with painting(self) as painter:
            fixed = self._sky.get(self, lambda layer: paint_sky(layer, axes, self.scene, self.scheme))
            for exposed in event.region():  # type: ignore[attr-defined]  # the stubs do not know it
                painter.save()
                painter.setClipRect(exposed)
                painter.drawPixmap(0, 0, fixed)
                self._paint_over(painter, axes, QRectF(exposed))
                painter.restore()

    def _paint_over(self, painter: QPainter, axes: Axes, exposed: QRectF) -> None:
        """What is painted anew every time, as far as it is exposed."""
        paint_mask(painter, axes, self.points, self.chosen, self.hasFocus(), self.scheme, exposed)
        paint_stop_seams(painter, axes, self.scene, self.scheme, exposed)
        if not self.points:
            paint_empty(painter, axes, self.scheme)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if self.hasFocus():
            painter.setPen(QPen(self.scheme.color("signal"), 2.0))
        else:
            painter.setPen(QPen(self.scheme.color("edge"), 1.0))
        painter.drawRect(axes.plot)

    def _repaint_columns(self, columns: list[tuple[float, float]]) -> None:
        """Paint again from top to bottom, from and to in pixels."""
        region = QRegion()
        for left, right in columns:
            region += QRectF(left, 0.0, right - left, self.height()).toAlignedRect()
        self.update(region)

    # --- mouse --------------------------------------------------------------------------------------------

    def point_near(self, place: QPointF) -> int:
        """Index of the point under a pixel, -1 without one."""
        axes = self.axes()
        best, nearest = _REACH_PX, -1
        for index, point in enumerate(self.points):
            for m in bearing_places_deg(point.azimuth_deg, axes.zeta, axes.span):
                away = axes.point(m, point.elevation_deg) - place
                distance = (away.x() ** 2 + away.y() ** 2) ** 0.5
                if distance < best:
                    best, nearest = distance, index
        return nearest

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton:
            super().mousePressEvent(event)
            return
        self.choose(self.point_near(event.position()))
        self._dragging = self.chosen >= 0

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        axes = self.axes()
        if self._dragging:
            before = self.points
            self.points = self._moved(self._point_at(event.position()))
            if self.points != before:
                self.mask_previewed.emit(self.points)
                self._repaint_columns(touched(axes, before, self.points, self.chosen))
        near = self._dragging or self.point_near(event.position()) >= 0
        self.setCursor(Qt.CursorShape.SizeAllCursor if near else Qt.CursorShape.CrossCursor)
        self.pointed.emit(self._words_at(axes, event.position()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._dragging and event.button() == Qt.MouseButton.LeftButton:
            self._dragging = False
            self._tell("move a horizon point")

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if self.point_near(event.position()) < 0 and self.axes().plot.contains(event.position()):
            self._add(self._point_at(event.position()))

    def leaveEvent(self, event: QEvent) -> None:
        self.pointed.emit("")
        super().leaveEvent(event)

    def _point_at(self, place: QPointF) -> HorizonPoint:
        axes = self.axes()
        return _point(axes.bearing_at(place.x()), axes.elevation_at(place.y()))

    def _words_at(self, axes: Axes, place: QPointF) -> str:
        if not axes.plot.contains(place):
            return ""
        m = axes.m_at(place.x())
        words = f"{axes.bearing_at(place.x()):.1f} deg true, {axes.elevation_at(place.y()):.1f} high"
        axis = self.scene.mount.azimuth
        return (
            f"{words}, dial {azimuth_dial(m, axis).text}"
            if m <= axis.travel_deg
            else f"{words}, out of travel"
        )

    # --- keys ---------------------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in _MOVES and self.chosen >= 0:
            self._step(key, 0.1 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1.0)
        elif key == Qt.Key.Key_Insert:
            self.add_point()
        elif key == Qt.Key.Key_Delete:
            self.remove_chosen()
        elif key in {Qt.Key.Key_PageDown, Qt.Key.Key_PageUp, Qt.Key.Key_Home, Qt.Key.Key_End} and self.points:
            self._turn_to(key)
        else:
            super().keyPressEvent(event)

    def add_point(self) -> None:
        """Add a point midway to the next one."""
        self._add(self._next_point())

    def remove_chosen(self) -> None:
        """Remove the chosen point."""
        if not 0 <= self.chosen < len(self.points):
            return
        self.points = (*self.points[: self.chosen], *self.points[self.chosen + 1 :])
        self._tell("remove a horizon point")
        self.choose(min(self.chosen, len(self.points) - 1))
        self._fit()

    def _step(self, key: Qt.Key, by_deg: float) -> None:
        aside, up = _MOVES[key]
        point = self.points[self.chosen]
        self.points = self._moved(
            _point(point.azimuth_deg + aside * by_deg, point.elevation_deg + up * by_deg)
        )
        self._tell("move a horizon point", f"horizon point {self.chosen}")
        self._fit()

    def _turn_to(self, key: Qt.Key) -> None:
        """The next or previous point along the dial."""
        zeta = self.axes().zeta
        order = sorted(range(len(self.points)), key=lambda i: wrap_360(self.points[i].azimuth_deg - zeta))
        at = order.index(self.chosen) if self.chosen in order else -1
        ahead = {
            Qt.Key.Key_PageDown: at + 1,
            Qt.Key.Key_PageUp: at - 1 if at >= 0 else -1,
            Qt.Key.Key_Home: 0,
        }
        self.choose(order[ahead.get(key, -1) % len(order)])

    def _next_point(self) -> HorizonPoint:
        """Midway to the next point clockwise; the first one stands mid travel."""
        axes = self.axes()
        if not self.points:
            return _point(axes.bearing_at(axes.plot.center().x()), self.scene.minimum_elevation_deg + 5.0)
        here = self.points[max(self.chosen, 0)]
        gaps = [((wrap_360(p.azimuth_deg - here.azimuth_deg)) or 360.0, p) for p in self.points]
        gap, other = min(gaps, key=lambda pair: pair[0])
        return _point(here.azimuth_deg + gap / 2.0, (here.elevation_deg + other.elevation_deg) / 2.0)

    def _moved(self, point: HorizonPoint) -> tuple[HorizonPoint, ...]:
        return (*self.points[: self.chosen], point, *self.points[self.chosen + 1 :])

    def _add(self, point: HorizonPoint) -> None:
        self.points = (*self.points, point)
        self.choose(len(self.points) - 1)
        self._tell("add a horizon point")
        self._fit()

    def _tell(self, label: str, merge: str = "") -> None:
        self.mask_edited.emit(self.points, label, merge)

    # --- drops and focus ----------------------------------------------------------------------------------

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if any(_is_table(url.toLocalFile()) for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        files = [Path(url.toLocalFile()) for url in event.mimeData().urls() if _is_table(url.toLocalFile())]
        if files:
            event.acceptProposedAction()
            self.files_dropped.emit(files)

    def focusInEvent(self, event: QFocusEvent) -> None:
        if self.chosen < 0 and self.points and event.reason() != Qt.FocusReason.MouseFocusReason:
            self._turn_to(Qt.Key.Key_Home)
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusOutEvent(event)


def _point(azimuth_deg: float, elevation_deg: float) -> HorizonPoint:
    """A point to a tenth of a degree, kept within what a mask can hold."""
    azimuth = round(wrap_360(azimuth_deg), 1)
    elevation = round(min(max(elevation_deg, -10.0), 90.0), 1)
    return HorizonPoint(azimuth_deg=azimuth, elevation_deg=elevation)


def _is_table(name: str) -> bool:
    return Path(name).suffix.lower() in {".csv", ".txt", ".tsv"}
