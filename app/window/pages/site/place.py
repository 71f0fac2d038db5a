"""Where: the position in degrees and as a locator, height, name and time zone."""

from __future__ import annotations

from typing import Any
from zoneinfo import available_timezones

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.window.look.style import FLAT_ARROW
from app.window.state.context import Context
from app.window.widgets.fields import CoordinateField, NumberField, TextField
from app.window.widgets.form import Form
from app.window.widgets.labels import heading, push_button, second, show_rank
from app.window.widgets.plain import plain_label
from app.window.widgets.wheel import wheel_wants_focus
from core.base.edits import changed, reset
from core.base.errors import NorthkeyError
from core.place.locator import from_locator, locator_of
from core.place.position import distance_km
from core.place.site import Site
from core.place.typed_place import TypedPlace
from core.place.zones import utc_offset_text, zone_at
from core.plan.document import Plan
from core.plan.quantities import QUANTITIES

#: A move further than this is more likely a wrong sign than another hill, km.
_FAR_KM = 100.0


class ZoneBox(QComboBox):
    """Time zones by name, the place's own first; the long list is read when it is first wanted.

    Signals:
        zone_typed(str): another zone was typed or chosen.
    """

    zone_typed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setEditable(True)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setAccessibleName("Time zone")
        self.setMaximumWidth(290)
        self.setMinimumContentsLength(12)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setStyleSheet(FLAT_ARROW)
        self.addItem("")
        wheel_wants_focus(self)
        self._shown = ""
        line = self.lineEdit()
        assert line is not None
        line.setAccessibleName("Time zone")
        line.editingFinished.connect(self._finish)
        self.activated.connect(lambda _index: self._finish())

    @property
    def touched(self) -> bool:
        """Whether another text stands in it than was shown."""
        return self.currentText().strip() != self._shown

    def _finish(self) -> None:
        if self.touched:
            self.zone_typed.emit(self.currentText().strip())

    def mark_wrong(self, why: str) -> None:
        """Mark the box as refused; an empty reason clears the mark."""
        if why != self.accessibleDescription():
            self.setProperty("wrong", bool(why))
            self.setAccessibleDescription(why)
            self.style().unpolish(self)
            self.style().polish(self)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self._fill()
        super().focusInEvent(event)

    def showPopup(self) -> None:
        self._fill()
        super().showPopup()

    def _fill(self) -> None:
        if self.count() == 1:
            kept = self.currentText()
            self.addItems(sorted(available_timezones()))
            self.setEditText(kept)

    def show_zone(self, own: str, chosen: str | None) -> None:
        """The place's own zone as first entry, and the one in use; what was refused of the same stays."""
        shown = own_words(own) if chosen is None else chosen
        if self.property("wrong") and shown == self._shown:
            return
        self._shown = shown
        self.mark_wrong("")
        self.setItemText(0, own_words(own))
        if chosen is None:
            self.setCurrentIndex(0)
        self.setEditText(shown)


def own_words(zone: str) -> str:
    """How the place's own zone stands in the list."""
    return f"{zone} (the place's own)"


