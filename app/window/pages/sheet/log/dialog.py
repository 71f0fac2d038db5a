"""The log, in a window of its own: a row for each contact, by its number on the sheet."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QComboBox, QDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from app.window.look.scheme import font
from app.window.look.style import combo_style
from app.window.pages.sheet.log.files import LogFiles
from app.window.pages.sheet.log.state import LogNow
from app.window.pages.sheet.log.table import LogTable
from app.window.state.context import Context
from app.window.widgets.fields import LineField
from app.window.widgets.labels import heading, keep_room, label, push_button, second, show_rank
from app.window.widgets.plain import plain_label
from app.window.widgets.typed.editing import PlanEditor
from app.window.widgets.wheel import wheel_wants_focus
from core.afterwards.edits import with_noted, with_pass_worked, without_entries
from core.afterwards.rows import EveningLog, LogRow
from core.afterwards.sightings import FromLog, with_sightings
from core.afterwards.typed import read_cell
from core.afterwards.words import pass_words, summary_words, unmatched_words
from core.base.errors import NorthkeyError
from core.base.words import counted
from core.plan.document import Plan

_HOW = (
    "Type it from the paper: Enter or Tab goes on, up and down stay in the column. The dials are those at "
    "the best signal; without a time they are taken to be of the peak. Times are UTC."
)
_AS_PLANNED = " The numbers are those of the evening as planned, not as re-planned from now."
_SIZE_PX = (1256, 720)
_MOST_TOLD = 3


class LogDialog(QDialog):
    """Everything that is typed or read is an edit of the plan, one step of undo each."""

    def __init__(self, context: Context, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Log")
        self.setFont(font(11))
        self._context = context
        self.now = LogNow(context, self)
        self.editor = PlanEditor(context.document, self)
        self.files = LogFiles(context, self)
        self._log: EveningLog | None = None
        self._found: tuple[FromLog, ...] = ()
        self.summary = label(12, bold=True, name="what was worked", wraps=True)
        self.how = second(_HOW, 10, "how it is typed")
        self.table = LogTable()
        self.unmatched = label(10, name="entries without a pass", rank="alarm", wraps=True)
        self.drop_button = push_button(
            "Ta&ke them out", self._drop, tip="Take out the entries that have no row; undo brings them back"
        )
        self.effect = label(10, name="what the sightings do to the correction", wraps=True)
        self.others = QComboBox()
        self.add_button = push_button(
            "&Add", self._add, "add the pass", tip="A row for a pass that was worked without being planned"
        )
        self.sightings_button = push_button(
            "&Make sightings",
            self.make_sightings,
            tip="Put the ticked dials into the table of sightings, which the Setup page fits",
        )
        self.read_button = push_button(
            "&Read pocket file...", self.files.ask_what_to_read, tip="The file that the pocket page saved"
        )
        self.save_button = push_button(
            "&Save as CSV...", self.files.ask_where_to_save, tip="A line for each contact, for other programs"
        )
        self.close_button = push_button("Close", self.close, tip="Close (Esc); what was typed is kept")
        self.state = second("", 10, "what was read or saved last")
        self._build()
        self._connect()

    # --- laying out ---------------------------------------------------------------------------------------

    def _build(self) -> None:
        self.others.setAccessibleName("a pass that was not planned")
        self.others.setMinimumWidth(290)
        self.others.setMaximumWidth(330)
        wheel_wants_focus(self.others)
        warned = QHBoxLayout()
        warned.addWidget(self.unmatched, 1)
        warned.addWidget(self.drop_button)
        more = QHBoxLayout()
        more.addWidget(plain_label("Another &pass was worked:", buddy=self.others))
        more.addWidget(self.others)
        more.addWidget(self.add_button)
        more.addStretch(1)
        more.addWidget(self.sightings_button)
        foot = QHBoxLayout()
        foot.addWidget(self.read_button)
        foot.addWidget(self.save_button)
        foot.addSpacing(12)
        foot.addWidget(self.state, 1)
        foot.addWidget(self.close_button)
        column = QVBoxLayout(self)
        self.effect.setAlignment(Qt.AlignmentFlag.AlignRight)
        keep_room(self.effect)
        column.setContentsMargins(24, 16, 24, 14)
        column.setSpacing(8)
        column.addWidget(heading("Log: what came back from the field", 17))
        column.addWidget(self.summary)
        column.addWidget(self.how)
        column.addWidget(self.table, 1)
        column.addLayout(warned)
        column.addWidget(self.effect)
        column.addLayout(more)
        column.addLayout(foot)
        for button in self.findChildren(QPushButton):  # Enter takes what is typed, and presses nothing
            button.setAutoDefault(False)
        self.resize(*_SIZE_PX)

    def _connect(self) -> None:
        self.table.typed.connect(self._typed)
        self.table.noted.connect(lambda row, worked: self._note(row, "worked", worked=worked))
        self.table.remove_wanted.connect(self._remove)
        self.table.chosen_changed.connect(self._show_sightings)
        self.now.changed.connect(self._show_sightings)
        self.editor.refused.connect(self.tell)
        self.files.told.connect(self.tell)
        self._context.document.plan_changed.connect(self._on_plan)

    # --- edits --------------------------------------------------------------------------------------------

    @Slot(int, str, str, LineField)
    def _typed(self, place: int, key: str, text: str, field: LineField) -> None:
        row = self._row(place)
        try:
            noted = read_cell(key, text, self._context.plan.evening, row.pass_)
        except NorthkeyError as error:
            field.refuse_error(error)
            return
        self._note(place, key.replace("_", " "), field, **noted)

    def _note(self, place: int, what: str, field: LineField | None = None, **noted: object) -> None:
        row = self._row(place)
        which = row.pass_.satellite if row.number is None else f"contact {row.number}"
        before = self._context.plan
        self.editor.do(lambda plan: with_noted(plan, row, **noted), f"log of {which}: {what}", field)
        if self._context.plan is before and (field is None or not field.wrong):
            self.refresh()  # the same in other letters: it is shown as the plan has it

    def _add(self) -> None:
        log, index = self._log, self.others.currentIndex()
        if log is None or not 0 <= index < len(log.others):
            return
        check = log.others[index]
        name = check.pass_.satellite
        self.editor.do(lambda plan: with_pass_worked(plan, check), f"log of {name}: worked")
        self.table.go_to(self.table.cells[-1].azimuth)

    def _remove(self, place: int) -> None:
        entry = self._row(place).place
        if entry is not None:
            self.editor.do(lambda plan: without_entries(plan, [entry]), "remove an entry of the log")

    def _drop(self) -> None:
        if self._log is not None:
            places = [place for place, _entry in (*self._log.unmatched, *self._log.doubled)]
            self.editor.do(lambda plan: without_entries(plan, places), "remove entries without a pass")

    def make_sightings(self) -> None:
        """The ticked dials become sightings, in one edit."""
        chosen = self.table.chosen(self._found)
        if chosen:
            effect = self.effect.text()
            words = f"{counted(len(chosen), 'sighting')} from the log"
            self.editor.do(lambda plan: with_sightings(plan, chosen), words)
            done = f"{counted(len(chosen), 'sighting')} made: the Setup page fits them."
            self.tell(f"{done} {effect}" if effect.startswith("With") else done)

    def _row(self, place: int) -> LogRow:
        assert self._log is not None
        return self._log.rows[place]

    # --- showing ------------------------------------------------------------------------------------------

    @Slot(str)
    def tell(self, words: str) -> None:
        """What was done last, or why it was not."""
        self.state.setText(words)

    @Slot(object)
    def _on_plan(self, _plan: Plan) -> None:
        self.refresh()

    @Slot()
    def refresh(self) -> None:
        """The plan's log as it is now, in the present colours."""
        context = self._context
        self._log = log = self.now.log
        for shown in (self.table, self.add_button, self.others, self.save_button, self.read_button):
            shown.setEnabled(log is not None)
        self.how.setText(_HOW + (_AS_PLANNED if context.rest is not None else ""))
        if log is None:
            self.summary.setText("The evening is being worked out.")
            return
        self._found = self.now.candidates(log)
        self.summary.setText(
            summary_words(log) if log.rows else "No contact is planned in this evening: pick passes first."
        )
        self.table.show_rows(log.rows, self._found, context.plan.mount, context.scheme)
        told = unmatched_words(log, context.plan)
        more = len(told) - _MOST_TOLD
        self.unmatched.setText(" ".join(told[:_MOST_TOLD]) + (f" And {more} more." if more > 0 else ""))
        self.unmatched.setVisible(bool(told))
        self.drop_button.setVisible(bool(told))
        self._show_others(log)
        self._show_sightings()

    def _show_others(self, log: EveningLog) -> None:
        self.others.setStyleSheet(combo_style(self._context.scheme, given=True))
        words = [pass_words(check.pass_) for check in log.others]
        if [self.others.itemText(k) for k in range(self.others.count())] != words:
            self.others.clear()
            self.others.addItems(words)
        self.others.setEnabled(bool(words))
        self.add_button.setEnabled(bool(words))

    @Slot()
    def _show_sightings(self) -> None:
        chosen = self.table.chosen(self._found)
        many = counted(len(chosen), "dial")
        self.sightings_button.setText(f"&Make sightings of {many}" if chosen else "&Make sightings")
        self.sightings_button.setAccessibleName(self.sightings_button.text().replace("&", ""))
        self.sightings_button.setEnabled(bool(chosen))
        self.effect.setText(self.now.ask(chosen) if chosen and self.isVisible() else "")
        show_rank(self.effect, "second" if not chosen else "")

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.refresh()
