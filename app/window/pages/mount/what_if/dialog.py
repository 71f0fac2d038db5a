"""What if the mount were another one, in a window of its own that stays open while the plan is edited."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QHBoxLayout,
    QProgressBar,
    QRadioButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import font
from app.window.pages.mount.editor import MountEditor
from app.window.pages.mount.what_if.results import Results
from app.window.pages.mount.what_if.state import WhatIfNow
from app.window.pages.mount.what_if.ticks import Ticks
from app.window.state.context import Context
from app.window.views.saved_chart import FILTER, chart_form
from app.window.widgets.chart_file import ask_where_to_save_chart
from app.window.widgets.fields import NumberField
from app.window.widgets.labels import heading, keep_room, push_button, second
from app.window.widgets.plain import plain_label
from core.base.memo import Memo
from core.base.units import Progress
from core.base.whole_files import refuse_source, write_bytes
from core.plan.quantities import SEASON_DAYS
from core.what_if.changes import MOST_CHANGES, with_change

SAVE = "save what-if chart"
_SIZE_PX, _TICKS_PX = (1240, 740), 272
#: From this height on there is room for every row of both tables.
_HIGH_PX = 900


class WhatIfDialog(QDialog):
    """Shows `WhatIfNow` and passes on what is asked."""

    def __init__(self, context: Context, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("What if the mount were another one")
        self.setFont(font(11))
        self._context = context
        self.now = WhatIfNow(context, self)
        self.editor = MountEditor(context.document, self)
        self.ticks = Ticks()
        self.evening = QRadioButton("This e&vening")
        self.season = QRadioButton("A &season of")
        self.days = NumberField("Evenings in a row", "evenings", 0, quantity=SEASON_DAYS)
        self.ask_button = push_button(
            "&Work it out", self._ask, tip="In the background; the page stays usable"
        )
        self.stop_button = push_button("S&top", self.now.stop, "Stop working it out", "Stop working it out")
        self.take_button = push_button(
            "Take &over",
            self.take_over,
            "Take the chosen change over",
            "Change the plan's mount so; undo takes it back",
        )
        self.save_button = push_button(
            "Save &chart...", self.ask_where_to_save, tip="The curves as PNG, SVG or PDF"
        )
        self.close_button = push_button("Close", self.close, tip="Close (Esc); the answer is kept")
        self.bar = QProgressBar()
        self.state = second("", 10, "what the answer belongs to")
        self.results = Results(context.scheme)
        #: What was done last, until something else is asked.
        self._done = ""
        self._build()
        self._connect()

    # --- laying out ---------------------------------------------------------------------------------------

    def _build(self) -> None:
        self.evening.setChecked(True)
        for choice in (self.evening, self.season):
            choice.setFont(font(10))
        self.days.show_value(self.now.days)
        self.days.setMaximumWidth(60)
        self.bar.setMaximumSize(130, 8)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("progress of the changes")
        for shown in (self.bar, self.stop_button):
            keep_room(shown)
        buttons = (self.ask_button, self.stop_button, self.take_button, self.save_button, self.close_button)
        for button in buttons:
            button.setAutoDefault(False)
        across = QHBoxLayout()
        across.setSpacing(20)
        across.addWidget(self._left())
        across.addWidget(self.results, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 14, 20, 12)
        column.setSpacing(10)
        column.addWidget(heading("What if the mount were another one", 17))
        column.addLayout(across, 1)
        column.addLayout(self._foot())
        self.setMinimumSize(980, 560)
        self.resize(*_SIZE_PX)

    def _left(self) -> QWidget:
        part = QWidget()
        part.setFixedWidth(_TICKS_PX)
        area = QScrollArea()
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # Tab goes to what is in it
        area.setWidget(self.ticks)
        self.ticks.setObjectName("page")
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        season = QHBoxLayout()
        season.setSpacing(6)
        for shown in (self.season, self.days, plain_label("evenings")):
            season.addWidget(shown)
        season.addStretch(1)
        work = QHBoxLayout()
        work.addWidget(self.ask_button)
        work.addWidget(self.stop_button)
        work.addWidget(self.bar)
        work.addStretch(1)
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(second("Tick what would be another: a row each.", 10))
        column.addWidget(area, 1)
        column.addWidget(self.evening)
        column.addLayout(season)
        column.addLayout(work)
        return part

    def _foot(self) -> QHBoxLayout:
        foot = QHBoxLayout()
        foot.setSpacing(12)
        foot.addWidget(self.state, 1)
        for button in (self.take_button, self.save_button, self.close_button):
            foot.addWidget(button)
        return foot

    def _connect(self) -> None:
        self.ticks.ticked.connect(self._want)
        self.evening.toggled.connect(lambda _on: self._want())
        self.days.value_edited.connect(self._set_days)
        self.results.row_chosen.connect(self._enable)
        self.editor.refused.connect(self._tell)
        self._context.runner.finished.connect(self._on_finished)
        self.now.changed.connect(self.refresh)
        self.now.progressed.connect(self._show_progress)

    # --- doing --------------------------------------------------------------------------------------------

    def _want(self) -> None:
        self.now.want(self.ticks.chosen, self.season.isChecked(), self.now.days)

    def _set_days(self, days: float) -> None:
        self.now.days = round(days)
        self.season.setChecked(True)
        self._want()

    def _ask(self) -> None:
        self._done = ""
        self.now.ask()

    def take_over(self) -> None:
        """Change the plan's mount as the chosen row has it: one step of undo."""
        change = self.results.chosen
        if change is not None:
            self._tell("")
            self.editor.do(lambda plan: with_change(plan, change), f"take over {change.name}")

    def ask_where_to_save(self) -> None:
        """Open the dialog for the chart's file."""
        beside = self._context.document.path
        ask_where_to_save_chart(self, beside, "what-if.png", FILTER, self.save_chart)

    def save_chart(self, path: Path) -> None:
        """Write the chart in the form that the file's name asks for; the window tells what goes wrong."""
        answer, asked = self.now.answer, self.now.asked
        if answer is None or asked is None:
            return
        of, made_utc_s, sources = self.now.identity, self._context.now_utc_s, self._context.document.sources

        def job(_memo: Memo, _progress: Progress) -> str:
            from app.window.pages.mount.what_if.saved import what_if_chart

            form = chart_form(path)
            refuse_source(path, sources)
            content = what_if_chart(answer, asked.plan.title, of, made_utc_s, form)
            write_bytes(path, content, force=True)
            return f"Saved as {path.name}."

        self._context.runner.request(SAVE, f"Writing {path.name}", job, writes=True)

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: object) -> None:
        if kind == SAVE:
            self._tell(str(answer))

    def _tell(self, words: str) -> None:
        self._done = words
        self.refresh()

    # --- showing ------------------------------------------------------------------------------------------

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.refresh()

    @Slot()
    def refresh(self) -> None:
        """Show what the context holds now, in its colours."""
        if not self.isVisible():  # a keyway is dragged on another page
            return
        self.ticks.refresh(self._context.plan)
        keyway_deg = self._context.plan.mount.keyway_bearing_deg
        self.results.show_answer(self.now.answer, keyway_deg, self._context.scheme)
        self.bar.setVisible(self.now.working)
        self.stop_button.setVisible(self.now.working)
        if self.now.working:
            self.bar.setRange(0, 0)
        self.state.setText(self._state_words())
        self._enable()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.results.make_room(self.height() >= _HIGH_PX)

    def _state_words(self) -> str:
        now, count = self.now, len(self.ticks.chosen)
        if self._done:
            return self._done
        if now.failure:
            return f"Not worked out: {now.failure}."
        if not self._context.plan.satellites:
            return "Import element sets first."
        if count > MOST_CHANGES:
            return f"{count} rows are ticked, {MOST_CHANGES} fit: untick {count - MOST_CHANGES}."
        return self._of_words(count)

    def _of_words(self, count: int) -> str:
        """What the answer belongs to."""
        now = self.now
        if now.asked is None:
            return "" if now.working else self._first_words(count)
        of = f"plan {now.identity}"
        if now.of_plan_before:
            return f"Of the plan before, {now.identity}: work it out again."
        if now.of_other_question:
            return f"Of {of}, but of what was ticked before: work it out again."
        return f"Of {of}, as it is now."

    def _first_words(self, count: int) -> str:
        return "Not worked out yet." if count else "Tick a value first."

    @Slot(str, int, int)
    def _show_progress(self, what: str, done: int, total: int) -> None:
        self.bar.setRange(0, total)
        self.bar.setValue(done)
        self.state.setText(f"{what.capitalize()}.")

    def _enable(self) -> None:
        now, count = self.now, len(self.ticks.chosen)
        self.ask_button.setEnabled(
            not now.working and 0 < count <= MOST_CHANGES and bool(self._context.plan.satellites)
        )
        self.save_button.setEnabled(now.answer is not None)
        self.take_button.setEnabled(self.results.chosen is not None)

    def hideEvent(self, event: QHideEvent) -> None:
        self.now.stop()
        super().hideEvent(event)
