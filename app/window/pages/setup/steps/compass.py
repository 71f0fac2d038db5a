"""What the compass shows along the keyway, and how magnetic and map north lie here."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme, font
from app.window.look.style import indicator_style
from app.window.pages.setup.big import LEAST_PX, Typed, big_button, in_a_row, labelled, told
from app.window.pages.setup.step import Desk
from core.base.edits import changed
from core.base.words import plain
from core.plan.quantities import ON_SITE
from core.setup.model import CompassReading
from core.setup.words import declination_sentence, grid_sentence


class CompassPart(QWidget):
    """One reading, taken with a button; declination and map convergence are told under it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._shown: CompassReading | None = None
        self.reading = Typed(
            "what the compass shows along the keyway", "degrees", ON_SITE["compass.reading_deg"]
        )
        self.sigma = Typed("how well it can be read", "degrees", ON_SITE["compass.sigma_deg"])
        self.steel = QCheckBox("Steel near")
        self.steel.setAccessibleName("steel is near the compass")
        self.steel.setToolTip("Steel, iron or current beside the compass: it may be off by 10 deg and more")
        self.steel.setFont(font(13))
        self.steel.setMinimumHeight(LEAST_PX)
        self.take_button = big_button("Note it down", self.take, "note the compass reading down", main=True)
        self.remove_button = big_button("Remove", self.remove, "remove the compass reading")
        self.declination = told(name="declination", points=13)
        self.grid = told(name="map convergence", points=13)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(10)
        column.addLayout(
            in_a_row(
                labelled("Compass shows", self.reading, "deg"),
                labelled("Read to", self.sigma, "deg"),
                self.steel,
            )
        )
        column.addLayout(in_a_row(self.take_button, self.remove_button))
        column.addWidget(self.declination)
        column.addWidget(self.grid)
        column.addStretch(1)

    def take(self) -> None:
        """What stands in the fields becomes the plan's reading."""
        sound = [self.reading.settled("Type what the compass shows"), self.sigma.settled()]
        if not all(sound):
            return
        row: dict[str, object] = {"reading_deg": self.reading.number, "steel_near": self.steel.isChecked()}
        if self.sigma.number is not None:
            row["sigma_deg"] = self.sigma.number
        words = f"compass reading {plain(self.reading.number or 0.0)} deg"
        self._desk.edit(lambda plan: changed(plan, "compass", row), words, self.reading)

    def remove(self) -> None:
        """No compass reading."""
        self._desk.edit(lambda plan: changed(plan, "compass", None), "remove the compass reading")

    def show_now(self, scheme: Scheme) -> None:
        """The plan's reading where it is another one; what is being typed is left alone."""
        compass, answer = self._desk.plan.compass, self._desk.set_up.answer
        if compass is not self._shown:
            self._shown = compass
            self.reading.put(None if compass is None else compass.reading_deg)
            self.sigma.put(None if compass is None else compass.sigma_deg)
            self.steel.setChecked(compass is not None and compass.steel_near)
        self.sigma.setPlaceholderText("2")
        self.remove_button.setEnabled(compass is not None)
        self.declination.setText("" if answer is None else declination_sentence(answer.declination))
        self.grid.setText("" if answer is None else grid_sentence(answer.grid))
        self.steel.setStyleSheet(indicator_style(scheme))
