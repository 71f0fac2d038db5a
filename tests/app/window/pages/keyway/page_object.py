"""The Keyway page as an operator handles it: grab, drag, press, read."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMessageBox

from app.window.pages.keyway.page import KeywayPage
from app.window.state.context import Context
from app.window.state.document import Document
from app.window.state.runner import Runner
from core.evaluate import Result
from core.mount.seat.study import SeatStudy
from core.plan.document import Plan


class KeywayObject:
    """Drives one page on a context of its own, wired to its document as the main window does it."""

    def __init__(
        self,
        runner: Runner,
        plan: Plan,
        result: Result | None = None,
        study: SeatStudy | None = None,
        result_plan: Plan | None = None,
    ) -> None:
        self.document = Document(plan)
        self.context = Context(
            self.document,
            runner,
            result=result,
            result_plan=(result_plan or plan) if result is not None else None,
            study=study,
            study_plan=(result_plan or plan) if study is not None else None,
        )
        self.page = KeywayPage(self.context)
        self.document.plan_changed.connect(lambda _plan: self.page.refresh())
        self.page.resize(1280, 800)
        self.page.show()
        self.page.refresh()
        self.station, self.curve, self.panel = self.page.station, self.page.curve.view, self.page.panel

    # --- doing --------------------------------------------------------------------------------------------

    def at(self, bearing_deg: float, share: float) -> QPoint:
        """A point of the station at a bearing and a share of the ring's radius."""
        disc = self.station.disc()
        return disc.point(bearing_deg, disc.radius * share).toPoint()

    def grab(self, bearing_deg: float, share: float = 1.0) -> None:
        """Press the left button there."""
        QTest.mousePress(self.station, Qt.MouseButton.LeftButton, pos=self.at(bearing_deg, share))

    def pull(self, bearing_deg: float, share: float = 1.0) -> None:
        """Move with the button down."""
        QTest.mouseMove(self.station, self.at(bearing_deg, share))

    def let_go(self, bearing_deg: float, share: float = 1.0) -> None:
        """Release the button there."""
        QTest.mouseRelease(self.station, Qt.MouseButton.LeftButton, pos=self.at(bearing_deg, share))

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """A key on the station."""
        QTest.keyClick(self.station, key, modifier)

    def type_bearing(self, text: str) -> None:
        """Type into the bearing field and press Enter."""
        field = self.panel.field
        field.setFocus()
        field.selectAll()
        QTest.keyClicks(field, text)
        QTest.keyClick(field, Qt.Key.Key_Return)

    def press_hole(self, name: str) -> None:
        """Click a hole's button."""
        QTest.mouseClick(self.panel.holes.buttons[name], Qt.MouseButton.LeftButton)

    def press_best(self) -> None:
        """Click the one button."""
        QTest.mouseClick(self.panel.best, Qt.MouseButton.LeftButton)

    def answer(self, words: str) -> None:
        """Press a button of the open question."""
        button = next(b for b in self.question.buttons() if b.text() == words)
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    def give(self, **changes: object) -> None:
        """New results arrive."""
        for name, value in changes.items():
            setattr(self.context, name, value)
        if "study" in changes:
            self.context.study_plan = self.context.result_plan
        if "by_evening" in changes:
            self.context.by_evening_plan = self.context.result_plan
        self.page.refresh()

    # --- reading ------------------------------------------------------------------------------------------

    @property
    def question(self) -> QMessageBox:
        """The open question."""
        question = self.page.editor.question
        assert question is not None
        return question

    @property
    def keyway_deg(self) -> float:
        """Where the document's keyway points."""
        return self.document.plan.mount.keyway_bearing_deg

    @property
    def hole(self) -> str:
        """The document's hole in use."""
        return self.document.plan.mount.index_hole

    @property
    def rows(self) -> list[str]:
        """The satellites of the list."""
        return [row.satellite for row in self.panel.list.rows.rows]
