"""Whether the plan's file is still what was read or written here: others may change, replace or delete it."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from app.window.state.beside import Beside
from app.window.state.document import Document
from core.base.errors import NorthkeyError
from core.base.whole_files import Stamp, stamp_of
from core.plan.document import Plan
from core.plan.storage import read_plan

#: How often it is looked at.
_EVERY_MS = 2000


class FileState(Enum):
    """What has become of the file."""

    SAME = "same"
    CHANGED = "changed"
    GONE = "gone"
    OPEN_ELSEWHERE = "open elsewhere"


class Found(NamedTuple):
    """What a look at the file found.

    Attributes:
        state: what has become of it.
        path: which file.
        stamp: the file as it is now.
        theirs: the plan that others have written, where it reads.
    """

    state: FileState
    path: Path | None = None
    stamp: Stamp | None = None
    theirs: Plan | None = None


class FileWatch(QObject):
    """Looks at the document's file again and again.

    Signals:
        changed(): `found` is another.
    """

    changed = Signal()

    def __init__(
        self,
        document: Document,
        elsewhere: Callable[[Path], bool] = lambda _path: False,
        parent: QObject | None = None,
    ) -> None:
        """``elsewhere`` tells whether another window works on a file."""
        super().__init__(parent)
        self.found = Found(FileState.SAME)
        self._document, self._elsewhere = document, elsewhere
        self._known = (document.path, document.stamp)
        self._beside = Beside(self)
        self._timer = QTimer(self)
        self._timer.setInterval(_EVERY_MS)
        self._timer.timeout.connect(self.look)
        self._timer.start()
        document.state_changed.connect(self._on_change)

    @Slot()
    def look(self) -> None:
        """Look at the file, in a thread of its own."""
        path, stamp, saved = self._document.path, self._document.stamp, self._document.saved
        if path is not None and not self._beside.open_jobs:
            last = self.found
            self._beside.ask(
                lambda: look_at(path, stamp, saved, last, self._elsewhere),
                lambda found: self._show(found, stamp),
            )

    def look_now(self) -> Found:
        """Look at the file before it is written over."""
        path = self._document.path
        if path is None:
            return Found(FileState.SAME)
        found = look_at(path, self._document.stamp, self._document.saved, self.found)
        self._show(found, self._document.stamp)
        return found

    def close(self) -> None:
        """Look no more."""
        self._timer.stop()
        self._beside.close()

    @Slot()
    def _on_change(self) -> None:
        """Another file, or written or read anew here."""
        now = (self._document.path, self._document.stamp)
        if now != self._known:
            self._known = now
            self._set(Found(FileState.SAME))
            self.look()

    def _show(self, found: Found, since: Stamp | None) -> None:
        """Take what was found of the file since it had that stamp."""
        if (found.path, since) != (self._document.path, self._document.stamp):
            return  # another file meanwhile, or written here: that is no change of others
        if found.state in {FileState.SAME, FileState.OPEN_ELSEWHERE} and found.stamp is not None:
            self._document.stamp = found.stamp  # written anew with the same plan in it
        self._set(found)

    def _set(self, found: Found) -> None:
        before, self.found = self.found, found
        if (before.state, before.theirs) != (found.state, found.theirs):
            self.changed.emit()


def look_at(
    path: Path,
    stamp: Stamp | None,
    saved: Plan | None,
    last: Found,
    elsewhere: Callable[[Path], bool] = lambda _path: False,
) -> Found:
    """What has become of a file since it had this stamp and held this plan; ``last``: found before."""
    now = stamp_of(path)
    if now is None:
        return Found(FileState.GONE, path)
    if now != stamp:
        if (last.path, last.stamp, last.state) == (path, now, FileState.CHANGED):
            return last
        try:
            theirs = read_plan(path)
        except NorthkeyError:
            return Found(FileState.CHANGED, path, now)
        if theirs != saved:
            return Found(FileState.CHANGED, path, now, theirs)
    return Found(FileState.OPEN_ELSEWHERE if elsewhere(path) else FileState.SAME, path, now)
