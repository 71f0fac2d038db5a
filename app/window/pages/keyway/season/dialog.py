"""The season, in a window of its own: where the stops are met least, and where to drill."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Slot
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QProgressBar, QVBoxLayout, QWidget

from app.window.look.scheme import font
from app.window.pages.keyway.season.chart import SeasonChart
from app.window.pages.keyway.season.state import SeasonNow
from app.window.pages.keyway.season.tables import (
    DRILL_HEADS,
    DRILL_TIPS,
    HOLE_HEADS,
    HOLE_TIPS,
    table_of,
)
from app.window.state.context import Context
from app.window.views.saved_chart import FILTER, chart_form
from app.window.widgets.chart_file import ask_where_to_save_chart
from app.window.widgets.fields import NumberField
from app.window.widgets.labels import heading, keep_room, label, push_button, second
from app.window.widgets.plain import plain_label
from core.base.memo import Memo
from core.base.units import Progress
from core.base.whole_files import refuse_source, write_bytes
from core.evaluate import identity
from core.mount.seat.season.words import (
    STATISTICS_ONLY,
    drilled_cells,
    halves_sentence,
    hole_cells,
    placing_sentence,
    saved_sentence,
)
from core.plan.quantities import SEASON_DAYS

SAVE = "save season chart"
_SIZE_PX, _LEAST_PX = (900, 760), 760


class SeasonDialog(QDialog):
    """Shows `SeasonNow` and passes on what is asked."""

    def __init__(self, context: Context, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("A season of such evenings")
        self.setFont(font(11))
        self._context = context
        self.now = SeasonNow(context, self)
        self.days = NumberField("Evenings in a row", "evenings", 0, quantity=SEASON_DAYS)
        self.days.show_value(self.now.days)
        self.days.setMaximumWidth(80)
        self.ask_button = push_button("&Study the season", self._ask, tip="Work it out, in the background")
        self.stop_button = push_button("S&top", self.now.stop, "Stop the study", "Stop the study")
        self.save_button = push_button(
            "Save &chart...", self.ask_where_to_save, tip="The curves as PNG, SVG or PDF"
        )
        self.close_button = push_button("Close", self.close, tip="Close (Esc); the answer is kept")
        #: What was written last, until something else is asked.
        self._saved = ""
        self.bar = QProgressBar()
        self.state = second("", 10, "whether the answer is of the present plan")
        self.answer = label(12, bold=True, name="what drilling would save", wraps=True)
        self.told = second("", 10, "how the answer was found")
        self.chart = SeasonChart(context.scheme)
        self.holes, self.hole_model = table_of("the mount's holes over the season", HOLE_HEADS, HOLE_TIPS, 3)
        self.drill, self.drill_model = table_of("where to drill", DRILL_HEADS, DRILL_TIPS, 4)
        self._build()
        self.days.value_edited.connect(self._set_days)
        context.runner.finished.connect(self._on_finished)
        self.now.changed.connect(self.refresh)
        self.now.progressed.connect(self._show_progress)
        self.refresh()

    def _build(self) -> None:
        self.bar.setMaximumSize(130, 8)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("progress of the season")
        for shown in (self.bar, self.stop_button):
            keep_room(shown)
        top = QHBoxLayout()
        top.setSpacing(12)
        top.addWidget(plain_label("The evening's hours on so &many days", buddy=self.days))
        top.addWidget(self.days)
        top.addWidget(self.ask_button)
        top.addStretch(1)
        for widget in (self.bar, self.stop_button):
            top.addWidget(widget)
        foot = QHBoxLayout()
        foot.addWidget(self.state, 1)
        foot.addWidget(self.save_button)
        foot.addWidget(self.close_button)
        for button in (self.ask_button, self.stop_button, self.save_button, self.close_button):
            button.setAutoDefault(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(26, 20, 26, 18)
        column.setSpacing(9)
        column.addWidget(heading("A season of such evenings", 17))
        column.addWidget(second(STATISTICS_ONLY, 10))
        column.addLayout(top)
        column.addWidget(self.answer)
        column.addWidget(second("Passes that are not clear in any posture, at each keyway bearing", 9.5))
        column.addWidget(self.chart, 1)
        column.addWidget(self.holes)
        column.addWidget(second("Where to drill, clockwise from the datum mark as seen from above", 9.5))
        column.addWidget(self.drill)
        column.addWidget(self.told)
        column.addLayout(foot)
        column.setSizeConstraint(QVBoxLayout.SizeConstraint.SetMinimumSize)
        self.setMinimumWidth(_LEAST_PX)
        self.resize(*_SIZE_PX)

    def _set_days(self, days: float) -> None:
        self.now.days = round(days)
        self.refresh()

    def _ask(self) -> None:
        self._saved = ""
        self.now.ask()

    def ask_where_to_save(self) -> None:
        """Open the dialog for the chart's file."""
        beside = self._context.document.path
        ask_where_to_save_chart(self, beside, "season.png", FILTER, self.save_chart)

    def save_chart(self, path: Path) -> None:
        """Write the chart in the form that the file's name asks for; what goes wrong is told here."""
        season, asked = self.now.season, self.now.asked_of
        if season is None or asked is None:
            return
        made_utc_s, sources = self._context.now_utc_s, self._context.document.sources

        def job(_memo: Memo, _progress: Progress) -> str:
            from app.window.pages.keyway.season.saved_chart import season_chart

            form = chart_form(path)
            refuse_source(path, sources)
            content = season_chart(
                season, asked.title, asked.mount.index_hole, identity(asked), made_utc_s, form
            )
            write_bytes(path, content, force=True)
            return f"Saved as {path.name}."

        self._context.runner.request(SAVE, f"Writing {path.name}", job, writes=True)

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: object) -> None:
        if kind == SAVE:
            self._saved = str(answer)
            self.refresh()

    @Slot()
    def refresh(self) -> None:
        """Show the answer as it is now, in the present colours."""
        now, season = self.now, self.now.season
        study = None if season is None else season.study
        self.chart.show_study(study, self._context.plan.mount.index_hole, self._context.scheme)
        self.hole_model.show_lines([] if study is None else [hole_cells(one) for one in study.holes])
        self.drill_model.show_lines(
            [] if study is None else [drilled_cells(one, study) for one in study.sets]
        )
        self.answer.setText("" if study is None else saved_sentence(study))
        self.told.setText("" if study is None else f"{placing_sentence(study)} {halves_sentence(study)}")
        self.ask_button.setEnabled(not now.working and bool(self._context.plan.satellites))
        self.save_button.setEnabled(study is not None)
        self.bar.setVisible(now.working)
        self.stop_button.setVisible(now.working)
        if now.working:
            self.bar.setRange(0, 0)
        self.state.setText(self._state_words())

    def _state_words(self) -> str:
        if self.now.failure:
            return f"Not studied: {self.now.failure}."
        if not self._context.plan.satellites:
            return "Import element sets first."
        if self.now.season is None:
            return "" if self.now.working else "Not studied yet. It is worked out in the background."
        return "Of the plan before: study it again." if self.now.stale else self._saved

    @Slot(str, int, int)
    def _show_progress(self, what: str, done: int, total: int) -> None:
        self.bar.setRange(0, total)
        self.bar.setValue(done)
        self.state.setText(f"{what.capitalize()}, {done} of {total}." if total else f"{what.capitalize()}.")

    def hideEvent(self, event: QHideEvent) -> None:
        self.now.stop()
        super().hideEvent(event)
