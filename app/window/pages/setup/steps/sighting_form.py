"""One sighting: what, when, both dials, from which side, in which posture."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from app.window.pages.setup.big import Choice, Typed, big_button, big_text, in_a_row, labelled
from app.window.pages.setup.step import Desk
from app.window.pages.setup.steps.target import TargetPart
from core.base.errors import NorthkeyError
from core.base.times import clock, format_iso
from core.base.typed import page_words
from core.plan.on_site_edits import with_row
from core.plan.quantities import AZIMUTH_READ, ELEVATION_READ
from core.plan.typed_moment import read_moment
from core.setup.ambiguous import rounds_to_tell

_READ = (("dial", "Dial"), ("half", "Half power"))
_FROM = (("left", "From the left"), ("right", "From the right"), ("", "Not noted"))
_POSTURES = (("upright", "Upright"), ("over the top", "Over the top"))


class SightingForm(QWidget):
    """Large fields whose content becomes one row of the table.

    Signals:
        changed(): something in the form is another thing.
    """

    changed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._at_utc_s: float | None = None
        self.target = TargetPart(desk)
        self.now_button = big_button("Now", self.stamp, "it is sighted now", main=True)
        self.time = big_text("time of the sighting, UTC", 120)
        self.azimuth = Typed("azimuth dial", "degrees", AZIMUTH_READ, 110)
        self.elevation = Typed("elevation dial", "degrees", ELEVATION_READ, 110)
        self.low = Typed("azimuth dial where the signal fell, one side", "degrees", AZIMUTH_READ, 110)
        self.high = Typed("azimuth dial where the signal fell, other side", "degrees", AZIMUTH_READ, 110)
        self.read = Choice("azimuth was read by", _READ)
        self.rounds = Choice(
            "the dial shows this figure more than once", [(str(n), f"time {n}") for n in (1, 2, 3)]
        )
        self.came_from = Choice("the dial came", _FROM)
        self.posture = Choice("posture", _POSTURES)
        self.note_button = big_button("Note it down", self.note, "note the sighting down", main=True)
        for choice, value in ((self.read, "dial"), (self.came_from, ""), (self.posture, "upright")):
            choice.choose(value)
        self._dial, self._half = QWidget(), QWidget()
        self._lay_out()
        self.time.text_edited.connect(self._typed_time)
        self.read.chosen.connect(lambda _value: self._arrange())
        self.target.changed.connect(self.changed)
        for field in (self.azimuth, self.low, self.high, self.elevation):
            field.typed.connect(self._arrange)
        self._arrange()

    def _lay_out(self) -> None:
        for holder, fields in (
            (self._dial, (("Azimuth dial", self.azimuth),)),
            (self._half, (("Fell alike at", self.low), ("and at", self.high))),
        ):
            grid = QGridLayout(holder)
            grid.setContentsMargins(0, 0, 0, 0)
            for place, (words, field) in enumerate(fields):
                grid.addLayout(labelled(words, field), 0, place)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.target)
        column.addLayout(
            in_a_row(
                labelled("Time, UTC", self.time),
                self.now_button,
                self._dial,
                self._half,
                labelled("Elevation dial", self.elevation),
            )
        )
        column.addWidget(self.rounds)
        column.addLayout(in_a_row(self.came_from, self.read))
        self.note_button.setMinimumWidth(200)
        column.addLayout(in_a_row(self.posture, self.note_button))

    # --- doing --------------------------------------------------------------------------------------------

    def stamp(self) -> None:
        """It is sighted at this very second."""
        self._at_utc_s = self._desk.context.now_utc_s
        self.time.take_back()
        self.time.show_text(clock(self._at_utc_s))
        self.azimuth.setFocus()

    def _typed_time(self, text: str) -> None:
        try:
            self._at_utc_s = (
                read_moment(text, self._desk.plan.evening, self._desk.context.now_utc_s) if text else None
            )
        except NorthkeyError as error:
            self.time.refuse(page_words(error))
            return
        self.time.show_text("" if self._at_utc_s is None else clock(self._at_utc_s))

    def note(self) -> None:
        """What stands in the form becomes a sighting, in one edit; the dials are empty for the next."""
        row = self._row()
        if row is None:
            return
        first = self.low if self._by_half_power else self.azimuth
        words = f"sighting of {row['target']}"
        if self._desk.edit(lambda plan: with_row(plan, "sightings", row), words, first):
            self.forget()

    def forget(self) -> None:
        """Neither a time nor a dial; what is sighted and how stays for the next."""
        self._at_utc_s = None
        self.time.take_back()
        self.time.show_text("")
        for field in (self.azimuth, self.elevation, self.low, self.high):
            field.put(None)
        self._arrange()

    @property
    def _by_half_power(self) -> bool:
        return self.read.value == "half"

    def _row(self) -> dict[str, Any] | None:
        """The row as a plan has it; None where something is missing, which is told where it is."""
        self.time.finish()
        if self._at_utc_s is None and not self.time.wrong:
            self.time.refuse("Press Now when it is sighted")
        target = self.target.target()
        pair = (self.low, self.high) if self._by_half_power else (self.azimuth,)
        sound = [field.settled() for field in (*pair, self.elevation)]
        if self._by_half_power:
            sound += [field.settled("Both are needed") for field in pair]
        elif self.azimuth.number is None and self.elevation.number is None:
            sound.append(self.azimuth.settled("Type what a dial reads"))
        if not all(sound) or not target or self.time.wrong or self._at_utc_s is None:
            return None
        row: dict[str, Any] = {"time": format_iso(self._at_utc_s), "target": target}
        row |= {"bearing_deg": self.target.bearing_deg, "elevation_dial_deg": self.elevation.number}
        if self._by_half_power:
            row["half_power_dials_deg"] = (self.low.number, self.high.number)
        else:
            row["azimuth_dial_deg"] = self.azimuth.number
            row["time_round"] = int(self.rounds.value) if self.rounds.isVisibleTo(self) else None
        row |= {"came_from": self.came_from.value or None, "posture": self.posture.value}
        return {key: value for key, value in row.items() if value is not None}

    # --- showing ------------------------------------------------------------------------------------------

    def _arrange(self) -> None:
        """The fields that belong to how the azimuth was read."""
        half = self._by_half_power
        self._half.setVisible(half)
        self._dial.setVisible(not half)
        number = self.azimuth.number
        rounds = 0 if half or number is None else rounds_to_tell(number, self._desk.plan.mount)
        for value, button in self.rounds.buttons.items():
            button.setVisible(int(value) <= rounds)
        if int(self.rounds.value or "9") > rounds:
            self.rounds.choose("1")
        self.rounds.setVisible(rounds > 1)
        self.changed.emit()

    def show_now(self) -> None:
        """Where the target stands; what is being typed is left alone."""
        self.target.show_now()
        for choice in (self.read, self.rounds, self.came_from, self.posture):
            choice.set_scheme(self._desk.scheme)
        over = self._desk.plan.mount.elevation.maximum_deg > 90.0
        self.posture.buttons["over the top"].setEnabled(over)
