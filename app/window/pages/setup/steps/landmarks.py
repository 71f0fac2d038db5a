"""Landmarks whose place is known: a table, and large fields to type one."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.pages.setup.big import Typed, big_button, big_text, enlarged, in_a_row, labelled
from app.window.pages.setup.big_table import BigTable, words_model
from app.window.pages.setup.step import Desk
from app.window.widgets.fields import CoordinateField
from core.base.words import plain
from core.plan.on_site_edits import with_row, without_rows
from core.plan.quantities import ON_SITE


class LandmarksPart(QWidget):
    """The plan's landmarks; a row that is chosen is typed over."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._place_deg: dict[str, float | None] = {"latitude": None, "longitude": None}
        self.table = BigTable(
            "landmarks",
            words_model("name", "latitude", "longitude", "height, m", "known to, m", right=(1, 2, 3, 4)),
        )
        self.table.setMinimumHeight(76)
        self.name = big_text("name of the landmark", 120)
        self.latitude = enlarged(CoordinateField("latitude", "latitude of the landmark"), 115)
        self.longitude = enlarged(CoordinateField("longitude", "longitude of the landmark"), 115)
        self.height_m = Typed("height of the landmark", "metres", ON_SITE["landmarks.height_m"], 85)
        self.sigma_m = Typed("how well its place is known", "metres", ON_SITE["landmarks.sigma_m"], 70)
        self.add_button = big_button("Add", self.take, "add the landmark", main=True)
        self.remove_button = big_button("Remove", self.remove, "remove the chosen landmark")
        self.other_button = big_button("Another one", self.clear, "type another landmark")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.table, 1)
        column.addLayout(
            in_a_row(
                labelled("Name", self.name),
                labelled("Latitude", self.latitude),
                labelled("Longitude", self.longitude),
                labelled("Height, m", self.height_m),
                labelled("Known to, m", self.sigma_m),
            )
        )
        column.addLayout(in_a_row(self.add_button, self.other_button, self.remove_button))
        self.name.text_edited.connect(self.name.show_text)
        for field in (self.latitude, self.longitude):
            field.place_typed.connect(self._take_place)
        self.table.selectionModel().selectionChanged.connect(lambda _now, _before: self._fill())

    def _take_place(self, place: Any) -> None:
        for name, field in (("latitude", self.latitude), ("longitude", self.longitude)):
            value = getattr(place, f"{name}_deg")
            if value is not None:
                self._place_deg[name] = value
                field.show_value(value)

    # --- doing --------------------------------------------------------------------------------------------

    def take(self) -> None:
        """What stands in the fields becomes a landmark, or the chosen one anew."""
        self.name.finish()
        for field in (self.latitude, self.longitude):
            field.finish()
        if not self.name.text().strip():
            self.name.refuse("Type a name first")
        for name, field in (("latitude", self.latitude), ("longitude", self.longitude)):
            if self._place_deg[name] is None and not field.wrong:
                field.refuse("Type degrees, north and east positive")
        fields = (self.name, self.latitude, self.longitude)
        if not (self.height_m.settled() and self.sigma_m.settled()) or any(field.wrong for field in fields):
            return
        row: dict[str, Any] = {
            "name": self.name.text().strip(),
            "latitude_deg": self._place_deg["latitude"],
            "longitude_deg": self._place_deg["longitude"],
        }
        site_m = self._desk.plan.site.height_m
        row["height_m"] = site_m if self.height_m.number is None else self.height_m.number
        if self.sigma_m.number is not None:
            row["sigma_m"] = self.sigma_m.number
        place = self.table.chosen if self.table.chosen >= 0 else None
        words = f"landmark {row['name']}"
        if self._desk.edit(lambda plan: with_row(plan, "landmarks", row, place), words, self.name):
            self.clear()

    def remove(self) -> None:
        """Without the chosen landmark; undo brings it back."""
        row = self.table.chosen
        if row >= 0:
            self._desk.edit(lambda plan: without_rows(plan, "landmarks", [row]), "remove a landmark")

    def clear(self) -> None:
        """Empty fields for another one."""
        self.forget()
        self.name.setFocus()

    def forget(self) -> None:
        """Empty fields, and no row chosen."""
        self.table.clearSelection()
        self._put(None)

    def _fill(self) -> None:
        row = self.table.chosen
        self._put(row if 0 <= row < len(self._desk.plan.landmarks) else None)
        self._enable()

    def _put(self, row: int | None) -> None:
        one = None if row is None else self._desk.plan.landmarks[row]
        for field in (self.name, self.latitude, self.longitude):
            field.take_back()
        self.name.show_text("" if one is None else one.name)
        self._place_deg = {
            "latitude": None if one is None else one.latitude_deg,
            "longitude": None if one is None else one.longitude_deg,
        }
        for name, field in (("latitude", self.latitude), ("longitude", self.longitude)):
            value = self._place_deg[name]
            if value is None:
                field.show_line("")
            else:
                field.show_value(value)
        self.height_m.put(None if one is None else one.height_m)
        self.sigma_m.put(None if one is None else one.sigma_m)

    # --- showing ------------------------------------------------------------------------------------------

    def show_now(self) -> None:
        """The plan's landmarks."""
        self.table.show_lines(
            [
                (
                    one.name,
                    f"{one.latitude_deg:.6f}",
                    f"{one.longitude_deg:.6f}",
                    plain(one.height_m),
                    plain(one.sigma_m),
                )
                for one in self._desk.plan.landmarks
            ]
        )
        self.height_m.setPlaceholderText(plain(self._desk.plan.site.height_m, 0))
        self.sigma_m.setPlaceholderText("10")
        self._enable()

    def _enable(self) -> None:
        chosen = self.table.chosen >= 0
        self.remove_button.setEnabled(chosen)
        self.other_button.setEnabled(chosen)
        words = ("Change", "change the chosen landmark") if chosen else ("Add", "add the landmark")
        self.add_button.setText(words[0])
        self.add_button.setAccessibleName(words[1])
        self.add_button.setToolTip(words[1].capitalize())