class PlacePart(QWidget):
    """The group of the position.

    Signals:
        compare_wanted(): what the evening is at other places.
    """

    compare_wanted = Signal()

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.context = context
        self._shown: tuple[float, float] | None = None
        self.name = TextField("Site name", 290)
        self.latitude = CoordinateField("latitude", "Latitude, degrees, north positive")
        self.longitude = CoordinateField("longitude", "Longitude, degrees, east positive")
        self.locator = TextField("Grid locator", 130)
        self.height_field = NumberField("Height", "metres", 1, quantity=QUANTITIES["site.height_m"])
        self.zone = ZoneBox()
        self.north_words, self.east_words = second("deg"), second("deg")
        self.locator_words, self.zone_words = second(""), second("")
        self.compare = push_button(
            "Compare fields...",
            self.compare_wanted.emit,
            tip="This evening beside the same one at the places of other plan files",
        )
        self.moved = plain_label()
        self.moved.setWordWrap(True)
        self.moved.setAccessibleName("distance from the position before")
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        form = Form()
        form.add_wide_row("Na&me", self.name)
        form.add_row("Latit&ude", self.latitude)
        form.add_row("L&ongitude", self.longitude)
        form.add_row("Lo&cator", self.locator)
        form.add_row("&Height", self.height_field, "m")
        form.add_wide_row("Time &zone", self.zone)
        beside: tuple[tuple[QWidget, QLabel], ...] = (
            (self.latitude, self.north_words),
            (self.longitude, self.east_words),
            (self.locator, self.locator_words),
        )
        for field, words in beside:
            form.put_beside(field, words)
        form.addWidget(self.zone_words, form.rowCount(), 1, 1, 3)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        top = QHBoxLayout()
        top.addWidget(heading("Place"))
        top.addStretch(1)
        top.addWidget(self.compare)
        column.addLayout(top)
        column.addLayout(form)
        column.addWidget(self.moved)
        column.addStretch(1)

    def _connect(self) -> None:
        self.name.text_edited.connect(lambda text: self._set(self.name, "site.name", text, "site name"))
        for field in (self.latitude, self.longitude):
            field.place_typed.connect(
                lambda place, field=field: field.attempt(lambda: self._take_place(place))
            )
        self.height_field.value_edited.connect(
            lambda value: self._set(self.height_field, "site.height_m", value, "height")
        )
        self.locator.text_edited.connect(lambda text: self.locator.attempt(lambda: self._go_to(text)))
        self.zone.zone_typed.connect(self._take_zone)

    def _set(self, field: Any, path: str, value: object, label: str) -> None:
        document = self.context.document
        field.attempt(lambda: document.edit(changed(document.plan, path, value), f"{label} {value}"))

    def _take_place(self, place: TypedPlace) -> None:
        """One coordinate, or both (and the height) where a whole position was pasted into a field."""
        plan, words = self.context.plan, []
        for name, value in place._asdict().items():
            if value is not None:
                plan = changed(plan, f"site.{name}", value)
                words.append(f"{name.rpartition('_')[0]} {value:g}")
        self.context.document.edit(plan, ", ".join(words))

    def _go_to(self, text: str) -> None:
        """The centre of a locator's cell becomes the position."""
        cell = from_locator(text)
        plan = self.context.plan
        plan = changed(plan, "site.latitude_deg", round(cell.latitude_deg, 6))
        plan = changed(plan, "site.longitude_deg", round(cell.longitude_deg, 6))
        self.context.document.edit(plan, f"position to the middle of {cell.locator}")

    def _take_zone(self, typed: str) -> None:
        plan = self.context.plan
        own = _own_zone(plan.site)
        if not typed or typed in {own, own_words(own)}:
            wanted: str | None = None
        else:
            wanted = typed
        if wanted == plan.site.time_zone:
            return
        try:
            if wanted is not None:
                utc_offset_text(plan.evening.start_utc_s, wanted)
            self.context.document.edit(_with_zone(plan, wanted), f"time zone {wanted or own}")
            self._mark_zone("")
        except NorthkeyError as error:
            self._mark_zone(str(error))

    def _mark_zone(self, why: str) -> None:
        """Say what is wrong with the zone typed, or nothing."""
        show_rank(self.zone_words, "alarm" if why else "second")
        self.zone_words.setText(why)
        self.zone.mark_wrong(why)

    def refresh(self) -> None:
        """Show the plan's site."""
        site = self.context.plan.site
        self.name.show_text(site.name)
        self.latitude.show_value(site.latitude_deg)
        self.longitude.show_value(site.longitude_deg)
        self.height_field.show_value(site.height_m)
        self.locator.show_text(locator_of(site.latitude_deg, site.longitude_deg))
        self.locator_words.setText("typed: its middle")
        self.north_words.setText("deg north" if site.latitude_deg >= 0.0 else "deg south of the equator")
        self.east_words.setText("deg east" if site.longitude_deg >= 0.0 else "deg west of Greenwich")
        self._tell_move(site)
        own = _own_zone(site)
        line = self.zone.lineEdit()
        if line is not None and not (line.hasFocus() and self.zone.touched):
            self.zone.show_zone(own, site.time_zone)
            line.setCursorPosition(0)
        if self.zone.property("wrong"):
            return
        zone = site.time_zone or own
        try:
            offset = utc_offset_text(self.context.plan.evening.start_utc_s, zone)
            self._mark_zone("")
            self.zone_words.setText(f"local time is {offset}")
        except NorthkeyError as error:
            self._mark_zone(str(error))

    def _tell_move(self, site: Site) -> None:
        """The way from the position before: west for east is seen at once so."""
        here = (site.latitude_deg, site.longitude_deg)
        if not self.context.document.undo_label:
            self.moved.clear()
        elif self._shown is not None and here != self._shown:
            away_km = distance_km(site, *self._shown)
            far = away_km > _FAR_KM
            words = f"{away_km:,.1f} km from the position before".replace(",", "\N{NARROW NO-BREAK SPACE}")
            self.moved.setText(f"{words}. Is every sign right?" if far else f"{words}.")
            show_rank(self.moved, "alarm" if far else "second")
        self._shown = here


def _own_zone(site: Site) -> str:
    return zone_at(site.latitude_deg, site.longitude_deg)


def _with_zone(plan: Plan, zone: str | None) -> Plan:
    return reset(plan, "site.time_zone") if zone is None else changed(plan, "site.time_zone", zone)
