"""How to steer the chosen pass: the steerings side by side, worked out when they are asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QSize, Qt, Slot
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QTableWidget,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import font
from app.window.pages.evening.opened.off_chart import OffChart, steering_pen
from app.window.pages.evening.state import EveningState
from app.window.views.painting import painting
from app.window.widgets.labels import label
from app.window.widgets.plain import tip
from app.window.widgets.tables import SortCell, dress_table, sort_by_heads
from core.mount.model.results import PassCheck

if TYPE_CHECKING:  # worked out when it is asked for
    from core.base.memo import Memo
    from core.base.units import Progress
    from core.mount.steering.pass_steering import PassSteering
    from core.mount.steering.runs import SteeringRun

KIND = "steering"
_ROW_PX, _MARK_PX, _NAME_PX = 22, 22, 76
_FIRST_HEADS = ("Steering", "off", "az + el")
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class SteeringPart(QWidget):
    """A sentence, the table and the chart; it asks for its study when it is seen."""

    def __init__(self, state: EveningState, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.state = state
        self.told: PassSteering | None = None
        self._asked: PassCheck | None = None
        self.words = label(10, name="keyhole", wraps=True)
        self.table = self._table()
        self.chart = OffChart(state)
        below = QHBoxLayout()
        below.setSpacing(12)
        below.addWidget(self.table, 5)
        below.addWidget(self.chart, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.words)
        column.addLayout(below, 1)
        runner = state.context.runner
        runner.finished.connect(self._on_finished)
        runner.failed.connect(self._on_failed)
        runner.busy_changed.connect(self._on_busy)

    def _table(self) -> QTableWidget:
        table = QTableWidget()
        dress_table(table, "Steerings of the chosen pass", _ROW_PX)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setWordWrap(False)
        table.setIconSize(QSize(_MARK_PX, 12))
        header = table.horizontalHeader()
        header.setFont(font(8.5))
        header.setHighlightSections(False)
        header.setMinimumSectionSize(30)
        sort_by_heads(table)
        header.sortIndicatorChanged.connect(self._on_order)
        return table

    def _on_order(self, column: int) -> None:
        """Without a head to go by, the rows stand in their own order again."""
        if column < 0:
            self.restyle()

    # --- asking -------------------------------------------------------------------------------------------

    def follow(self) -> None:
        """Show the chosen pass, asking for its study where it is not at hand."""
        index, result = self.state.chosen, self.state.result
        if index is None or result is None:
            self._show(None, "Choose a pass.")
            self._asked = None
            return
        check = self.state.check(index)
        if check is self._asked:
            return
        self._asked = check
        self._show(None, "Working out how to steer it...")
        plan = self.state.context.evening_plan

        def study(memo: Memo, _progress: Progress) -> tuple[PassCheck, PassSteering | None]:
            from core.studies import study_pass

            return check, study_pass(plan, result, check, memo)

        self.state.context.runner.request(KIND, f"Working out how to steer {check.pass_.satellite}", study)

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind != KIND or answer[0] is not self._asked:
            return
        told = answer[1]
        if told is None:
            self._show(None, "It is out of reach: no steering follows it.")
        else:
            from core.mount.steering.pass_steering import keyhole_sentence

            self._show(told, keyhole_sentence(told, self.state.mount))

    @Slot(str, object)
    def _on_failed(self, kind: str, _error: Exception) -> None:
        if kind == KIND:
            self._forget()

    @Slot(str)
    def _on_busy(self, words: str) -> None:
        if not words and self._asked is not None and self.told is None and self.words.text().endswith("..."):
            self._forget()

    def _forget(self) -> None:
        """Cancelled or failed: the next look asks again."""
        self._asked = None
        self._show(None, "Not worked out. Close it and ask again.")

    # --- showing ------------------------------------------------------------------------------------------

    def _show(self, told: PassSteering | None, words: str) -> None:
        self.told = told
        self.words.setText(words)
        self.table.setVisible(told is not None)
        self.chart.setVisible(told is not None)
        self.chart.show_study(told)
        if told is not None:
            self._fill(told)

    def restyle(self) -> None:
        """Other colours: the marks in the table follow."""
        if self.told is not None:
            self._fill(self.told)

    def _fill(self, told: PassSteering) -> None:
        table = self.table
        names = [antenna.name for antenna in told.study.runs[0].antennas]
        measure = table.horizontalHeader().fontMetrics()
        elided = [measure.elidedText(name, Qt.TextElideMode.ElideRight, _NAME_PX) for name in names]
        heads = [*_FIRST_HEADS, *elided]
        table.setSortingEnabled(False)
        table.setColumnCount(len(heads))
        table.setHorizontalHeaderLabels(heads)
        table.setRowCount(len(told.study.runs))
        for place, row in enumerate(told.study.runs):
            for column, (words, key) in enumerate(zip(self._cells(row), _keys(place, row), strict=True)):
                item = SortCell(words, key)
                if column:
                    item.setTextAlignment(_RIGHT)
                else:
                    item.setIcon(self._mark(row.name))
                item.setFont(font(9.5, column == 0 and row.name == "best path"))
                table.setItem(place, column, item)
        table.setSortingEnabled(True)
        header = table.horizontalHeader()
        for column in range(1, len(heads)):
            head = table.horizontalHeaderItem(column)
            assert head is not None
            head.setTextAlignment(_RIGHT)
            head.setToolTip(tip(_tip(column, names)))
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        header.setStretchLastSection(True)
        if len(names) == 2:
            # Two antennas share the room there is, so that both names are read; more take what they need.
            for column in (len(heads) - 2, len(heads) - 1):
                header.setSectionResizeMode(column, QHeaderView.ResizeMode.Stretch)

    def _cells(self, row: SteeringRun) -> list[str]:
        plan = self.state.context.evening_plan
        cells = [
            f"{row.name}, in use" if row.name == plan.steering else row.name,
            f"{row.worst_off_deg:.1f}°",
            f"{row.azimuth_travel_deg:.0f}° + {row.elevation_travel_deg:.0f}°",
        ]
        costs = [f"{a.seconds_off:.0f} s, {a.worst_loss_db:.1f} dB" for a in row.antennas]
        return [*cells, *costs]

    def _mark(self, name: str) -> QIcon:
        """A piece of the steering's curve."""
        ratio = self.devicePixelRatioF()
        picture = QPixmap(round(_MARK_PX * ratio), round(12 * ratio))
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        with painting(picture) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(steering_pen(self.state.scheme, name))
            painter.drawLine(1, 6, _MARK_PX - 2, 6)
            return QIcon(picture)


def _keys(place: int, row: SteeringRun) -> list[float]:
    """What the cells of a row are ordered by."""
    travels = row.azimuth_travel_deg + row.elevation_travel_deg
    return [place, row.worst_off_deg, travels, *(antenna.seconds_off for antenna in row.antennas)]


def _tip(column: int, names: list[str]) -> str:
    """What a column says, in full."""
    fixed = (
        "",
        "Greatest angle between boresight and satellite over the mask, degrees",
        "How far azimuth and elevation turn, degrees",
    )
    if column < len(fixed):
        return fixed[column]
    return f"{names[column - len(fixed)]}: seconds off its beam over the mask, and the worst loss"
