"""Plan files from the window: open, save, new, demo, and the question before unsaved edits are lost."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtWidgets import QWidget

from app.window.state.document import Document
from app.window.state.file_watch import FileState, Found
from app.window.state.runner import Runner
from app.window.widgets.plain import add_answers, question_box
from core.base.errors import NorthkeyError
from core.base.files import read_head
from core.base.whole_files import Stamp, stamp_of
from core.place.site import Site
from core.plan.document import FORMAT, Evening, Plan
from core.plan.storage import read_plan

SUFFIX = ".northkey.json"
_FILTERS = (f"Northkey plans (*{SUFFIX})", "All files (*)")
#: What a new plan has of the one before: where it is, and neither its hills nor its mount.
_POSITION = ("latitude_deg", "longitude_deg", "height_m", "time_zone")
#: How far into a file its format is looked for.
_HEAD_BYTES = 4096
#: A file of so many bytes is read within a blink; a larger one in a thread of its own.
_BLINK_BYTES = 512 * 1024
_READ = "open plan"


def is_plan_file(path: Path) -> bool:
    """Whether a dropped file is a plan: by its name, or by saying so near its beginning."""
    if path.name.endswith(SUFFIX):
        return True
    if path.suffix.casefold() != ".json":
        return False
    with suppress(NorthkeyError):
        return FORMAT.encode() in read_head(path, _HEAD_BYTES)
    return False


def fresh_plan(plan: Plan, now_utc_s: float) -> Plan:
    """A plan at the same position, for tonight; all else is left to its defaults.

    Tonight is sunset to midnight of the day it is there now; where the Sun does not set, the hours stay.
    """
    from core.place.hours import sunset_to_midnight
    from core.place.zones import local_time, resolve_time_zone

    evening = plan.evening
    with suppress(NorthkeyError):
        zone = resolve_time_zone(plan.site)
        start, end = sunset_to_midnight(plan.site, local_time(now_utc_s, zone).date().isoformat(), zone)
        evening = Evening(start=start, end=end)
    kept = {name: getattr(plan.site, name) for name in _POSITION if name in plan.site.model_fields_set}
    return Plan(site=Site(**kept), evening=evening)


def beside_name(path: Path) -> str:
    """A name for a plan beside another: ``evening (mine).northkey.json``."""
    stem = path.name.removesuffix(SUFFIX)
    return f"{stem} (mine){SUFFIX}"


class PlanFiles(QObject):
    """Asks for files and keeps the document and them together.

    Signals:
        failed(str title, str sentence): a file was not opened or not written; nothing changed.
    """

    failed = Signal(str, str)

    def __init__(self, document: Document, window: QWidget) -> None:
        super().__init__(window)
        self._document, self._window = document, window
        #: Tells what has become of the plan's file; by default it is not looked at.
        self.look: Callable[[], Found] = lambda: Found(FileState.SAME)
        self._runner: Runner | None = None

    def folder(self) -> Path:
        """Where dialogs start."""
        return self._document.path.parent if self._document.path else Path.home()

    def ask_open(self) -> None:
        """Ask for a plan file and open it."""
        self.after_unsaved(self._open_dialog)

    def _open_dialog(self) -> None:
        from PySide6.QtWidgets import QFileDialog

        dialog = QFileDialog(self._window, "Open plan", str(self.folder()))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setNameFilters(_FILTERS)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda name: self.open(Path(name)))
        dialog.open()

    def read_beside(self, runner: Runner) -> None:
        """Read large files in the runner's thread, where they can be cancelled."""
        self._runner = runner
        runner.finished.connect(self._on_read)

    def open(self, path: Path) -> None:
        """Open a plan file, a large one when it is read; a bad one is told and changes nothing."""
        stamp = stamp_of(path)
        if self._runner is not None and stamp is not None and stamp.size > _BLINK_BYTES:
            self._runner.request(
                _READ,
                f"Reading {path.name}",
                lambda _memo, progress: (path, stamp, read_plan(path, progress)),
            )
            return
        try:
            self._document.open(path)
        except NorthkeyError as error:
            self.failed.emit("Plan not opened", str(error))

    @Slot(str, object)
    def _on_read(self, kind: str, answer: tuple[Path, Stamp, Plan]) -> None:
        if kind == _READ:
            path, stamp, plan = answer
            self.after_unsaved(lambda: self._document.start(plan, path, stamp))

    def save(self, then: Callable[[], None] | None = None) -> None:
        """Write the plan to its file, or ask for one; ``then`` is done when it is written."""
        if self._document.path is None:
            self.ask_save(then)
        else:
            self.save_to(self._document.path, then)

    def ask_save(self, then: Callable[[], None] | None = None, name: str = "") -> None:
        """Ask for a file, with a name to begin from, and write the plan to it."""
        from PySide6.QtWidgets import QFileDialog

        dialog = QFileDialog(self._window, "Save plan as", str(self.folder()))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setNameFilters(_FILTERS)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(SUFFIX.lstrip("."))
        dialog.selectFile(name or (self._document.path.name if self._document.path else f"evening{SUFFIX}"))
        dialog.fileSelected.connect(lambda name: self.save_to(Path(name), then))
        dialog.open()

    def save_to(self, path: Path, then: Callable[[], None] | None = None) -> None:
        """Write the plan; asks first where others have changed its file, or it is gone."""
        found = self.look() if path == self._document.path else Found(FileState.SAME)
        if found.state in {FileState.CHANGED, FileState.GONE}:
            self._ask_over(path, found, then)
        else:
            self.write(path, then)

    def _ask_over(self, path: Path, found: Found, then: Callable[[], None] | None) -> None:
        gone = found.state is FileState.GONE
        box = question_box(
            self._window,
            "File gone" if gone else "File changed by others",
            f"{path.name} is no longer there." if gone else f"{path.name} was changed by others.",
            "Write it again, or save the plan beside?"
            if gone
            else "Write yours over it, take theirs in here, or save yours beside it?",
        )
        theirs = found.theirs
        take = () if theirs is None else (("&Take theirs", lambda: self._document.take(theirs, found.stamp)),)
        add_answers(
            box,
            ("Save &beside...", lambda: self.ask_save(then, beside_name(path))),
            ("&Write it again" if gone else "&Keep mine", lambda: self.write(path, then)),
            *take,
            ("&Not now", None),
        )
        box.open()

    def write(self, path: Path, then: Callable[[], None] | None = None) -> None:
        """Write the plan over whatever is there; what goes wrong is told, and then nothing follows."""
        try:
            self._document.save(path)
        except NorthkeyError as error:
            self.failed.emit("Plan not saved", str(error))
            return
        if then is not None:
            then()

    def start(self, make: Callable[[], Plan]) -> None:
        """Begin afresh with a plan that is in no file."""
        self.after_unsaved(lambda: self._document.start(make()))

    def after_unsaved(self, go_on: Callable[[], None]) -> None:
        """Go on at once, or ask first where edits would be lost."""
        if not self._document.unsaved:
            go_on()
            return
        box = question_box(
            self._window,
            "Unsaved edits",
            f"\N{LEFT DOUBLE QUOTATION MARK}{self._document.plan.title}"
            "\N{RIGHT DOUBLE QUOTATION MARK} has edits that are in no file.",
        )
        add_answers(
            box, ("&Save first", lambda: self.save(go_on)), ("&Lose them", go_on), ("S&tay here", None)
        )
        box.open()
