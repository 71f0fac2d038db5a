"""The right side of the Keyway page: the seat in numbers, what is lost here, and the way to the best."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import Scheme, font
from app.window.look.style import checked_style
from app.window.pages.keyway.limits import LimitsPart
from app.window.pages.keyway.list import TroubleList
from app.window.widgets.fields import NumberField
from app.window.widgets.labels import label, push_button, second, show_rank
from app.window.widgets.plain import button_words, plain_label, tip
from core.base.words import bearing_text
from core.mount.model.from_above import FromAbove
from core.mount.model.station import IndexHole, Mount
from core.mount.seat.words import TroubleRow, travel_words
from core.plan.quantities import QUANTITIES

#: From these heights on there is room for the other answer, and for the best seat of each hole.
_HIGH, _ROOMY = 580, 720
#: Hole buttons in one row.
_HOLES_ACROSS = 4


class HoleChooser(QWidget):
    """A button per hole, with both of its numbers under it.

    Signals:
        chosen(str): a hole's name.
    """

    chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Index hole in use")
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(2)
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self._holes: tuple[IndexHole, ...] = ()
        self.buttons: dict[str, QPushButton] = {}

    def show_holes(self, holes: tuple[IndexHole, ...], in_use: str) -> None:
        """The holes of the mount and the one in use."""
        if holes != self._holes:
            self._holes = holes
            self._build()
        self.buttons[in_use].setChecked(True)

    def _build(self) -> None:
        while (item := self._grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.buttons = {}
        for place, hole in enumerate(self._holes):
            button = QPushButton(button_words(hole.name))
            button.setCheckable(True)
            button.setFont(font(11, True))
            button.setMinimumWidth(64)
            button.setToolTip(tip(f"The pin goes through hole {hole.name}"))
            button.setAccessibleName(
                f"Hole {hole.name}, offset {hole.offset_deg:g} deg, drilled at {hole.drilled_deg:g} deg"
            )
            button.clicked.connect(lambda _on=False, name=hole.name: self.chosen.emit(name))
            self._group.addButton(button)
            row, column = divmod(place, _HOLES_ACROSS)
            numbers = second(
                f"offset {hole.offset_deg:g} deg\ndrilled {hole.drilled_deg:g} deg", 8.5, wraps=False
            )
            self._grid.addWidget(button, 2 * row, column)
            self._grid.addWidget(numbers, 2 * row + 1, column)
            self.buttons[hole.name] = button
        self._grid.setColumnStretch(_HOLES_ACROSS, 1)


class SeatPanel(QWidget):
    """Bearings, hole, stops, the sentence, the list and the best.

    Signals:
        typed(float): a bearing was typed.
        best_wanted(): turn to the best.
        season_wanted(): what many evenings are.
        pass_chosen(int): index of the pass whose row was chosen.
    """

    typed = Signal(float)
    best_wanted = Signal()
    season_wanted = Signal()
    pass_chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("The seat in numbers")
        self.true_bearing = label(27, bold=True, name="keyway, degrees true")
        self.magnetic = label(16, name="keyway, degrees magnetic", rank="second")
        self.magnetic_unit = label(11, name="unit", rank="second")
        self.field = NumberField(
            "Keyway bearing", "degrees true", decimals=1, quantity=QUANTITIES["mount.keyway_bearing_deg"]
        )
        self.field.setToolTip("Where the keyway points, degrees true")
        self.field.value_edited.connect(self.typed)
        self.season = push_button(
            "Season...",
            self.season_wanted.emit,
            tip="Where the stops are met least over many evenings, and where to drill",
        )
        self.limits = LimitsPart()
        self.forbidden = label(9.5, name="what forbids the bearing", rank="alarm")
        self.forbidden.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.points = second("The keyway points to", 9.5, wraps=False)
        self.holes = HoleChooser()
        self.stops = (
            label(11.5, bold=True, name="counter-clockwise stop"),
            label(11.5, bold=True, name="clockwise stop"),
        )
        self.travel = second("", 9, "travel")
        self.sentence = label(13, bold=True, name="what is lost here", wraps=True)
        self.details = second("", 10, "how they are served")
        self.list = TroubleList()
        self.list.setMinimumHeight(70)
        self.reason = label(9.5, name="why", wraps=True)
        self.best = QPushButton()
        self.best.setProperty("main", True)
        self.best.setFont(font(12.5, True))
        self.best.setMinimumHeight(44)
        self.best.setToolTip("Bearing and hole in one step")
        self.best.clicked.connect(self.best_wanted)
        self.other = second("", 9.5, "the other answer")
        self.tolerances = second("", 10, "tolerances of the best seat")
        self.second_best = second("", 10, "second best seat")
        self.others = second("", 9.5, "best seat of each hole")
        selection = self.list.selectionModel()
        selection.currentChanged.connect(self._row_chosen)
        self._quiet = False
        self._folded: object = None
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        first = QHBoxLayout()  # one line of words or the other, so that nothing moves for an alarm
        first.addWidget(self.points)
        first.addWidget(self.forbidden, 1)
        column.addLayout(first)
        column.addLayout(self._bearings_row())
        column.addLayout(self._field_row())
        column.addSpacing(6)
        column.addWidget(self.holes)
        column.addSpacing(4)
        column.addLayout(self._stops_grid())
        column.addWidget(self.travel)
        # Rows come and go here, where only the list below gives way to them.
        column.addWidget(self.limits)
        column.addSpacing(4)
        column.addWidget(self.sentence)
        column.addWidget(self.details)
        column.addWidget(self.list, 1)
        column.addWidget(self.reason)
        column.addSpacing(6)
        column.addWidget(self.best)
        column.addWidget(self.other)
        column.addWidget(self.tolerances)
        column.addWidget(self.second_best)
        column.addWidget(self.others)
        column.addStretch(0)

    def _bearings_row(self) -> QHBoxLayout:
        """The true bearing large and the magnetic one beside it, their units small, on one base line."""
        unit = label(13, name="unit")
        unit.setText("deg true")
        row = QHBoxLayout()
        row.setSpacing(7)
        for words, lift in ((self.true_bearing, 0), (unit, 6), (self.magnetic, 3), (self.magnetic_unit, 7)):
            words.setContentsMargins(0, 0, 0, lift)
            row.addWidget(words, 0, Qt.AlignmentFlag.AlignBottom)
        row.insertSpacing(2, 14)
        row.addStretch(1)
        return row

    def _field_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        words = label(10)
        words.setText("Set &bearing")
        words.setBuddy(self.field)
        row.addWidget(words)
        row.addWidget(self.field)
        row.addWidget(second("deg true", wraps=False))
        row.addStretch(1)
        row.addWidget(self.limits.add)
        return row

    def _stops_grid(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(2)
        for row, (words, value) in enumerate(
            zip(("Counter-clockwise stop", "Clockwise stop"), self.stops, strict=True)
        ):
            name = plain_label(words)
            name.setFont(font(10.5))
            grid.addWidget(name, row, 0)
            grid.addWidget(value, row, 1)
        grid.setColumnStretch(2, 1)
        grid.addWidget(self.season, 0, 3, 2, 1, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        return grid

    # --- showing ------------------------------------------------------------------------------------------

    def show_seat(self, above: FromAbove, mount: Mount, magnetic_deg: float | None) -> None:
        """Bearings, hole and stops."""
        _show_figure(self.true_bearing, bearing_text(above.keyway_deg))
        _show_figure(self.magnetic, "" if magnetic_deg is None else bearing_text(magnetic_deg))
        self.magnetic_unit.setText("" if magnetic_deg is None else "deg magnetic")
        self.field.show_value(round(above.keyway_deg, 2))
        self.holes.show_holes(mount.index_holes, mount.index_hole)
        for shown, stop in zip(
            self.stops, (above.counter_clockwise_stop_deg, above.clockwise_stop_deg), strict=True
        ):
            shown.setText(f"{bearing_text(stop)} deg true")
        self.travel.setText(travel_words(mount))

    def show_outcome(
        self, sentence: str, alarm: bool, details: str, rows: Sequence[TroubleRow], chosen: int
    ) -> None:
        """The sentence and the list; ``chosen`` is the index of the chosen pass, -1 for none."""
        show_rank(self.sentence, "alarm" if alarm else "")
        self.sentence.setText(sentence)
        self.details.setText(details)
        self.details.setVisible(bool(details))
        self._quiet = True
        self.list.rows.set_rows(tuple(rows))
        at = self.list.row_of(chosen)
        if at != self.list.currentIndex().row():
            self.list.setCurrentIndex(self.list.rows.index(at))
        self._quiet = False
        self.list.setVisible(bool(rows))
        reason = rows[at].reason if at >= 0 else ""
        self.reason.setText(reason)
        self._give_way()

    def show_forbidden(self, words: str) -> None:
        """What forbids the bearing where the keyway stands; empty where nothing does."""
        self.forbidden.setText(words)
        self.forbidden.setToolTip(tip(words))
        self.forbidden.setVisible(bool(words))
        self.points.setVisible(not words)

    def show_other(self, words: str) -> None:
        """Which answer the button follows, or what the other one says."""
        self.other.setText(words)
        self._give_way()

    def show_best(self, words: str, there: bool, tolerances: str, second_best: str, others: str) -> None:
        """The button and what is said under it; without words there is no best yet."""
        self.best.setVisible(bool(words))
        self.best.setText(f"It stands at the best: {words}" if there else f"Turn to the best: {words}")
        self.best.setAccessibleName(self.best.text())
        self.best.setEnabled(not there)
        self.tolerances.setText(tolerances)
        self.second_best.setText(second_best)
        self.others.setText(others)
        more = " ".join(filter(None, (self.other.text(), tolerances, second_best, others)))
        self.best.setToolTip(tip(f"Bearing and hole in one step (Enter on the picture). {more}".rstrip()))
        self._give_way()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._give_way()
        layout = self.layout()
        if layout is not None:
            layout.activate()
        super().resizeEvent(event)

    def event(self, event: QEvent) -> bool:
        done = super().event(event)
        if event.type() == QEvent.Type.LayoutRequest:  # a part has another height than it had
            self._give_way()
        return done

    def _give_way(self) -> None:
        """In a low window what can be read elsewhere folds away; the first of it has the room there is."""
        self.limits.keep_row(self.height() >= _ROOMY)
        layout = self.layout()
        folding = (self.tolerances, self.other, self.second_best, self.reason, self.others)
        others = (self.sentence, self.details, self.list, self.best)
        words = [part.text() for part in (*folding, self.sentence)]
        state = (self.size(), len(self.limits.whys), words, [part.isHidden() for part in others])
        if layout is None or (state, layout.totalMinimumHeightForWidth(self.width())) == self._folded:
            return
        there = all(part.isHidden() != bool(part.text()) for part in folding)
        if there and layout.totalMinimumHeightForWidth(self.width()) <= self.height():
            self._folded = state, layout.totalMinimumHeightForWidth(self.width())
            return  # as it would come out
        for part in folding:
            part.hide()
        for part in folding:
            part.setVisible(bool(part.text()))
            if layout.totalMinimumHeightForWidth(self.width()) > self.height():
                part.hide()
        self._folded = state, layout.totalMinimumHeightForWidth(self.width())

    def set_scheme(self, scheme: Scheme) -> None:
        """Other colours."""
        self.list.set_scheme(scheme)
        style = checked_style("QPushButton", scheme)
        if style != self.holes.styleSheet():
            self.holes.setStyleSheet(style)

    def _row_chosen(self) -> None:
        row = self.list.currentIndex().row()
        if not self._quiet and 0 <= row < len(self.list.rows.rows):
            self.pass_chosen.emit(self.list.rows.rows[row].index)


def _show_figure(shown: QLabel, text: str) -> None:
    """A bearing, its last digit where it always is; the label's own hint does not count tabular digits."""
    shown.setText(text)
    shown.setAlignment(Qt.AlignmentFlag.AlignRight)
    digit = shown.fontMetrics().horizontalAdvance("0")
    shown.setMinimumWidth(len("359.9") * digit - digit // 2 if text else 0)
