"""What is done, and what comes next? Boxes to tick, large; the next step in words."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QGridLayout, QPushButton, QSizePolicy, QWidget

from app.window.look.style import checked_style
from app.window.pages.setup.answers import Answer
from app.window.pages.setup.big import big_button, in_a_row
from app.window.pages.setup.step import Desk, Step
from app.window.pages.setup.steps.ready_tables import ReadyTables
from core.base.edits import changed
from core.base.words import plain
from core.place.zones import resolve_time_zone
from core.plan.on_site_edits import with_tick, without_ticks
from core.setup.checklist import progress_words
from core.setup.model import STEP_NAMES, StepName
from core.setup.write_down import of_checklist

_TICK = "\N{CHECK MARK}"
_COLUMNS = 3


class ChecklistStep(Step):
    """The steps of setting up, ticked as they are done; kept in the plan."""

    title = "Checklist"
    question = "What is done, and what comes next?"

    def __init__(self, desk: Desk) -> None:
        tables = ReadyTables()
        super().__init__(desk, tables)
        self.tables = tables
        self.answer = Answer("what comes next", 24)
        self.next_button = big_button("Done", self.tick_next, "tick the next step", main=True)
        self.over_button = big_button(
            "Start over", self.start_over, "take all ticks off", tip="All ticks off; undo brings them back"
        )
        self.boxes: dict[StepName, QPushButton] = {}
        grid = QGridLayout()
        grid.setSpacing(6)
        rows = -(-len(STEP_NAMES) // _COLUMNS)
        for place, name in enumerate(STEP_NAMES):
            words = f"Tick the step {name}, or take its tick off"
            box = big_button(name, partial(self.toggle, name), tip=words)
            box.setCheckable(True)
            box.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            self.boxes[name] = box
            grid.addWidget(box, place % rows, place // rows)
        tables.minutes_typed.connect(self.take_minutes)
        self.add(self.answer)
        self.left.addLayout(in_a_row(self.next_button, self.over_button))
        self.left.addLayout(grid)
        self.left.addStretch(1)

    # --- doing --------------------------------------------------------------------------------------------

    def toggle(self, name: StepName) -> None:
        """Tick a step, or take its tick off."""
        done = name not in self.desk.plan.checklist.done
        words = f"tick {name}" if done else f"take the tick off {name}"
        self.desk.edit(lambda plan: with_tick(plan, name, done), words)

    def tick_next(self) -> None:
        """Tick the first step that is not."""
        following = self.following
        if following is not None:
            self.toggle(following)

    def start_over(self) -> None:
        """No step is ticked."""
        self.desk.edit(without_ticks, "start the checklist over")

    @Slot(str, float)
    def take_minutes(self, key: str, minutes: float) -> None:
        """What a stage takes: the timetable is reckoned back anew."""
        words = f"{plain(minutes)} min for {key.replace('_', ' ')}"
        path = f"setup_minutes.{key}"
        self.desk.edit(lambda plan: changed(plan, path, minutes), words, self.tables.minutes)

    # --- showing ------------------------------------------------------------------------------------------

    @property
    def following(self) -> StepName | None:
        """The first step that is not ticked; None where all are."""
        done = self.desk.plan.checklist.done
        return next((name for name in STEP_NAMES if name not in done), None)

    def done(self) -> bool:
        return self.following is None

    def first_field(self) -> QWidget | None:
        return self.next_button if self.following is not None else self.over_button

    def show_now(self) -> None:
        plan, scheme, following = self.desk.plan, self.desk.scheme, self.following
        done = plan.checklist.done
        for number, (name, box) in enumerate(self.boxes.items(), start=1):
            ticked = name in done
            box.setChecked(ticked)
            box.setText(f"{_TICK}  {name}" if ticked else f"{number}  {name}")
            box.setAccessibleName(f"{name}, done" if ticked else name)
            box.setStyleSheet(checked_style("QPushButton", scheme))
        ready = self.desk.set_up.ready
        steps = {} if ready is None else {one.name: one for one in ready.steps}
        step = steps.get(following) if following is not None else None
        alarm = step is not None and step.holds is False
        if following is None:
            words = "All done: the first contact can come."
        else:
            words = f"Next, {following}: " + (self.desk.waiting_words if step is None else step.words)
        self.answer.tell(progress_words(len(done)), words, alarm=alarm)
        self.next_button.setText("Done" if following is None else f"Done: {following}")
        self.next_button.setEnabled(following is not None)
        self.over_button.setEnabled(bool(done))
        self.tables.show_ready(ready, resolve_time_zone(plan.site), done, scheme)
        self.write_down.tell(of_checklist(len(done), following), scheme)
