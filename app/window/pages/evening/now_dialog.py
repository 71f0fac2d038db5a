"""What the operator reads and finds outdoors, asked in one column: time, dials, what was missed, the seat."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import Qt, QTimer, Slot
from PySide6.QtWidgets import QComboBox, QDialog, QHBoxLayout, QVBoxLayout, QWidget

from app.window.look.scheme import font
from app.window.look.style import FLAT_ARROW
from app.window.pages.evening.missed_list import MissedList
from app.window.pages.evening.round_choice import RoundChoice
from app.window.state.context import Context
from app.window.widgets.fields import LineField, NumberField, TextField
from app.window.widgets.form import Form
from app.window.widgets.labels import heading, push_button, second
from app.window.widgets.wheel import wheel_wants_focus
from core.base.errors import NorthkeyError, ValueRangeError
from core.base.times import clock
from core.base.words import bearing_text
from core.place.zones import local_clock
from core.plan.document import Plan
from core.plan.quantities import AZIMUTH_READ, ELEVATION_READ, QUANTITIES
from core.plan.typed_moment import read_moment
from core.replan import (
    Now,
    azimuth_places,
    boresight_bearing_deg,
    elevation_place,
    rest_of_evening,
    wanted_passes,
    with_seat,
)

_LARGE_PT = 14
_NOW_MS = 1_000


class NowDialog(QDialog):
    """Asks until what it was told can be planned from, then tells `Context.present`."""

    def __init__(self, context: Context, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Re-plan from now")
        self._context = context
        self._time = "now"
        self._told: LineField | None = None
        self._azimuth_deg: float | None = None
        self._elevation_deg: float | None = None
        self._keyway_deg: float | None = None
        self.time = TextField("Time, UTC")
        self.azimuth = NumberField("Azimuth dial", "deg", 1, quantity=AZIMUTH_READ)
        self.round = RoundChoice()
        self.elevation = NumberField("Elevation dial", "deg", 1, quantity=ELEVATION_READ)
        self.missed = MissedList()
        self.keyway = NumberField(
            "Keyway found", "deg true", 1, quantity=QUANTITIES["mount.keyway_bearing_deg"]
        )
        self.hole = QComboBox(self)
        self.time_words, self.azimuth_words = second("", 10), second("", 10)
        self.elevation_words, self.keyway_words = second("", 10), second("", 10)
        self.plan_button = push_button("&Re-plan", self.submit, tip="Plan the rest of the evening (Enter)")
        self.cancel_button = push_button("Cancel", self.reject, tip="Change nothing (Esc)")
        self.state = second("", 10, "whether it can be planned now")
        self._ticking = QTimer(self)
        self._build()
        self._connect()
        self._begin()

    # --- building -----------------------------------------------------------------------------------------

    def _build(self) -> None:
        self.setFont(font(12))
        form = Form()
        form.setVerticalSpacing(9)
        self._add(form, "&Time", self.time, self.time_words)
        self._add(form, "&Azimuth dial", self.azimuth, self.azimuth_words)
        form.addWidget(self.round, form.rowCount(), 1, 1, 3)
        self._add(form, "&Elevation dial", self.elevation, self.elevation_words)
        form.add_wide_row("&Missed", self.missed)
        self._add(form, "&Keyway found", self.keyway, self.keyway_words)
        if len(self._context.plan.mount.index_holes) > 1:
            form.add_row("&Hole used", self.hole)
        else:
            self.hole.hide()
        self.hole.setAccessibleName("Hole used")
        self.hole.setFont(font(_LARGE_PT))
        self.hole.setStyleSheet(FLAT_ARROW)
        wheel_wants_focus(self.hole)
        buttons = QHBoxLayout()
        buttons.setSpacing(12)
        buttons.addWidget(self.state, 1)
        for button in (self.cancel_button, self.plan_button):
            button.setFont(font(12, button is self.plan_button))
            button.setAutoDefault(button is self.plan_button)
            buttons.addWidget(button)
        self.plan_button.setProperty("main", True)
        self.plan_button.setDefault(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(26, 20, 26, 18)
        column.setSpacing(12)
        column.addWidget(heading("Re-plan from now", 17))
        column.addWidget(second("The rest of the evening, from where the mount stands.", 11))
        column.addLayout(form, 1)
        column.addLayout(buttons)
        self.setMinimumWidth(680)
        asked = (self.time, self.azimuth, self.round, self.elevation, self.missed, self.keyway, self.hole)
        for before, after in pairwise((*asked, self.plan_button, self.cancel_button)):
            self.setTabOrder(before, after)

    def _add(self, form: Form, words: str, field: LineField, beside: QWidget) -> None:
        field.setFont(font(_LARGE_PT))
        field.setMinimumWidth(130)
        form.add_row(words, field)
        row = form.rowCount() - 1
        form.addWidget(beside, row, 2, 1, 2)

    def _connect(self) -> None:
        self.time.text_edited.connect(lambda text: self.time.attempt(lambda: self._take_time(text)))
        self.azimuth.value_edited.connect(
            lambda value: self.azimuth.attempt(lambda: self._read_azimuth(value))
        )
        self.elevation.value_edited.connect(
            lambda value: self.elevation.attempt(lambda: self._read_elevation(value))
        )
        self.elevation.cleared.connect(lambda: self._read_elevation(None))
        self.keyway.value_edited.connect(self._find_keyway)
        self.keyway.cleared.connect(lambda: self._find_keyway(None))
        self.hole.currentIndexChanged.connect(lambda _place: self._show_bearing())
        self._context.document.plan_changed.connect(self._on_plan)
        self._ticking.setInterval(_NOW_MS)
        self._ticking.timeout.connect(self._show_time)
        self._ticking.start()

    def _begin(self) -> None:
        """What was told before stays, but for the time and the dials, which are to be read anew."""
        mount, before = self._context.plan.mount, self._context.present.now
        self.elevation.may_be_empty = self.keyway.may_be_empty = True
        self.time.show_text(self._time)
        names = [hole.name for hole in mount.index_holes]
        self.hole.addItem(f"{mount.index_hole or names[0]}, as planned", None)
        for name in names:
            self.hole.addItem(name, name)
        self.keyway_words.setText(f"deg true; empty: {mount.keyway_bearing_deg:g} as planned")
        self.elevation_words.setText("deg; empty: level")
        if before is not None:
            self._find_keyway(before.keyway_bearing_deg)
            self.hole.setCurrentIndex(max(0, self.hole.findData(before.index_hole)))
        self.missed.tick(before.missed if before is not None else ())
        self.refresh()
        self._show_bearing()
        self.azimuth.setFocus()

    # --- showing ------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Results may have come meanwhile."""
        ready = self._ready()
        self.plan_button.setEnabled(ready)
        self.state.setText("" if ready else "The plan is being worked out.")
        self._show_time()

    def _ready(self) -> bool:
        return self._context.result is not None and self._context.result_plan == self._context.plan

    def _show_time(self) -> None:
        """The moment in both clocks, and what of the evening is over by then."""
        context, result, moment_s = self._context, self._context.result, self._moment_s()
        zone = "UTC" if result is None else result.time_zone
        self.time_words.setText(f"{clock(moment_s)} UTC, {local_clock(moment_s, zone)} local")
        if result is not None and self._ready():
            self.missed.show_passes(wanted_passes(context.plan, result), moment_s)

    def _moment_s(self) -> float:
        return read_moment(self._time, self._context.plan.evening, self._context.now_utc_s)

    def _take_time(self, text: str) -> None:
        read_moment(text, self._context.plan.evening, self._context.now_utc_s)
        self._time = text or "now"
        self.time.show_text(self._time)
        self._show_time()

    def _read_azimuth(self, value_deg: float) -> None:
        mount = self._context.plan.mount
        places = azimuth_places(mount, value_deg)
        self._azimuth_deg = value_deg
        self.azimuth.show_value(value_deg)
        self.round.show_places(places, mount)
        for before, after in pairwise((self.azimuth, *self.round.group.buttons(), self.elevation)):
            self.setTabOrder(before, after)
        self._show_bearing()

    def _read_elevation(self, value_deg: float | None) -> None:
        if value_deg is not None:
            elevation_place(self._context.plan.mount, value_deg)
        self._elevation_deg = value_deg
        self.elevation.show_value(value_deg)

    def _find_keyway(self, value_deg: float | None) -> None:
        self._keyway_deg = value_deg
        self.keyway.show_value(value_deg)
        self._show_bearing()

    def _show_bearing(self) -> None:
        """Where boresight points by what was read: a figure misread shows here."""
        if self._azimuth_deg is None:
            self.azimuth_words.setText("deg")
            return
        plan = self._context.plan
        mount = with_seat(plan, self._keyway_deg, self.hole.currentData()).mount
        m_deg = azimuth_places(mount, self._azimuth_deg)[0]
        self.azimuth_words.setText(
            f"deg; points to {bearing_text(boresight_bearing_deg(mount, m_deg))} deg true"
        )

    # --- telling ------------------------------------------------------------------------------------------

    def submit(self) -> None:
        """Plan from what was told, or say beside its field what is missing or cannot be."""
        self.plan_button.setFocus()  # what is being typed is taken
        if self._told is not None:  # what was told of before may be mended elsewhere
            self._told.mark_wrong("")
            self._told = None
        wrong = next((field for field in self._fields() if field.wrong), None)
        if wrong is not None:
            wrong.setFocus()
            return
        if self._azimuth_deg is None:
            self._refuse(ValueRangeError("azimuth dial", "empty", "what the azimuth dial reads now"))
            return
        if self.round.wanting:
            self.round.ask()
            return
        result = self._context.result
        if result is None or not self._ready():
            return
        try:
            now = self._now(self._azimuth_deg)
            rest_of_evening(self._context.plan, now, result.passes)
        except NorthkeyError as error:
            self._refuse(error)
            return
        self.accept()
        self._context.present.plan_again(now)

    def _now(self, azimuth_deg: float) -> Now:
        return Now(
            utc_s=self._moment_s(),
            azimuth_dial_deg=azimuth_deg,
            elevation_dial_deg=self._elevation_deg,
            time_round=self.round.time_round,
            keyway_bearing_deg=self._keyway_deg,
            index_hole=self.hole.currentData(),
            missed=self.missed.missed,
        )

    def _fields(self) -> tuple[LineField, ...]:
        return (self.time, self.azimuth, self.elevation, self.keyway)

    def _refuse(self, error: NorthkeyError) -> None:
        """Beside the field that it is about."""
        about = {"azimuth dial": self.azimuth, "time round": self.azimuth, "elevation dial": self.elevation}
        about["mount.keyway_bearing_deg"] = self.keyway
        field = about.get(error.field, self.time) if isinstance(error, ValueRangeError) else self.azimuth
        field.refuse_error(error)
        field.setFocus()
        self._told = field

    @Slot(object)
    def _on_plan(self, _plan: Plan) -> None:
        """What is asked is of the plan before."""
        self.reject()

    def done(self, code: int) -> None:
        self._ticking.stop()
        super().done(code)
