"""An answer as it is shown: what it says, its rows in tables, and the curves."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.window.look.scheme import Scheme
from app.window.pages.mount.what_if.chart import WhatIfChart
from app.window.pages.mount.what_if.lines import lines_of
from app.window.pages.mount.what_if.tables import RowsTable
from app.window.widgets.labels import label, second
from core.what_if.changes import MOST_CHANGES, Change
from core.what_if.evening import WhatIfEvening
from core.what_if.season import WhatIfSeason
from core.what_if.words import (
    BEST_HEADS,
    BEST_TIPS,
    SEASON_HEADS,
    SEASON_TIPS,
    STANDS_HEADS,
    STANDS_TIPS,
    best_cells,
    season_cells,
    sentences_of,
    stands_cells,
)

#: Rows of each of two tables where there is not room for all.
_FEW_ROWS = 4


class Results(QWidget):
    """Sentence, tables and chart.

    Signals:
        row_chosen(): another row is chosen.
    """

    row_chosen = Signal()

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.answer = label(11.5, bold=True, name="what the changes save", wraps=True)
        self.more = second("", 10.5, "what more is to be known of the changes")
        self.caption = second("", 9.5, "what the curves are")
        self.chart = WhatIfChart(scheme)
        self.stands = RowsTable("each change, as the keyway stands", STANDS_HEADS, STANDS_TIPS)
        self.best = RowsTable("each change, at its best keyway", BEST_HEADS, BEST_TIPS)
        self.over_season = RowsTable("each change, over a season", SEASON_HEADS, SEASON_TIPS)
        self.tables = (self.stands, self.best, self.over_season)
        self._told: WhatIfEvening | WhatIfSeason | None = None
        self._high = False
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.answer)
        column.addWidget(self.more)
        for table in self.tables:
            column.addWidget(table)
            table.row_chosen.connect(self._choose)
        column.addWidget(self.caption)
        column.addWidget(self.chart, 1)
        self._show_words()
        self._show_tables()

    def show_answer(
        self, told: WhatIfEvening | WhatIfSeason | None, keyway_deg: float, scheme: Scheme
    ) -> None:
        """An answer, or none yet; where the keyway points now, in these colours."""
        words = "" if told is None else " ".join(sentences_of(told))
        self.chart.show_lines(lines_of(told), isinstance(told, WhatIfSeason), keyway_deg, words, scheme)
        if told is not self._told:
            self._told = told
            self._show_words()
            self._show_tables()

    def make_room(self, high: bool) -> None:
        """Whether there is room for every row of both tables."""
        self._high = high
        for table in self._tables_shown():
            table.make_room(self._most_rows)

    @property
    def chosen(self) -> Change | None:
        """The change of the chosen row; None for none, and for the mount as it is."""
        tables = self._tables_shown()
        row = tables[0].chosen if tables else -1
        return None if self._told is None or row < 0 else self._told.rows[row].change

    def _choose(self, row: int) -> None:
        for table in self.tables:
            table.choose(row)
        self.row_chosen.emit()

    def _show_words(self) -> None:
        sentences = () if self._told is None else sentences_of(self._told)
        self.answer.setText("".join(sentences[:1]))
        self.more.setText("\n".join(sentences[1:]))
        what = "What the passes lose, each for itself"
        if isinstance(self._told, WhatIfSeason):
            what = "Passes that are not clear in any posture"
        where = "at each keyway bearing through the hole in use"
        self.caption.setText(f"{what}, {where}; a ring where it is best")
        for part in (self.answer, self.more, self.caption):
            part.setVisible(self._told is not None)

    def _show_tables(self) -> None:
        told = self._told
        if isinstance(told, WhatIfSeason):
            first = told.rows[0]
            self.over_season.show_lines([season_cells(row, first) for row in told.rows], self._most_rows)
        elif isinstance(told, WhatIfEvening):
            now = told.rows[0]
            self.stands.show_lines([stands_cells(row, now) for row in told.rows], self._most_rows)
            self.best.show_lines([best_cells(row, now) for row in told.rows], self._most_rows)
        for table in self.tables:
            table.setVisible(table in self._tables_shown())

    def _tables_shown(self) -> tuple[RowsTable, ...]:
        if self._told is None:
            return ()
        return (self.over_season,) if isinstance(self._told, WhatIfSeason) else (self.stands, self.best)

    @property
    def _most_rows(self) -> int:
        return MOST_CHANGES + 1 if self._high or len(self._tables_shown()) == 1 else _FEW_ROWS
