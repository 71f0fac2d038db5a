"""The Setup page: used outdoors, in gloves, once. One question at a time."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from app.window.page import Page
from app.window.pages.setup.big import big_button
from app.window.pages.setup.seat_taker import SeatTaker
from app.window.pages.setup.state import SetUp
from app.window.pages.setup.step import Desk, Step, scrolled
from app.window.pages.setup.steps.checklist import ChecklistStep
from app.window.pages.setup.steps.fit import FitStep
from app.window.pages.setup.steps.how_good import HowGoodStep
from app.window.pages.setup.steps.keyway import KeywayStep
from app.window.pages.setup.steps.level import LevelStep
from app.window.pages.setup.steps.north import NorthStep
from app.window.pages.setup.steps.sightings import SightingsStep
from app.window.pages.setup.strip import StepStrip
from app.window.state.context import Context
from app.window.widgets.labels import label
from core.base.words import counted

_WORKING = "Being worked out..."
_NOT_WORKED_OUT = "Not worked out for the plan as it is."


class SetupPage(Page):
    """Level, north, keyway, sightings, their fit, how good it then is, and what is done of it all."""

    title = "Setup"

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.set_up = SetUp(context, self)
        desk = Desk(context, self.set_up)
        self.taker = SeatTaker(context.document, self)
        self.level, self.north = LevelStep(desk), NorthStep(desk)
        self.keyway, self.sightings = KeywayStep(desk, self.taker), SightingsStep(desk)
        self.fit, self.how_good = FitStep(desk), HowGoodStep(desk)
        self.checklist = ChecklistStep(desk)
        self.steps: tuple[Step, ...] = (
            self.level,
            self.north,
            self.keyway,
            self.sightings,
            self.fit,
            self.how_good,
            self.checklist,
        )
        self.here = 0
        self.strip = StepStrip([step.title for step in self.steps], [step.question for step in self.steps])
        self.stack = QStackedWidget()
        self.back = big_button("Back", lambda: self.open_step(self.here - 1), tip="To the question before")
        self.next = big_button(
            "Next", lambda: self.open_step(self.here + 1), main=True, tip="To the next question"
        )
        self.again = big_button("Work it out", self.set_up.ask_again, tip="Work out what was stopped")
        self.state = label(12, name="whether the figures are of the plan as it is", rank="second", wraps=True)
        self._lay_out()
        self._connect()
        self.open_step(0)

    def _lay_out(self) -> None:
        for step in self.steps:
            self.stack.addWidget(scrolled(step))
        foot = QHBoxLayout()
        foot.setContentsMargins(22, 8, 26, 12)
        foot.setSpacing(14)
        for button in (self.back, self.next):
            button.setMinimumSize(150, 52)
        foot.addWidget(self.back)
        foot.addWidget(self.state, 1)
        foot.addWidget(self.again)
        foot.addWidget(self.next)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.strip)
        column.addWidget(self.stack, 1)
        column.addLayout(foot)

    def _connect(self) -> None:
        self.strip.chosen.connect(self.open_step)
        self.set_up.changed.connect(self._on_answer)
        self.set_up.ticked.connect(self._on_tick)
        for step in self.steps:
            self.context.document.started.connect(step.forget)
            step.answered.connect(self._go_on)

    # --- which question -----------------------------------------------------------------------------------

    @Slot(int)
    def open_step(self, place: int) -> None:
        """Another question, as far as there are."""
        self.here = min(max(place, 0), len(self.steps) - 1)
        self.stack.setCurrentIndex(self.here)
        self._keep_focus()
        self.back.setEnabled(self.here > 0)
        self.next.setEnabled(self.here + 1 < len(self.steps))
        before = self.steps[self.here - 1].title if self.here else ""
        after = self.steps[self.here + 1].title if self.here + 1 < len(self.steps) else ""
        self.back.setText(f"Back: {before}" if before else "Back")
        self.next.setText(f"Next: {after}" if after else "Next")
        self._show()
        field = self.steps[self.here].first_field()
        if field is not None and self.isVisible():
            field.setFocus()

    def _keep_focus(self) -> None:
        """From a button that can be pressed no more to the step's own; else it would leave the page."""
        ends = (self.here == 0 and self.back.hasFocus()) or (
            self.here + 1 == len(self.steps) and self.next.hasFocus()
        )
        if ends:
            self.strip.buttons[self.here].setFocus()

    @Slot()
    def _go_on(self) -> None:
        """The next press goes to the next question, unless another one is being asked."""
        if self.taker.question is None:
            self.next.setFocus()

    @property
    def step(self) -> Step:
        """The one that is open."""
        return self.steps[self.here]

    # --- showing ------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        self.set_up.follow()
        self._show()

    def count(self) -> int:
        return self.fit.to_decide()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.set_up.watch(True)
        self._show()

    def hideEvent(self, event: QHideEvent) -> None:
        self.set_up.watch(False)
        super().hideEvent(event)

    @Slot()
    def _on_answer(self) -> None:
        self.count_changed.emit(self.count())
        if self.isVisible():
            self._show()

    @Slot()
    def _on_tick(self) -> None:
        self.step.tick()

    def _show(self) -> None:
        self.step.show_now()
        self.strip.show_steps(self.here, [step.done() for step in self.steps], self.context.scheme)
        held = self.set_up
        stopped = not held.fresh and not held.working
        self.again.setVisible(stopped and self.isVisible())
        words = "" if held.fresh else held.failure or (_NOT_WORKED_OUT if stopped else _WORKING)
        self.state.setText(words or self._to_do())

    def _to_do(self) -> str:
        count = self.count()
        return f"{counted(count, 'thing')} to decide at step 5." if count and self.here != 4 else ""
