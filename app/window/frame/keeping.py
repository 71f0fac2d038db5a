"""No work is lost: spare copies, what others do to the plan's file, what an earlier window left behind."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from PySide6.QtCore import QObject, Slot

from app.window.frame.notices import Act, Notices
from app.window.frame.plan_files import PlanFiles, beside_name
from app.window.state.autosave import Autosave
from app.window.state.document import Document
from app.window.state.file_watch import FileState, FileWatch
from core.base.errors import NorthkeyError
from core.base.times import clock as clock_words
from core.base.times import to_datetime
from core.base.whole_files import stamp_of
from core.base.words import counted
from core.plan.document import Plan
from core.plan.spare import Spare
from core.plan.storage import read_plan

_FILE, _LEFT, _NOT_KEPT = "file", "left behind", "not kept"


class Keeping(QObject):
    """Watches over the document of one window, and tells in its notices."""

    def __init__(
        self,
        document: Document,
        files: PlanFiles,
        notices: Notices,
        folder: Path | None,
        clock: Callable[[], float],
        parent: QObject | None = None,
    ) -> None:
        """``folder``: where spare copies are kept; None keeps none."""
        super().__init__(parent)
        self._document, self._files, self._notices = document, files, notices
        self.autosave = None if folder is None else Autosave(document, folder, clock, self)
        elsewhere = self.autosave.is_open_elsewhere if self.autosave else lambda _path: False
        self.watch = FileWatch(document, elsewhere, self)
        self.watch.changed.connect(self._show_file)
        files.look = self.watch.look_now
        if self.autosave is not None:
            self.autosave.failed.connect(self._show_not_kept)

    def keep_now(self) -> None:
        """The program is being ended: what is in no file is kept."""
        if self.autosave is not None:
            self.autosave.keep_now()

    def close(self, keeps: bool = False) -> None:
        """The window closes; ``keeps`` leaves the spare copy."""
        self.watch.close()
        if self.autosave is not None and not keeps:
            self.autosave.end()

    # --- the file -----------------------------------------------------------------------------------------

    @Slot()
    def _show_file(self) -> None:
        found, path = self.watch.found, self._document.path
        if found.state is FileState.SAME or path is None:
            self._notices.clear(_FILE)
            return
        beside = Act(
            "Save beside...",
            lambda: self._files.ask_save(name=beside_name(path)),
            "The plan here into a file of another name",
        )
        if found.state is FileState.GONE:
            again = Act("Write it again", lambda: self._files.write(path), "The plan here, where it was")
            self._notices.tell(_FILE, f"{path.name} is no longer there: moved or deleted.", again, beside)
        elif found.state is FileState.OPEN_ELSEWHERE:
            words = f"{path.name} is open in another window too: what is saved last stays."
            self._notices.tell(_FILE, words, beside)
        else:
            theirs = found.theirs
            take = Act(
                "Take theirs",
                lambda: None if theirs is None else self._document.take(theirs, found.stamp),
                "What is in the file now; undo brings back what is here",
            )
            mine = Act("Keep mine", lambda: self._files.write(path), "The plan here over what is in the file")
            reads = (take, mine) if theirs is not None else (mine,)
            damage = "" if theirs is not None else ", and holds no plan that can be read"
            self._notices.tell(_FILE, f"{path.name} was changed by others{damage}.", *reads, beside)

    # --- what was left behind -----------------------------------------------------------------------------

    def offer_left_behind(self) -> None:
        """Tell the latest of what windows that run no more have left in no file."""
        left = self.autosave.left_behind() if self.autosave else ()
        if not left:
            self._notices.clear(_LEFT)
            return
        file, spare = left[0]
        self._notices.tell(
            _LEFT,
            left_words(spare),
            Act("Open it", lambda: self._files.after_unsaved(lambda: self._open(file, spare))),
            Act("Throw it away", lambda: self._throw_away(file), "It cannot be brought back"),
            Act("Later", lambda: self._notices.clear(_LEFT), "It is offered again at the next start"),
        )

    def _open(self, file: Path, spare: Spare) -> None:
        if spare.plan is None or self.autosave is None:
            return
        path, saved, stamp = None, None, None
        if spare.file is not None:
            with suppress(NorthkeyError):
                stamp = stamp_of(spare.file)
                path, saved = spare.file, read_plan(spare.file)
        self._document.start_unsaved(spare.plan, path, saved, stamp)
        self.autosave.keep_now()  # before the other copy goes
        self._throw_away(file)

    def _throw_away(self, file: Path) -> None:
        if self.autosave is not None:
            self.autosave.throw_away(file)
        self.offer_left_behind()

    @Slot(str)
    def _show_not_kept(self, reason: str) -> None:
        self._notices.tell(
            _NOT_KEPT,
            f"Edits are not kept should the program be ended: {reason}. Save the plan.",
            Act("Save", self._files.save),
            Act("Close", lambda: self._notices.clear(_NOT_KEPT)),
        )


def left_words(spare: Spare) -> str:
    """What a spare copy holds, of which file, and from when."""
    plan = spare.plan
    assert isinstance(plan, Plan)
    kept = to_datetime(spare.kept_utc_s)
    of = "" if spare.file is None else f" of {spare.file.name}"
    holds = f"{counted(len(plan.satellites), 'satellite')}, {counted(len(plan.picks), 'pick')}"
    return (
        f"Unsaved edits{of} from {kept:%Y-%m-%d} {clock_words(spare.kept_utc_s)} UTC: "
        f"\N{LEFT DOUBLE QUOTATION MARK}{plan.title}\N{RIGHT DOUBLE QUOTATION MARK}, {holds}."
    )
