"""Other fields beside the open plan, in a window of their own that stays open while the plan is edited."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QCheckBox, QDialog, QFileDialog, QHBoxLayout, QProgressBar, QVBoxLayout, QWidget

from app.window.look.scheme import font
from app.window.pages.site.fields.state import Fields
from app.window.pages.site.fields.table import FieldTable
from app.window.state.context import Context
from app.window.widgets.labels import heading, keep_room, label, push_button, second
from core.base.words import counted
from core.compare import MOST, Comparison

#: Files that are told one by one.
_MOST_TOLD = 4
_FILTER = "Northkey plans (*.northkey.json);;JSON files (*.json);;All files (*)"
_SIZE_PX, _LEAST_PX = (880, 540), 740


class FieldsDialog(QDialog):
    """Shows `Fields` and passes on what is done to them."""

    def __init__(self, context: Context, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Compare fields")
        self.setFont(font(11))
        self._context = context
        self.fields = Fields(context, self)
        self.table = FieldTable(context)
        self.same = QCheckBox("The open plan's e&vening at every field")
        self.same.setAccessibleName("the open plan's evening at every field")
        self.same.setToolTip(
            "Hours, satellites, picks, minimum elevation, mount and rules of the open plan; "
            "of the others only place, horizon and what belongs to their ground"
        )
        self.same.setChecked(self.fields.same_evening)
        self.answer = label(12, bold=True, name="what the comparison says", wraps=True)
        self.told = second("", 10, "what is to be known of the fields")
        self.refused = label(10, name="plan files that were not taken", rank="alarm", wraps=True)
        self.state = second("", 10, "whether the figures are of the present plans")
        self.bar = QProgressBar()
        self.add_button = push_button("&Add plan files...", self.ask_for_files, tip="Up to four fields")
        self.remove_button = push_button(
            "&Remove", self.remove_chosen, "Remove the chosen field", "Without the chosen field (Delete)"
        )
        self.stop_button = push_button("&Stop", self.fields.stop, "Stop comparing", "Stop comparing")
        self.again_button = push_button(
            "Compare a&gain", self.fields.ask_again, tip="Work out what was stopped"
        )
        self.close_button = push_button("Close", self.close, tip="Close (Esc); the fields are kept")
        self._build()
        self._connect()
        self._show()

    def _build(self) -> None:
        self.bar.setMaximumSize(130, 8)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("progress of the comparison")
        for shown in (self.bar, self.stop_button):
            keep_room(shown)
        way = QHBoxLayout()
        way.setSpacing(12)
        way.addWidget(self.state, 1)
        for widget in (self.bar, self.stop_button, self.again_button):
            way.addWidget(widget)
        buttons = QHBoxLayout()
        buttons.setSpacing(12)
        for button in (self.add_button, self.remove_button):
            buttons.addWidget(button)
        buttons.addStretch(1)
        buttons.addWidget(self.close_button)
        for button in (self.add_button, self.remove_button, self.stop_button, self.again_button):
            button.setAutoDefault(False)
        self.close_button.setAutoDefault(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(26, 20, 26, 18)
        column.setSpacing(10)
        column.addWidget(heading("The evening at other fields", 17))
        column.addWidget(self.same)
        column.addWidget(self.table, 1)
        column.addWidget(self.answer)
        column.addWidget(self.told)
        column.addWidget(self.refused)
        column.addLayout(way)
        column.addLayout(buttons)
        self.setMinimumWidth(_LEAST_PX)
        self.resize(*_SIZE_PX)

    def _connect(self) -> None:
        self.fields.changed.connect(self._show)
        self.fields.progressed.connect(self._show_progress)
        self.same.toggled.connect(self.fields.take_same_evening)
        self.table.remove_wanted.connect(self.remove_chosen)
        self.table.selectionModel().selectionChanged.connect(lambda _now, _before: self._enable())

    # --- doing --------------------------------------------------------------------------------------------

    def ask_for_files(self) -> None:
        """Open the dialog for plan files."""
        path = self._context.document.path
        dialog = QFileDialog(
            self, "Plans of other fields", str(path.parent if path else Path.home()), _FILTER
        )
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
        dialog.filesSelected.connect(lambda names: self.fields.add([Path(name) for name in names]))
        dialog.open()

    def remove_chosen(self) -> None:
        """Without the chosen field; the next one is chosen then."""
        row = self.table.chosen
        if row > 0:
            self.fields.remove(row)
            self.table.choose(min(row, len(self.fields.others)))

    # --- showing ------------------------------------------------------------------------------------------

    @Slot()
    def _show(self) -> None:
        fields = self.fields
        self.table.grid.show_rows(fields.rows)
        compared = fields.comparison
        self.answer.setText("" if compared is None else "\n".join(compared.sentences))
        self.told.setText("" if compared is None else "\n".join(_unmatched(compared)))
        self.refused.setText("\n".join(_first(fields.refused)))
        for shown in (self.answer, self.told, self.refused):
            shown.setVisible(bool(shown.text()))
        if not fields.working:
            self.state.setText(self._rest_words())
        elif not self.bar.isVisibleTo(self):
            self.state.setText("Being compared." + self._stale_words())
            self.bar.setRange(0, 0)
        self._enable()
        self._make_room()

    def _make_room(self) -> None:
        """Grow downward as far as the screen goes, where there is more to say than there is room for."""
        layout = self.layout()
        needed = 0 if layout is None else layout.totalHeightForWidth(self.width())
        most = self.screen().availableGeometry().height()
        if self.height() < min(needed, most):
            self.resize(self.width(), min(needed, most))

    def _rest_words(self) -> str:
        """What there is to say while nothing is worked out."""
        fields = self.fields
        if fields.failure:
            return f"Not compared: {fields.failure}."
        if not fields.others:
            return "Add the plan files of other fields: each has its place and its horizon."
        return "" if fields.comparison is not None else "Not compared yet." + self._stale_words()

    def _stale_words(self) -> str:
        stale = any(row.stale for row in self.fields.rows)
        return " Figures in italics are of the plan before." if stale else ""

    @Slot(str, int, int)
    def _show_progress(self, what: str, done: int, total: int) -> None:
        self.bar.setRange(0, total)
        self.bar.setValue(done)
        self.state.setText(f"{what.capitalize()}.{self._stale_words()}")

    def _enable(self) -> None:
        fields = self.fields
        self.bar.setVisible(fields.working)
        self.stop_button.setVisible(fields.working)
        offered = bool(fields.others) and fields.comparison is None and not fields.working
        self.again_button.setVisible(offered)
        self.add_button.setEnabled(len(fields.others) < MOST - 1)
        self.remove_button.setEnabled(self.table.chosen > 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._make_room()  # what wraps wants more height in less width

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.fields.watch(True)

    def hideEvent(self, event: QHideEvent) -> None:
        self.fields.watch(False)
        super().hideEvent(event)


def _first(refused: tuple[str, ...]) -> list[str]:
    """As many sentences as there is room for, and how many more there are."""
    more = len(refused) - _MOST_TOLD
    return [*refused[:_MOST_TOLD], *([f"and {counted(more, 'other file')}."] if more > 0 else [])]


def _unmatched(compared: Comparison) -> list[str]:
    """For each field, which picks mean no pass of their own there: the first, and how many more."""
    told = []
    for name, sentences in zip(compared.names, compared.unmatched, strict=True):
        if sentences:
            more = len(sentences) - 1
            told.append(f"{name}: {sentences[0]}" + (f" So are {counted(more, 'other')}." if more else ""))
    return told
