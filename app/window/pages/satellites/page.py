"""The Satellites page: element sets in and out, ages, refusals, which satellites are wanted and how much."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QSplitter,
    QTableView,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import font
from app.window.page import Page
from app.window.pages.satellites.refusals import Refusals
from app.window.pages.satellites.roster_model import COLUMN_KEYS, RosterModel, cell_width
from app.window.pages.satellites.traffic import Traffic
from app.window.pages.satellites.want_box import WantBox
from app.window.state.context import Context
from app.window.widgets.fields import NumberField
from app.window.widgets.kept_layout import is_by_hand, keep_layout
from app.window.widgets.labels import heading, keep_room, label, push_button, second
from app.window.widgets.plain import plain_label
from app.window.widgets.refusal import RefusalNote
from app.window.widgets.tables import SortProxy, dress_table, sort_by_heads
from core.base.edits import changed
from core.base.errors import ElementsError, NorthkeyError, PropagationError
from core.base.typed import page_words, read_quantity
from core.elements.age import grade_age
from core.passes.track import Pass
from core.plan.document import Plan
from core.plan.quantities import QUANTITIES
from core.plan.roster import Roster, renamed, with_wanted, with_worth, without

#: What lies left and right of the table's cells: the page's margins, frame and scroll bar.
_SIDES = 2 * 22 + 2 + 12
#: Room that the name takes before the other columns do.
_NAME_ROOM = 110
_EMPTY = (
    "No satellites yet. Import an element file, or drop one anywhere on this window: two-line sets, "
    "or orbit mean-elements messages as JSON, CSV, KVN or XML."
)


class SatellitesPage(Page):
    """Table of the plan's sets, with what was refused below it."""

    title = "Satellites"

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.traffic = Traffic(context, self)
        self.model = RosterModel(self)
        self.rows = SortProxy(self.model, self)
        self.want_box = WantBox(self)
        self.table = self._table()
        self.note = RefusalNote(self.table.viewport())
        self.refusals = Refusals()
        self.summary = second("", 10, "summary")
        self.news = label(10, name="what the last import did", wraps=True)
        self.news_close = QToolButton()
        self.news_close.setText("Close")
        self.news_close.setToolTip("Take note of it")
        self.news_close.setAccessibleName("Close the news of the import")
        self.news_close.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        keep_room(self.news_close)
        self.import_button = push_button(
            "&Import elements...",
            self.ask_for_files,
            tip="Read element files into the plan (Ctrl+I), or drop them here",
        )
        self.export_button = push_button(
            "E&xport...", self.traffic.ask_where_to_write, tip="Write the plan's element sets into a file"
        )
        self.want_button = push_button(
            "&Want", lambda: self._want_selected(True), tip="Pick every pass of these satellites (Space)"
        )
        self.unwant_button = push_button(
            "Want &no more", lambda: self._want_selected(False), tip="Drop all picks of these satellites"
        )
        self.remove_button = push_button(
            "&Remove", self.remove_selected, tip="Out of the plan, with their picks (Delete)"
        )
        self.oldest = NumberField(
            "Elements at most so many days old or ahead",
            "days",
            1,
            quantity=QUANTITIES["maximum_element_age_days"],
        )
        self.oldest.setToolTip("Sets further from the evening's start, either way, are refused")
        self.oldest.setMaximumWidth(80)
        self.empty = label(13, name="what to do first", wraps=True)
        self.empty.setText(_EMPTY)
        self._shown: tuple[object, ...] = ()
        self._build()
        self.traffic.said.connect(self._say)
        self.traffic.refused.connect(self._on_refused)
        self.traffic.failed.connect(lambda title, sentence: self.failed.emit(title, sentence, ""))

    def _build(self) -> None:
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addWidget(heading("Satellites", 16))
        top.addSpacing(12)
        top.addWidget(self.summary, 1)
        for button in (self.import_button, self.export_button):
            top.addWidget(button)
        news = QHBoxLayout()
        news.addWidget(self.news, 1)
        news.addWidget(self.news_close, 0, Qt.AlignmentFlag.AlignTop)
        below = QHBoxLayout()
        for button in (self.want_button, self.unwant_button, self.remove_button):
            below.addWidget(button)
        below.addWidget(second("of the rows selected", 9), 1)
        below.addWidget(plain_label("Elements at &most", buddy=self.oldest))
        below.addWidget(self.oldest)
        below.addWidget(second("days old", 9))
        upper = QWidget()
        inner = QVBoxLayout(upper)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addWidget(self.empty, 1)
        inner.addWidget(self.table, 1)
        inner.addLayout(below)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.setAccessibleName("satellites above, refusals below")
        split.addWidget(upper)
        split.addWidget(self.refusals)
        split.setStretchFactor(0, 3)
        split.setStretchFactor(1, 1)
        keep_layout(split, "satellites")
        keep_layout(self.table, "satellites_columns")
        column = QVBoxLayout(self)
        column.setContentsMargins(22, 18, 22, 14)
        column.setSpacing(10)
        column.addLayout(top)
        column.addLayout(news)
        column.addWidget(split, 1)
        self._say("")
        self.news_close.clicked.connect(lambda: self._say(""))
        self.refusals.dismissed.connect(self._tell_count)
        self.oldest.value_edited.connect(self._set_oldest)
        self.model.name_edited.connect(self._rename)
        self.model.worth_edited.connect(self._set_worth)
        self.model.wanted_edited.connect(self._want)
        self.table.selectionModel().selectionChanged.connect(self._enable)
        self.table.selectionModel().currentChanged.connect(lambda _now, _before: self.note.tell(""))
        self.table.verticalScrollBar().valueChanged.connect(lambda _value: self.note.tell(""))
        self.table.horizontalHeader().sortIndicatorChanged.connect(lambda _column, _order: self.note.tell(""))

    def _table(self) -> QTableView:
        table = QTableView()
        table.setModel(self.rows)
        table.setItemDelegate(self.want_box)
        dress_table(table, "satellites of the plan", 30, many=True)
        sort_by_heads(table)
        table.setAccessibleDescription(
            "Space wants a satellite, F2 edits its name or worth, Delete removes it."
        )
        table.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        table.setWordWrap(False)
        header = table.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setFont(font(9))
        remove = QShortcut(QKeySequence(QKeySequence.StandardKey.Delete), table)
        remove.setContext(Qt.ShortcutContext.WidgetShortcut)
        remove.activated.connect(self.remove_selected)
        return table

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_room()

    def _share_room(self) -> None:
        """What room is left over goes to the columns alike, and to the name first."""
        if is_by_hand(self.table):
            return
        widths = {key: cell_width(key) for key in COLUMN_KEYS}
        room = max(0, self.width() - _SIDES - sum(widths.values()))
        widths["name"] += min(room, _NAME_ROOM)
        share = max(0, room - _NAME_ROOM) // len(COLUMN_KEYS)
        for place, width in enumerate(widths.values()):
            self.table.setColumnWidth(place, width + share)

    # --- showing ------------------------------------------------------------------------------------------

    def known_passes(self) -> tuple[Pass, ...] | None:
        """The result's passes, if it is of the present satellites, place and hours."""
        before, plan = self.context.result_plan, self.context.plan
        if self.context.result is None or before is None:
            return None
        same = before.satellites == plan.satellites and before.evening == plan.evening
        same = same and before.maximum_element_age_days == plan.maximum_element_age_days
        return self.context.result.passes if same and before.site == plan.site else None

    def refresh(self) -> None:
        plan, passes, scheme = self.context.plan, self.known_passes(), self.context.scheme
        refused = self._refused(plan)
        oldest = plan.maximum_element_age_days
        state = (plan.satellites, plan.picks, plan.evening, oldest, id(passes), id(refused), scheme.name)
        if self._shown and all(a is b or a == b for a, b in zip(self._shown, state, strict=True)):
            return
        self._shown = state
        self.model.scheme = self.want_box.scheme = scheme
        roster = Roster(plan, passes, refused)
        self.model.show_roster(roster)
        self.refusals.show_plan(refused)
        there = bool(len(roster))
        self.empty.setVisible(not there)
        self.table.setVisible(there)
        self.summary.setText(_summary(roster, passes))
        self.oldest.show_value(plan.maximum_element_age_days)
        self._enable()

    def _refused(self, plan: Plan) -> tuple[PropagationError, ...]:
        result, before = self.context.result, self.context.result_plan
        if result is None or before is None or before.satellites != plan.satellites:
            return ()
        return result.refused

    def count(self) -> int:
        result = self.context.result
        if result is None:
            return self.refusals.waiting
        self.refusals.show_plan(self._refused(self.context.plan))
        old = sum(grade_age(days) == "too old to trust" for _name, _number, days in result.element_ages)
        return old + self.refusals.waiting

    def _set_oldest(self, days: float) -> None:
        document, label = self.context.document, f"elements at most {days:g} days old"
        self.oldest.attempt(
            lambda: document.edit(changed(document.plan, "maximum_element_age_days", days), label)
        )

    def _tell_count(self) -> None:
        self.count_changed.emit(self.count())

    def _say(self, words: str) -> None:
        self.news.setText(words)
        self.news.setAccessibleDescription(words)
        self.news_close.setVisible(bool(words))

    def _enable(self) -> None:
        chosen = bool(self.table.selectionModel().selectedRows())
        known = self.known_passes() is not None
        self.want_button.setEnabled(chosen and known)
        self.unwant_button.setEnabled(chosen)
        self.remove_button.setEnabled(chosen)
        self.export_button.setEnabled(bool(self.context.plan.satellites))

    def seek(self, text: str) -> None:
        """Select the first satellite whose name or number holds the text."""
        place = self.model.place_of(text) if text else None
        if place is not None:
            here = self.rows.place_of(place)
            self.table.selectRow(here.row())
            self.table.scrollTo(here)

    # --- edits --------------------------------------------------------------------------------------------

    def selected(self) -> list[int]:
        """Catalogue numbers of the rows selected."""
        rows = self.table.selectionModel().selectedRows()
        return [self.model.number_at(self.rows.row_of(index)) for index in rows]

    def _edit(self, make: Callable[[Plan], Plan], label: str) -> None:
        try:
            self.context.document.edit(make(self.context.plan), label)
        except NorthkeyError as error:
            self.failed.emit("Not changed", str(error), "")

    def _name(self, number: int) -> str:
        names = (s.name for s in self.context.plan.satellites if s.elements.norad_id == number)
        return next(names, str(number))

    @Slot(object, str)
    def _rename(self, number: int, name: str) -> None:
        try:
            after = renamed(self.context.plan, number, name)
        except NorthkeyError as error:
            self._refuse(number, "name", page_words(error))
            return
        self._refuse(number, "name", "")
        self.context.document.edit(after, f"name {self._name(number)} as {name.strip()}")

    @Slot(object, str)
    def _set_worth(self, number: int, typed: str) -> None:
        try:
            worth = read_quantity(typed, QUANTITIES["picks.worth"])
        except NorthkeyError as error:
            self._refuse(number, "worth", f"{typed.strip()} was not taken. {page_words(error)}")
            return
        self._refuse(number, "worth", "")
        passes = self.known_passes() or ()

        def make(plan: Plan) -> Plan:
            return with_worth(with_wanted(plan, passes, number, True, 1.0), number, worth)

        kept = any(pick.norad_id == number for pick in self.context.plan.picks)
        label = f"worth of {self._name(number)} {worth:g}"
        self._edit((lambda plan: with_worth(plan, number, worth)) if kept else make, label)

    def _refuse(self, number: int, key: str, why: str) -> None:
        """Say beside a cell why what was typed there was not taken; stays until the next word or choice."""
        row = self.model.row_of_number(number)
        if row is None or not why:
            self.note.tell("")
        else:
            self.note.tell(why, self.table.visualRect(self.rows.place_of(row, COLUMN_KEYS.index(key))))

    @Slot(object, bool)
    def _want(self, number: int, wanted: bool) -> None:
        self._want_all([number], wanted)

    def _want_selected(self, wanted: bool) -> None:
        self._want_all(self.selected(), wanted)

    def _want_all(self, numbers: Sequence[int], wanted: bool) -> None:
        passes = self.known_passes()
        if wanted and passes is None:
            self._say("Its passes are not worked out yet; want it when they are.")
            return
        none = [n for n in numbers if wanted and not any(p.norad_id == n for p in passes or ())]
        if none:
            self._say(f"{', '.join(self._name(n) for n in none[:5])}: no pass tonight that could be picked.")

        def make(plan: Plan) -> Plan:
            for number in numbers:
                plan = with_wanted(plan, passes or (), number, wanted)
            return plan

        what = self._name(numbers[0]) if len(numbers) == 1 else f"{len(numbers)} satellites"
        self._edit(make, f"{'want' if wanted else 'do not want'} {what}")

    def remove_selected(self) -> None:
        """Take the selected satellites and their picks out of the plan."""
        numbers = self.selected()
        if numbers:
            what = self._name(numbers[0]) if len(numbers) == 1 else f"{len(numbers)} satellites"
            self._edit(lambda plan: without(plan, numbers), f"remove {what}")

    # --- sets in and out ----------------------------------------------------------------------------------

    def ask_for_files(self) -> None:
        """Open the dialog for element files."""
        self.traffic.ask_for_files()

    def take_files(self, files: list[Path]) -> None:
        """Read element files into the plan."""
        self.traffic.take_files(files)

    def write_elements(self, path: Path) -> None:
        """Write the plan's element sets as OMM in the form the suffix says."""
        self.traffic.write_elements(path)

    @Slot(object)
    def _on_refused(self, errors: Sequence[ElementsError]) -> None:
        self.refusals.add(errors)
        self._tell_count()


def _summary(roster: Roster, passes: tuple[Pass, ...] | None) -> str:
    if not len(roster):
        return ""
    many = f"{len(roster):,} satellite{'s' if len(roster) != 1 else ''}"
    if passes is None:
        return f"{many}; their passes are being worked out"
    flown = f"{many}, {len(passes):,} passes tonight"
    if not roster.wanted_satellites:
        return f"{flown}. None is picked, so the evening chooses among all of them."
    return f"{flown}; {roster.wanted_satellites} wanted, {roster.picked_passes} passes picked"
