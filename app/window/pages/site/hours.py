"""When: the plan's title, the evening's date and hours in local time with UTC beside, and notes."""

from __future__ import annotations

from datetime import datetime, time

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.window.state.context import Context
from app.window.widgets.fields import NotesField, NumberField, TextField
from app.window.widgets.form import Form
from app.window.widgets.labels import heading, push_button, second
from core.base.edits import changed
from core.base.errors import NorthkeyError
from core.base.times import clock, to_datetime
from core.base.words import day_and_month
from core.place.hours import parse_day, sunset_to_midnight
from core.place.local_hours import LocalHours, local_hours, with_day, with_end, with_start
from core.place.zones import offset_changes_s, resolve_time_zone
from core.plan.quantities import QUANTITIES


class EveningPart(QWidget):
    """The group of the hours."""

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.context = context
        self._zone = "UTC"
        self.title = TextField("Plan title", 260)
        self.day = TextField("Date of the evening, year-month-day")
        self.day.setMinimumWidth(self.day.fontMetrics().horizontalAdvance("2000-00-00") + 22)
        self.start = TextField("From, local time")
        self.end = TextField("To, local time")
        self.day_words, self.start_words, self.end_words = second(""), second(""), second("")
        self.sunset = push_button(
            "&Sunset to midnight", self._set_sunset, tip="From sunset of the date, here, to local midnight"
        )
        self.minimum = NumberField(
            "Minimum elevation", "degrees", 1, quantity=QUANTITIES["site.minimum_elevation_deg"]
        )
        self.note = second("")
        self.notes = NotesField("Notes")
        self.notes.setMaximumHeight(58)
        self.notes.setPlaceholderText("Notes for the sheet")
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        form = Form()
        form.add_wide_row("&Title", self.title)
        form.add_row("&Date", self.day)
        form.add_row("&From", self.start)
        form.add_row("To", self.end)
        form.add_row("Least ele&vation", self.minimum, "deg", "below: no contact")
        form.add_wide_row("&Notes", self.notes)
        beside = ((self.day, self.day_words), (self.start, self.start_words), (self.end, self.end_words))
        for field, words in beside:
            form.put_beside(field, words)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        top = QHBoxLayout()
        top.addWidget(heading("Evening"))
        top.addStretch(1)
        top.addWidget(self.sunset)
        column.addLayout(top)
        column.addLayout(form)
        column.addWidget(self.note)
        column.addStretch(1)

    def _connect(self) -> None:
        self.title.text_edited.connect(self._set_title)
        self.notes.text_edited.connect(self._set_notes)
        self.minimum.value_edited.connect(self._set_minimum)
        for field, edit in (
            (self.day, self._set_day),
            (self.start, self._set_start),
            (self.end, self._set_end),
        ):
            field.text_edited.connect(lambda _text, field=field, edit=edit: field.attempt(edit))

    def _set_title(self, text: str) -> None:
        document = self.context.document
        self.title.attempt(lambda: document.edit(changed(document.plan, "title", text), "plan title"))

    def _set_notes(self, text: str) -> None:
        document = self.context.document
        document.edit(changed(document.plan, "notes", text), "notes")

    def _set_minimum(self, value: float) -> None:
        document = self.context.document
        self.minimum.attempt(
            lambda: document.edit(
                changed(document.plan, "site.minimum_elevation_deg", value),
                f"minimum elevation {value:g} deg",
            )
        )

    def _set_day(self) -> None:
        first, last = self._span()
        self._edit_evening(*with_day(first, last, self.day.sound, self._zone), f"evening on {self.day.sound}")

    def _set_start(self) -> None:
        first, last = self._span()
        edited = with_start(first, last, self.start.sound, self._zone)
        self._edit_evening(*edited, f"evening from {self.start.sound}")

    def _set_end(self) -> None:
        edited = with_end(self._span()[0], self.end.sound, self._zone)
        self._edit_evening(*edited, f"evening to {self.end.sound}")

    def _span(self) -> tuple[float, float]:
        evening = self.context.plan.evening
        return evening.start_utc_s, evening.end_utc_s

    def _set_sunset(self) -> None:
        def edit() -> None:
            start, end = sunset_to_midnight(self.context.plan.site, self.day.sound, self._zone)
            self._edit_evening(start, end, "sunset to midnight")

        self.day.attempt(edit)

    def _edit_evening(self, start: str, end: str, label: str) -> None:
        document = self.context.document
        document.edit(changed(document.plan, "evening", {"start": start, "end": end}), label)

    def refresh(self) -> None:
        """Show the plan's hours."""
        plan = self.context.plan
        try:
            self._zone = resolve_time_zone(plan.site)
        except NorthkeyError:
            self._zone = "UTC"
        first, last = plan.evening.start_utc_s, plan.evening.end_utc_s
        hours = local_hours(first, last, self._zone)
        self.title.show_text(plan.title)
        self.notes.show_text(plan.notes)
        self.minimum.show_value(plan.site.minimum_elevation_deg)
        self.day.show_text(hours.day)
        self.start.show_text(hours.start)
        self.end.show_text(hours.end)
        # Wider only where it has a date too: the words beside it need the room.
        self.end.setMinimumWidth(self.end.fontMetrics().horizontalAdvance(hours.end) + 22)
        self.day_words.setText(f"{parse_day(hours.day):%A}, {hours.offset}")
        self.start_words.setText(f"local, {clock(first, False)} UTC{_other_day(first, hours.day)}")
        self.end_words.setText(f"{_day_of_end(hours)}, {clock(last, False)} UTC")
        changes = offset_changes_s(first, last, self._zone)
        self.note.setText(
            "".join(
                f"The clocks change at {clock(moment, False)} UTC, to {hours.end_offset}. "
                for moment in changes
            )
        )


def _day_of_end(hours: LocalHours) -> str:
    """``local`` on the day of the start, else ``local, Sat 2 Nov``."""
    if hours.end_day == hours.day:
        return "local"
    day = datetime.combine(parse_day(hours.end_day), time())
    return f"local, {day:%a} {day_and_month(day)}"


def _other_day(utc_s: float, local_day: str) -> str:
    """The UTC date where it is not the local one."""
    moment = to_datetime(utc_s)
    return "" if moment.date().isoformat() == local_day else f" on {day_and_month(moment)}"
