"""The moment that north is looked for at: now, as a clock that runs, or one that was typed."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.window.look.style import checked_style
from app.window.pages.setup.big import LEAST_PX, big_button, big_text
from app.window.pages.setup.step import Desk
from app.window.widgets.labels import label
from core.base.errors import NorthkeyError
from core.base.times import clock
from core.base.typed import page_words
from core.base.words import day_and_month
from core.place.zones import local_clock, local_time, resolve_time_zone
from core.plan.typed_moment import read_moment


class MomentRow(QWidget):
    """The clock, and where another moment is typed."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.clock = label(22, bold=True, name="the moment, UTC")
        self.local = label(11, name="the moment in local time", rank="second")
        self.now_button = big_button("Now", lambda: desk.set_up.take_moment(None), "as it is now")
        self.before_button = big_button(
            "Before the evening", self._before, "the moment an hour before the evening"
        )
        self.field = big_text("another moment, UTC", 110)
        self.field.setPlaceholderText("17:42")
        self.field.setMinimumHeight(LEAST_PX)
        self.now_button.setCheckable(True)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(12)
        both = QVBoxLayout()
        both.setSpacing(0)
        both.addWidget(self.clock)
        both.addWidget(self.local)
        row.addLayout(both, 1)
        for part in (self.now_button, self.field, self.before_button):
            row.addWidget(part)
        self.field.text_edited.connect(self._typed)

    def _typed(self, text: str) -> None:
        plan, now_utc_s = self._desk.plan, self._desk.context.now_utc_s
        try:
            at_utc_s = read_moment(text, plan.evening, now_utc_s)
        except NorthkeyError as error:
            self.field.refuse(page_words(error))
            return
        goes_on = not text or text.casefold() == "now"
        self._desk.set_up.take_moment(None if goes_on else at_utc_s)

    def _before(self) -> None:
        from core.on_site import usual_moment

        self._desk.set_up.take_moment(usual_moment(self._desk.plan))

    def show_now(self) -> None:
        """The moment as it is."""
        held, site = self._desk.set_up, self._desk.plan.site
        self.clock.setText(f"{clock(held.now_utc_s)} UTC")
        self.local.setText(_local_words(held.now_utc_s, resolve_time_zone(site)))
        self.now_button.setChecked(held.typed_utc_s is None)
        self.now_button.setStyleSheet(checked_style("QPushButton", self._desk.scheme))
        self.field.show_text("" if held.typed_utc_s is None else clock(held.typed_utc_s))


def _local_words(utc_s: float, zone: str) -> str:
    return f"{local_clock(utc_s, zone, seconds=False)} local, {day_and_month(local_time(utc_s, zone))}"
