"""How good is the pointing then? The budget of each pass and antenna, before and after the sightings."""

from __future__ import annotations

from pathlib import Path

from app.window.pages.setup.answers import Answer
from app.window.pages.setup.big import big_button, big_combo, in_a_row, put_choices, told
from app.window.pages.setup.big_table import BigTable, words_model
from app.window.pages.setup.step import Desk, Step
from app.window.pages.setup.views.budget_bars import BudgetBars
from app.window.views.saved_chart import FILTER
from app.window.widgets.chart_file import ask_where_to_save_chart
from app.window.widgets.labels import label
from core.base.memo import Memo
from core.base.units import Progress
from core.base.words import figure
from core.place.zones import resolve_time_zone
from core.setup.budget.answer import Budget, PassBudget, PointingBudget
from core.setup.budget.shares import shares_of
from core.setup.budget.words import antenna_sentence, gained_sentence, improve_words, loss_words, time_words

SAVE = "save budget chart"
_NO_PASSES = "No pass is worked: bring element sets in on the Satellites page, then see the evening."


class HowGoodStep(Step):
    """The pointing budget."""

    title = "How good"
    question = "How good is the pointing?"

    def __init__(self, desk: Desk) -> None:
        view = BudgetBars("which error rules")
        super().__init__(desk, view)
        self.view = view
        self.answer = Answer("the pointing over the evening")
        self.first = label(18, bold=True, name="improve this first", wraps=True)
        self.gained = told(name="what the sighting did", points=13)
        self.antenna = big_combo("antenna")
        heads = ("pass", "before, deg", "after, deg", "loss, dB", "AOS, local time")
        self.table = BigTable("the budget by pass", words_model(*heads, right=(1, 2, 3)), 32)
        self.save_button = big_button("Save chart...", self.ask_where_to_save, "save the budget's chart")
        self.saved = told(name="what was written", points=11)
        self.add(self.answer, self.first, self.gained)
        self.which = told("Antenna", points=11)
        self.which.setWordWrap(False)
        self.left.addLayout(in_a_row(self.which, self.antenna, self.save_button))
        self.left.addWidget(self.table, 100)
        self.add(self.saved)
        self.left.addStretch(1)
        self.antenna.currentIndexChanged.connect(lambda _index: self.show_now())
        desk.context.runner.finished.connect(self._on_finished)

    # --- the chart's file ---------------------------------------------------------------------------------

    def ask_where_to_save(self) -> None:
        """Open the dialog for the chart's file."""
        beside = self.desk.context.document.path
        ask_where_to_save_chart(self, beside, "pointing.png", FILTER, self.save_chart)

    def save_chart(self, path: Path) -> None:
        """Write the chart in the form that the file's name asks for; what goes wrong the window tells."""
        budget, sources = self.desk.set_up.budget, self.desk.context.document.sources
        if budget is None:
            return

        def job(_memo: Memo, _progress: Progress) -> str:
            from app.window.pages.setup.budget_file import write_budget_chart

            write_budget_chart(path, budget, sources)
            return f"Saved as {path.name}."

        self.desk.context.runner.request(SAVE, f"Writing {path.name}", job, writes=True)

    def _on_finished(self, kind: str, answer: object) -> None:
        if kind == SAVE:
            self.saved.setText(str(answer))

    # --- showing ------------------------------------------------------------------------------------------

    def done(self) -> bool:
        budget = self.desk.set_up.budget
        return budget is not None and budget.after is not None and bool(budget.after.antennas)

    def show_now(self) -> None:
        budget, scheme = self.desk.set_up.budget, self.desk.scheme
        there = budget is not None and bool(budget.before.antennas)
        self.save_button.setEnabled(there)
        for shown in (self.which, self.antenna, self.table):
            shown.setVisible(there)
        if budget is None or not budget.before.antennas:
            waiting = not self.desk.set_up.holds
            self.answer.tell("", self.desk.waiting_words if waiting else _NO_PASSES)
            for shown in (self.first, self.gained):
                shown.hide()
            put_choices(self.antenna, [], "")
            self.table.show_lines([])
            self.view.show_shares(None, scheme)
            self.write_down.tell(("How far off the pointing may be",), scheme)
            return
        names = [one.antenna for one in budget.before.antennas]
        put_choices(self.antenna, names, self.antenna.currentText())
        self._show_antenna(budget, max(self.antenna.currentIndex(), 0))

    def _show_antenna(self, budget: PointingBudget, place: int) -> None:
        one = budget.now.antennas[place]
        known = one.figures
        self.answer.tell(
            f"{figure(known.rss_deg)} deg, {loss_words(known.loss_db)}",
            antenna_sentence(one).partition("; ")[2].partition(" Improve")[0],
        )
        first = improve_words(known)
        self.first.setText(f"Improve this first: {first}." if first else "")
        self.first.setVisible(bool(first))
        self.gained.setText(gained_sentence(budget))
        self.gained.setVisible(bool(self.gained.text()))
        self.view.show_shares(shares_of(budget)[place], self.desk.scheme)
        self.table.show_lines(_rows(budget, one.antenna, resolve_time_zone(self.desk.plan.site)))
        self.write_down.tell(
            (
                f"{one.antenna}: {figure(known.rss_deg)} deg, 95 % within {figure(known.off_95_deg)} deg",
                *((f"Improve first: {first}",) if first else ()),
            ),
            self.desk.scheme,
        )


def _rows(budget: PointingBudget, antenna: str, zone: str) -> list[tuple[str, ...]]:
    """A row a pass."""
    before = _of(budget.before, antenna)
    after = [None] * len(before) if budget.after is None else _of(budget.after, antenna)
    return [
        (
            old.satellite,
            figure(old.figures.rss_deg),
            "" if new is None else figure(new.figures.rss_deg),
            loss_words((new or old).figures.loss_db).removesuffix(" dB"),
            time_words(time, zone).removeprefix("AOS "),
        )
        for old, new, time in zip(before, after, budget.times, strict=True)
    ]


def _of(budget: Budget, antenna: str) -> list[PassBudget]:
    return [one for one in budget.passes if one.antenna == antenna]
