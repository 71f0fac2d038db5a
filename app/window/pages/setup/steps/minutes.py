"""Sun, Moon and Polaris by the minute: the dial at which the boom points at them, and the Sun's shadow."""

from __future__ import annotations

import math

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme
from app.window.pages.setup.big import Choice
from app.window.pages.setup.big_table import BigTable, words_model
from app.window.widgets.labels import label, second
from core.base.times import clock
from core.base.words import bearing_text, figure
from core.setup.minutes import Minutes

#: So many minutes are told.
_ROWS = 20
_BODIES = (("Sun", "Sun"), ("Moon", "Moon"), ("Polaris", "Polaris"))


class MinutesPart(QWidget):
    """One body, its dial large, and a row a minute. Which body it is, is asked where there is room for it."""

    def __init__(self) -> None:
        super().__init__()
        self._minutes: tuple[Minutes, ...] = ()
        self._utc_s = 0.0
        #: The operator's own choice; empty while it follows the sky.
        self._asked = ""
        self.body = Choice("seen by the minute", _BODIES)
        self.dial = label(34, bold=True, name="azimuth dial with the boom on it")
        self.elevation = label(20, bold=True, name="elevation dial with the boom on it")
        self.words = label(12, name="where it stands", wraps=True)
        self.table = BigTable(
            "the next minutes",
            words_model(
                "UTC",
                "azimuth dial",
                "elev. dial",
                "true",
                "up",
                "shadow to",
                "of 1 m",
                right=range(1, 7),
            ),
            30,
            even=True,
        )
        figures = QHBoxLayout()
        figures.setSpacing(26)
        for shown, words in ((self.dial, "azimuth dial"), (self.elevation, "elevation dial")):
            column = QVBoxLayout()
            column.setSpacing(0)
            column.addStretch(1)
            column.addWidget(shown)
            column.addWidget(second(words, 11, wraps=False))
            figures.addLayout(column)
        figures.addWidget(self.words, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addLayout(figures)
        column.addWidget(self.table, 1)
        self.body.chosen.connect(self._choose)

    @property
    def shown(self) -> Minutes | None:
        """The body that is told of."""
        return next((one for one in self._minutes if one.body == self.body.value), None)

    def _choose(self, body: str) -> None:
        self._asked = body
        self._show()

    def show_minutes(self, minutes: tuple[Minutes, ...], utc_s: float, scheme: Scheme) -> None:
        """Other minutes, or another moment among them; the first body that is up unless one was chosen."""
        self._minutes, self._utc_s = minutes, utc_s
        up = [one.body for one in minutes if one.apparent_deg[self._row(one)] > 0.0]
        self.body.choose(self._asked or (up[0] if up else "Sun"))
        self.body.set_scheme(scheme)
        self._show()

    def _row(self, one: Minutes) -> int:
        """The minute that has begun."""
        past = math.floor((self._utc_s - float(one.utc_s[0])) / 60.0 + 1e-6)
        return min(max(past, 0), len(one.utc_s) - 1)

    def _show(self) -> None:
        one = self.shown
        if one is None:
            for shown in (self.dial, self.elevation, self.words):
                shown.setText("")
            self.table.show_lines([])
            return
        first = self._row(one)
        dials = one.dials[first]
        self.dial.setText("none" if dials is None else dials.azimuth.short)
        self.elevation.setText("none" if dials is None else dials.elevation.short)
        self.words.setText(_place_words(one, first))
        last = min(first + _ROWS, len(one.utc_s))
        self.table.show_lines([_cells(one, row) for row in range(first, last)])


def _place_words(one: Minutes, row: int) -> str:
    name = one.body if one.body == "Polaris" else f"The {one.body}"
    if one.apparent_deg[row] < 0.0:
        return f"{name} is {figure(-float(one.apparent_deg[row]))} deg below the horizon."
    where = (
        f"{name} stands at {bearing_text(float(one.azimuth_deg[row]))} true, "
        f"{figure(float(one.apparent_deg[row]))} deg up."
    )
    if one.dials[row] is None:
        return f"{where} The boom does not reach it."
    shadow = _shadow_cells(one, row)
    if shadow[0]:
        where += f" Its shadow falls to {shadow[0]} true, {shadow[1]} m for a stick of 1 m."
    return where


def _cells(one: Minutes, row: int) -> tuple[str, ...]:
    dials = one.dials[row]
    at = clock(float(one.utc_s[row]), seconds=bool(float(one.utc_s[row]) % 60.0))
    if one.apparent_deg[row] < 0.0:
        return (at, "", "", "", "down", "", "")
    return (
        at,
        "" if dials is None else dials.azimuth.short,
        "" if dials is None else dials.elevation.short,
        bearing_text(float(one.azimuth_deg[row])),
        figure(float(one.apparent_deg[row])),
        *_shadow_cells(one, row),
    )


def _shadow_cells(one: Minutes, row: int) -> tuple[str, str]:
    length_m = float(one.shadow_m[row])
    if math.isnan(length_m):
        return ("", "")
    return (bearing_text(float(one.shadow_bearing_deg[row])), figure(length_m, 2))
