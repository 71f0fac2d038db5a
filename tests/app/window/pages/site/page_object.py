"""The Site page as its user sees it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QMouseEvent
from PySide6.QtWidgets import QApplication, QLineEdit

from app.window.pages.site.page import SitePage
from core.mount.dial.unrolled import bearing_places_deg
from core.plan.document import Plan
from tests.app.window.plain_context import Bench


class SiteBench(Bench[SitePage]):
    """Types, drags, presses and reads."""

    def __init__(self, qtbot, plan: Plan, with_result: bool = True) -> None:
        super().__init__(SitePage, plan, with_result)
        self.qtbot = qtbot
        qtbot.addWidget(self.page)
        self.page.resize(1146, 690)
        self.page.show()
        self.page.activateWindow()
        qtbot.waitUntil(self.page.isActiveWindow)

    def type_into(self, field: QLineEdit, text: str) -> None:
        field.setFocus()
        field.selectAll()
        self.qtbot.keyClicks(field, text)
        self.qtbot.keyClick(field, Qt.Key.Key_Return)

    def point_at(self, index: int, place: int = 0) -> QPointF:
        """Pixel of a horizon point, at one of its places on the dial."""
        panorama = self.page.panorama
        axes, point = panorama.axes(), panorama.points[index]
        return axes.point(
            bearing_places_deg(point.azimuth_deg, axes.zeta, axes.span)[place], point.elevation_deg
        )

    def pixel(self, bearing_deg: float, elevation_deg: float) -> QPointF:
        axes = self.page.panorama.axes()
        return axes.point(bearing_places_deg(bearing_deg, axes.zeta, axes.span)[0], elevation_deg)

    def mouse(self, kind: QEvent.Type, place: QPointF) -> None:
        panorama = self.page.panorama
        held = (
            Qt.MouseButton.NoButton if kind == QEvent.Type.MouseButtonRelease else Qt.MouseButton.LeftButton
        )
        button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else Qt.MouseButton.LeftButton
        event = QMouseEvent(
            kind, place, panorama.mapToGlobal(place), button, held, Qt.KeyboardModifier.NoModifier
        )
        QApplication.sendEvent(panorama, event)

    def drag(self, start: QPointF, *ways: QPointF, release: bool = True) -> None:
        self.mouse(QEvent.Type.MouseButtonPress, start)
        for place in ways:
            self.mouse(QEvent.Type.MouseMove, place)
        if release:
            self.mouse(QEvent.Type.MouseButtonRelease, ways[-1])

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.qtbot.keyClick(self.page.panorama, key, modifier)

    def drop(self, path) -> None:
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(path))])
        held = (data, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier)
        copy = Qt.DropAction.CopyAction
        QApplication.sendEvent(self.page.panorama, QDragEnterEvent(QPoint(100, 100), copy, *held))
        QApplication.sendEvent(self.page.panorama, QDropEvent(QPointF(100, 100), copy, *held))

    @property
    def cost(self) -> str:
        return self.page.cost.text()

    def wait_for_cost(self) -> None:
        """Until the sky has been laid out."""
        self.qtbot.waitUntil(lambda: "minutes" in self.cost, timeout=10_000)
