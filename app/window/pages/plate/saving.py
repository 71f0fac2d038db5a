"""The shop's files into a folder, in the background; what is there already is replaced only after asking."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QFileDialog, QMessageBox, QVBoxLayout, QWidget

from app.window.state.context import Context
from app.window.widgets.labels import label, push_button, second
from app.window.widgets.plain import add_answers, question_box
from core.base.memo import Memo
from core.base.units import Progress
from core.base.whole_files import refuse_source, write_bytes
from core.base.words import counted, first_few
from core.evaluate import identity
from core.plate.part import PlatePart
from core.plate.shop.files import NO_SOLID, shop_files, writers
from core.plate.shop.solid import solids_can_be_made

SAVE = "shop files"
#: So many names are told; the others are counted.
_TOLD = 6


@dataclass(frozen=True)
class Saved:
    """What became of it.

    Attributes:
        part, folder: of what, and where.
        there: names that are there already; then nothing was written.
    """

    part: PlatePart
    folder: Path
    there: tuple[str, ...] = ()


def write_shop_files(part: PlatePart, folder: Path, sources: Sequence[Path], force: bool) -> Saved:
    """Write all of them; none where one is there already and ``force`` is off.

    Raises:
        FileProblem: one of them is what the part is made from, or cannot be written.
    """
    names = [name for name, _content in writers()]
    for name in names:
        refuse_source(folder / name, sources)
    there = tuple(name for name in names if (folder / name).exists())
    if there and not force:
        return Saved(part, folder, there)
    for name, content in shop_files(part):
        write_bytes(folder / name, content, force=force)
    return Saved(part, folder)


class FilesPart(QWidget):
    """Which files there are, and the button that saves them.

    Signals:
        saved(str): the folder they are in now.
    """

    saved = Signal(str)

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self._part: PlatePart | None = None
        self._names = [name for name, _content in writers()]
        self._no_solid = "" if solids_can_be_made() else f" {NO_SOLID}"
        #: The question whether to replace, while it is open.
        self.question: QMessageBox | None = None
        self.names = second("", 10, "files for the shop")
        self.state = label(10, name="what was saved", wraps=True)
        self.button = push_button(
            "&Save the shop's files...", self.ask_where, tip="Into a folder, all of them, in the background"
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.names)
        column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.state)
        column.addStretch(1)
        context.runner.finished.connect(self._on_finished)
        context.runner.failed.connect(self._on_failed)

    def show_part(self, part: PlatePart) -> None:
        """Another part: what was saved is of the one before."""
        if self._part is not None and part.identity != self._part.identity and self.state.text():
            self.state.setText("The part is another one now: save its files again.")
        self._part = part
        self.names.setText(f"For part {part.identity}: {', '.join(self._names)}.{self._no_solid}")

    def ask_where(self) -> None:
        """Open the dialog for the folder."""
        path = self._context.document.path
        dialog = QFileDialog(self, "Folder for the shop's files", str(path.parent if path else Path.home()))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly, True)
        dialog.fileSelected.connect(lambda name: self.save(Path(name)))
        dialog.open()

    def save(self, folder: Path, force: bool = False) -> None:
        """Write the files of the part that is shown."""
        shown, plan, sources = self._part, self._context.plan, self._context.document.sources
        if shown is None:
            return
        part = replace(shown, title=plan.title, plan_identity=identity(plan))

        def job(_memo: Memo, _progress: Progress) -> Saved:
            return write_shop_files(part, folder, sources, force)

        self.state.setText("Writing the shop's files...")
        self._context.runner.request(SAVE, "Writing the shop's files", job, writes=True)

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind != SAVE:
            return
        done: Saved = answer
        if done.there:
            self.state.setText("")
            self._ask_to_replace(done)
            return
        self.state.setText(
            f"{counted(len(self._names), 'file')} of part {done.part.identity} saved in {done.folder}."
        )
        self.saved.emit(str(done.folder))

    def _ask_to_replace(self, done: Saved) -> None:
        box = question_box(
            self,
            "Files for the shop",
            f"{counted(len(done.there), 'file')} in {done.folder.name or done.folder} would be replaced: "
            f"{first_few(done.there, _TOLD)}.",
            "Nothing has been written yet.",
        )
        add_answers(box, ("&Leave them", None), ("&Replace them", lambda: self.save(done.folder, force=True)))
        box.setEscapeButton(box.buttons()[0])
        box.finished.connect(self._forget)
        self.question = box
        box.open()

    def _forget(self) -> None:
        self.question = None

    @Slot(str, object)
    def _on_failed(self, kind: str, _error: object) -> None:
        if kind == SAVE:
            self.state.setText("The shop's files were not saved.")
