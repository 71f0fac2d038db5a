"""The Evening page as a test's hand: what is shown, and what can be done."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, Qt

from app.window.look.scheme import LIGHT, Scheme
from app.window.pages.evening.list import PICK, SATELLITE
from app.window.pages.evening.page import EveningPage
from app.window.state.context import Context
from app.window.state.document import Document
from app.window.state.runner import Runner
from core.plan.document import Plan
from tests.lasting import result_of


class EveningHand:
    """An Evening page on its own, evaluated at once after every edit, as the window would do it."""

    def __init__(
        self, qtbot, plan: Plan, scheme: Scheme = LIGHT, size: tuple[int, int] = (1280, 760)
    ) -> None:
        self.qtbot = qtbot
        self.runner = Runner()
        self.context = Context(Document(plan), self.runner, scheme=scheme)
        self.page = EveningPage(self.context)
        self.state = self.page.state
        qtbot.addWidget(self.page)
        self.context.document.plan_changed.connect(self.evaluate)
        self.page.resize(*size)
        self.page.show()
        self.evaluate()
        qtbot.waitExposed(self.page)

    def evaluate(self, *_plan) -> None:
        """What the window does when the plan changed."""
        self.context.result_plan = self.context.plan
        self.context.result = result_of(self.context.plan)
        self.page.refresh()

    def close(self) -> None:
        """End the runner's thread."""
        self.runner.close()

    # --- looking ---

    @property
    def rows(self) -> list[str]:
        """Satellites listed, in order."""
        proxy = self.page.table.proxy
        return [proxy.index(row, SATELLITE).data() for row in range(proxy.rowCount())]

    @property
    def picked(self) -> set[int]:
        """Indices of the passes whose box has a tick."""
        model = self.page.table.model_
        role = Qt.ItemDataRole.CheckStateRole
        checked = Qt.CheckState.Checked
        return {row for row in range(model.rowCount()) if model.index(row, PICK).data(role) == checked}

    def stroke_point(self, index: int) -> QPoint:
        """A place on the stroke of a pass, pixels of the dial chart."""
        points = self.page.dial.points_of(index)
        return QPointF(*points[len(points) // 2].tolist()).toPoint()

    def hill_point(self, index: int) -> QPoint:
        """A place inside the hill of a pass."""
        axis, peak = self.page.hills.axis, self.state.check(index).pass_.peak
        return QPoint(round(axis.x(peak.utc_s)), round(self.page.hills.base) - 3)

    # --- doing ---

    def settle(self) -> None:
        """Let the chart be painted, so that it knows where its strokes are."""
        self.page.grab()

    def hover(self, widget, place: QPoint) -> None:
        """The mouse over a place of a view."""
        self.qtbot.mouseMove(widget, QPoint(1, 1))
        self.qtbot.mouseMove(widget, place)

    def click(self, widget, place: QPoint) -> None:
        """A click at a place of a view."""
        self.qtbot.mouseClick(widget, Qt.MouseButton.LeftButton, pos=place)

    def key(self, widget, key: Qt.Key, modifier=Qt.KeyboardModifier.NoModifier) -> None:
        """A key into a view."""
        self.qtbot.keyClick(widget, key, modifier)

    def tick_box(self, index: int) -> None:
        """A click on the box of a pass in the list."""
        table = self.page.table
        cell = table.proxy.mapFromSource(table.model_.index(index, PICK))
        table.scrollTo(cell)
        self.click(table.viewport(), table.visualRect(cell).center())
