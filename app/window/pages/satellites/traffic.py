"""Element sets in and out of the plan: files asked for, read, chosen from and written."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtWidgets import QWidget

from app.window.pages.satellites.chooser import Chooser
from app.window.pages.satellites.file_forms import reading_dialog, writing_dialog, written
from app.window.state.context import Context
from core.base.errors import NorthkeyError
from core.base.times import format_iso
from core.base.whole_files import refuse_source, write_bytes
from core.base.words import counted
from core.elements.files import read_element_files
from core.elements.model import ElementSet
from core.elements.reading import ElementReading
from core.plan.roster import take_in

#: A reading of more sets than this is not taken whole without asking: a list of one service is taken whole,
#: a catalogue is chosen from.
MANY = 150


class Traffic(QObject):
    """Imports and exports for a page.

    Signals:
        said(str): what an import or export did, in words.
        refused(tuple of ElementsError): what a reading could not use.
        failed(str title, str sentence): the sets were read and could not be taken in.
    """

    said = Signal(str)
    refused = Signal(object)
    failed = Signal(str, str)

    def __init__(self, context: Context, page: QWidget) -> None:
        super().__init__(page)
        self._context, self._page = context, page
        context.runner.finished.connect(self._on_finished)

    def _folder(self) -> Path:
        path = self._context.document.path
        return path.parent if path else Path.home()

    # --- in -----------------------------------------------------------------------------------------------

    def ask_for_files(self) -> None:
        """Open the dialog for element files."""
        dialog = reading_dialog(self._page, self._folder())
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.filesSelected.connect(lambda names: self.take_files([Path(name) for name in names]))
        dialog.open()

    def take_files(self, files: list[Path]) -> None:
        """Read element files into the plan."""
        if files:
            names = files[0].name if len(files) == 1 else f"{len(files)} files"
            self._context.runner.request(
                "elements", f"Reading {names}", lambda _memo, progress: read_element_files(files, progress)
            )

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: object) -> None:
        if kind == "elements" and isinstance(answer, ElementReading):
            self._take_reading(answer)
        elif kind == "export elements":
            self.said.emit(str(answer))

    def _take_reading(self, reading: ElementReading) -> None:
        if reading.refused:
            self.refused.emit(reading.refused)
        notes = " ".join(f"{note}." for note in reading.notes)
        if not reading.sets:
            self.said.emit(f"Nothing was taken in: see what was refused below. {notes}".strip())
        elif len(reading.sets) <= MANY:
            self._take(reading.sets, notes)
        else:
            own = {satellite.elements.norad_id for satellite in self._context.plan.satellites}
            chooser = Chooser(reading.sets, own, self._context.scheme, self._page)
            chooser.taken.connect(lambda sets: self._take(sets, notes))
            chooser.open()

    def _take(self, sets: Sequence[ElementSet], notes: str = "") -> None:
        try:
            intake = take_in(self._context.plan, sets)
        except NorthkeyError as error:
            self.failed.emit("Elements not taken in", str(error))
            return
        size = len(intake.added) + len(intake.renewed)
        self._context.document.edit(intake.plan, f"import of {counted(size, 'element set')}")
        self.said.emit(f"{intake.words} {notes}".strip())

    # --- out ----------------------------------------------------------------------------------------------

    def ask_where_to_write(self) -> None:
        """Open the dialog for the file to write the plan's sets to."""
        dialog = writing_dialog(self._page, self._folder())
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.fileSelected.connect(lambda name: self.write_elements(Path(name)))
        dialog.open()

    def write_elements(self, path: Path) -> None:
        """Write the plan's element sets as OMM in the form the suffix says."""
        satellites, made = self._context.plan.satellites, format_iso(self._context.now_utc_s)
        sources = self._context.document.sources

        def job(*_: object) -> str:
            refuse_source(path, sources)
            sets = [s.elements.model_copy(update={"name": s.name}) for s in satellites]
            write_bytes(path, written(sets, path, made), force=True)
            return f"{len(sets)} element sets written to {path.name}."

        self._context.runner.request("export elements", f"Writing {path.name}", job, writes=True)
