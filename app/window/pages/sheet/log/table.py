"""The rows of the log under their heads, typed down as one reads down the paper."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QFrame, QGridLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from app.window.look.scheme import Scheme
from app.window.look.style import indicator_style
from app.window.pages.sheet.log.cells import RowCells
from app.window.widgets.fields import LineField, TextField
from app.window.widgets.labels import second, show_rank
from core.afterwards.rows import LogRow
from core.afterwards.sightings import FromLog
from core.afterwards.typed import CELLS, cell_texts
from core.afterwards.words import planned_words, row_words
from core.mount.model.station import Mount

_HEADS = (
    *("no.", "satellite", "from, UTC", "worked", "azimuth", "elevation", "best at, UTC"),
    *("last heard", "note", "printed", "against what was printed", "sighting"),
)
#: Neither yes nor no looks like neither of them.
_NOT_NOTED = "QCheckBox::indicator:indeterminate { border-style: dotted; }"
_SATELLITE, _NOTE, _TOLD = 1, 8, 10
_GAP_PX = 4


class LogTable(QScrollArea):
    """Rows of fields; what is typed is told, and what the plan has is shown.

    Signals:
        typed(int, str, str, LineField): row, which of the row's fields, the text, and the field itself.
        noted(int, object): whether a row was worked.
        remove_wanted(int): a row's entry is to go.
        chosen_changed(): other sightings are ticked.
    """

    typed = Signal(int, str, str, LineField)
    noted = Signal(int, object)
    remove_wanted = Signal(int)
    chosen_changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.cells: list[RowCells] = []
        self._shown: list[tuple[object, ...]] | None = None
        self._scheme: Scheme | None = None
        #: Sightings that were ticked off, by satellite and peak: all others are chosen.
        self._unwanted: set[tuple[int, float]] = set()
        self.page = QWidget()
        self.page.setObjectName("page")
        self._column = QVBoxLayout(self.page)
        self._column.setContentsMargins(0, 0, 8, 0)
        self._body = QWidget()
        self._column.addWidget(self._body)
        self._column.addStretch(1)
        self.setWidget(self.page)
        self._heads = [self._head(words) for words in _HEADS]
        self.setViewportMargins(0, self._heads[0].sizeHint().height() + _GAP_PX, 0, 0)

    # --- showing ------------------------------------------------------------------------------------------

    def show_rows(
        self, rows: Sequence[LogRow], found: Sequence[FromLog], mount: Mount, scheme: Scheme
    ) -> None:
        """The plan's rows, and what their dials would be as sightings."""
        if scheme is not self._scheme:
            self._scheme = scheme
            self.page.setStyleSheet(indicator_style(scheme) + _NOT_NOTED)
        which: list[tuple[object, ...]] = [(row.number, row.pass_.satellite, *_key(row)) for row in rows]
        if which != self._shown:
            self._shown = which
            self._rebuild(rows)
        of_row = {id(one.row): one for one in found}
        for row, cells in zip(rows, self.cells, strict=True):
            self._show_row(row, cells, of_row.get(id(row)), mount)

    def _show_row(self, row: LogRow, cells: RowCells, found: FromLog | None, mount: Mount) -> None:
        entry = row.entry
        cells.worked.show_worked(None if entry is None else entry.worked)
        for field, text in zip(cells.fields, cell_texts(entry), strict=True):
            field.show_text(text)
        cells.planned.setText(planned_words(row, mount))
        words, attention = row_words(row, mount)
        if found is not None and found.reason and not attention:
            words = f"{words}; no sighting: {found.reason}" if words else f"No sighting: {found.reason}"
        cells.told.setText(words)
        show_rank(cells.told, "alarm" if attention else "")
        cells.sighting.setEnabled(found is not None and found.to_make)
        there = found is not None and found.same
        cells.sighting.setText("made" if there else "")
        cells.sighting.setChecked(there or (found is not None and found.to_make and self._wants(row)))

    def _rebuild(self, rows: Sequence[LogRow]) -> None:
        fresh = QWidget()
        grid = QGridLayout(fresh)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(9)
        grid.setVerticalSpacing(5)
        for column, head in enumerate(self._heads):
            grid.setColumnMinimumWidth(column, head.sizeHint().width())
        self.cells = []
        for place, row in enumerate(rows):
            self._add_row(grid, place, row)
        grid.setColumnMinimumWidth(_SATELLITE, 96)
        grid.setColumnMinimumWidth(_TOLD, 210)
        grid.setColumnStretch(_NOTE, 3)
        grid.setColumnStretch(_TOLD, 2)
        self._column.replaceWidget(self._body, fresh)
        self._body.hide()
        self._body.deleteLater()
        self._body = fresh
        fresh.show()
        fresh.installEventFilter(self)
        self._column.activate()  # a new row has its place before it is gone to
        self._place_heads()

    def _head(self, words: str) -> QLabel:
        """A head stands over the rows and stays there while they are scrolled."""
        made = second(words, 9.5, wraps=False)
        made.setParent(self)
        return made

    def _place_heads(self) -> None:
        """Each over its column."""
        grid = self._body.layout()
        if not isinstance(grid, QGridLayout):
            return
        for column, head in enumerate(self._heads):
            head.setVisible(bool(self.cells))
            left = self._body.mapTo(self.page, grid.cellRect(0, column).topLeft()).x()
            head.adjustSize()
            head.move(self.viewport().x() + left, 0)

    def go_to(self, widget: QWidget) -> None:
        """Type there next."""
        widget.setFocus(Qt.FocusReason.TabFocusReason)
        self.ensureWidgetVisible(widget)

    def _add_row(self, grid: QGridLayout, place: int, row: LogRow) -> None:
        cells = RowCells(row)
        widgets = (cells.number, cells.satellite, cells.when, cells.worked, *cells.fields)
        for column, widget in enumerate((*widgets, cells.planned, cells.told, cells.sighting)):
            if isinstance(widget, QCheckBox):  # pressed where the tick is, and not beside it
                grid.addWidget(widget, place, column, Qt.AlignmentFlag.AlignLeft)
            else:
                grid.addWidget(widget, place, column)
        if cells.remove is not None:
            grid.addWidget(cells.remove, place, len(_HEADS))
            cells.remove.clicked.connect(lambda: self.remove_wanted.emit(place))
        cells.worked.noted.connect(lambda worked: self.noted.emit(place, worked))
        for key, field in zip(CELLS, cells.fields, strict=True):
            self._connect(field, place, key)
        cells.sighting.clicked.connect(lambda wanted: self._tick(row, wanted))
        for widget in (cells.worked, *cells.fields, cells.sighting):
            widget.installEventFilter(self)
        self.cells.append(cells)

    def _connect(self, field: TextField, place: int, key: str) -> None:
        field.text_edited.connect(lambda text: self.typed.emit(place, key, text, field))

    # --- which sightings ----------------------------------------------------------------------------------

    def _wants(self, row: LogRow) -> bool:
        return _key(row) not in self._unwanted

    def _tick(self, row: LogRow, wanted: bool) -> None:
        (self._unwanted.discard if wanted else self._unwanted.add)(_key(row))
        self.chosen_changed.emit()

    def chosen(self, found: Sequence[FromLog]) -> tuple[FromLog, ...]:
        """Those that can be made and are ticked."""
        return tuple(one for one in found if one.to_make and self._wants(one.row))

    # --- keys ---------------------------------------------------------------------------------------------

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter goes on to the next field once what was typed is taken; up and down stay in the column."""
        if watched is self._body and event.type() in {QEvent.Type.Resize, QEvent.Type.LayoutRequest}:
            self._place_heads()
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            key = event.key()
            if key in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
                return self._go(watched, -1 if key == Qt.Key.Key_Up else 1)
            if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and isinstance(watched, QWidget):
                if isinstance(watched, LineField):
                    watched.finish()
                    if watched.wrong:
                        return True
                self.focusNextPrevChild(True)
                return True
        return super().eventFilter(watched, event)

    def _go(self, watched: QObject, step: int) -> bool:
        columns = [(cells.worked, *cells.fields, cells.sighting) for cells in self.cells]
        for place, row in enumerate(columns):
            for column, widget in enumerate(row):
                if widget is watched and 0 <= place + step < len(columns):
                    self.go_to(columns[place + step][column])
        return True


def _key(row: LogRow) -> tuple[int, float]:
    return row.pass_.norad_id, row.pass_.peak.utc_s
