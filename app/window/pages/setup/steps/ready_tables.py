"""When, what and with what: the timetable, the steps in words and the kit, of which one is shown."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme, font
from app.window.pages.setup.big import Choice, Typed, big_button, in_a_row, told
from app.window.pages.setup.big_table import BigTable, words_model
from app.window.widgets.labels import label, second
from core.base.times import clock
from core.base.words import plain
from core.place.zones import local_clock
from core.plan.quantities import STAGE_MINUTES

if TYPE_CHECKING:  # studies come after the first picture
    from core.ready import Ready
    from core.setup.timetable import Stage

_PARTS = (("times", "Timetable"), ("steps", "Steps"), ("kit", "Kit"))


class ReadyTables(QWidget):
    """When to be there over a table of the times, the steps or the kit.

    Signals:
        minutes_typed(str, float): what a stage takes, by its key.
    """

    minutes_typed = Signal(str, float)

    def __init__(self) -> None:
        super().__init__()
        self.arrive = label(15, bold=True, name="when to be there", wraps=True)
        self.light = told(name="what the light does", points=11)
        self._stages: tuple[Stage, ...] = ()
        self.parts = Choice("shown of getting ready", _PARTS)
        self.parts.choose("times")
        heads = ("UTC", "local", "begin at the latest", "min")
        self.times = BigTable("timetable", words_model(*heads, right=(3,)), 30)
        self.minutes = Typed("minutes of the chosen stage", "minutes", STAGE_MINUTES)
        self.minutes_button = big_button("Set", self._set_minutes, "set the minutes of the chosen stage")
        self.steps = BigTable("steps in words", words_model("", "step", "what to do"))
        self.kit = BigTable("kit", words_model("take", "why"))
        self.stack = QStackedWidget()
        for table in (self.times, self.steps, self.kit):
            table.setFont(font(11))
            table.setWordWrap(table is not self.times)
        for part in (self._with_minutes(), self.steps, self.kit):
            self.stack.addWidget(part)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for part in (self.arrive, self.light, self.parts):
            column.addWidget(part)
        column.addWidget(self.stack, 1)
        self.parts.chosen.connect(self._open)
        self.times.selectionModel().selectionChanged.connect(lambda _now, _before: self._on_chosen())
        self._on_chosen()

    def _with_minutes(self) -> QWidget:
        """The timetable over the field for what the chosen line takes."""
        part = QWidget()
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.times, 1)
        unit = second("min for the chosen line", 11, wraps=False)
        column.addLayout(in_a_row(self.minutes, unit, self.minutes_button))
        return part

    def _on_chosen(self) -> None:
        """The chosen line's minutes stand in the field."""
        stage = self._stages[self.times.chosen] if 0 <= self.times.chosen < len(self._stages) else None
        for part in (self.minutes, self.minutes_button):
            part.setEnabled(stage is not None)
        self.minutes.put(None if stage is None else stage.minutes)

    def _set_minutes(self) -> None:
        chosen = self.times.chosen
        if 0 <= chosen < len(self._stages) and self.minutes.settled("Type the minutes"):
            self.minutes_typed.emit(self._stages[chosen].key, self.minutes.number)

    def _open(self, part: str) -> None:
        self.stack.setCurrentIndex([name for name, _words in _PARTS].index(part))

    def show_ready(self, ready: Ready | None, zone: str, done: tuple[str, ...], scheme: Scheme) -> None:
        """Another answer, or none yet; what is ticked is the plan's."""
        from core.setup.timetable_words import NO_CONTACT, arrive_words, light_sentence, moved_sentences

        self.parts.set_scheme(scheme)
        if ready is None:
            self.arrive.setText("")
            self.light.setText("")
            self._stages = ()
            for table in (self.times, self.steps, self.kit):
                table.show_lines([])
            return
        found = ready.timetable
        arrive, work = (NO_CONTACT, "") if found is None else arrive_words(found, zone)
        self.arrive.setText(arrive)
        light = () if found is None else (*moved_sentences(found, zone), light_sentence(found, zone))
        told_of = " ".join([work.removeprefix(": "), *light])
        self.light.setText(told_of[:1].upper() + told_of[1:])
        self.light.setVisible(bool(told_of))
        stages = () if found is None else found.stages
        if stages != self._stages:
            self._stages = stages
            self.times.show_lines([_times(one, zone) for one in stages])
            self._on_chosen()
        tick = "\N{CHECK MARK}"
        self.steps.show_lines(
            [(tick if one.name in done else "", one.name, one.words) for one in ready.steps]
        )
        self.kit.show_lines([(one.what, one.why) for one in ready.kit])


def _times(one: Stage, zone: str) -> tuple[str, ...]:
    from core.setup.timetable_words import stage_note

    return (
        clock(one.start_utc_s, seconds=False),
        local_clock(one.start_utc_s, zone, seconds=False),
        "; ".join(filter(None, [one.what, stage_note(one)])),
        plain(one.minutes),
    )
