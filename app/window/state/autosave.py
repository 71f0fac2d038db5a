"""Edits that are in no file are kept in a spare copy: no work is lost with the program or the machine.

Each window has one file in a folder beside the settings, and a lock by which others tell whether it still
runs. What a window that runs no more left there is offered at the next start.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from uuid import uuid4

from PySide6.QtCore import QLockFile, QObject, QTimer, Signal, Slot

from app.window.state.beside import Beside
from app.window.state.document import Document
from core.base.errors import NorthkeyError
from core.plan.spare import Spare, file_of_spare, read_spare, write_spare

#: After the first edit that is in no file; later ones wait for no longer than that.
_WAIT_MS = 10_000
_SUFFIX = ".spare.json"


class Autosave(QObject):
    """Keeps the spare copy of one window.

    Signals:
        failed(str): the copy could not be kept; told once until it can again.
    """

    failed = Signal(str)

    def __init__(
        self, document: Document, folder: Path, clock: Callable[[], float], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._document, self._clock, self.folder = document, clock, folder
        self._name = f"{os.getpid()}-{uuid4().hex[:8]}"
        self._told = self._ended = False
        self._written: Spare | None = None
        self._beside = Beside(self)
        with suppress(OSError):
            folder.mkdir(parents=True, exist_ok=True)
        self._lock = _lock_of(self.file)
        self._lock.tryLock(0)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_WAIT_MS)
        self._timer.timeout.connect(self.keep)
        document.state_changed.connect(self._on_change)
        self.keep()

    @property
    def file(self) -> Path:
        """Where the copy is."""
        return self.folder / f"{self._name}{_SUFFIX}"

    @property
    def is_waiting(self) -> bool:
        """An edit is not yet in the copy."""
        return self._timer.isActive() or self._beside.open_jobs > 0

    @Slot()
    def _on_change(self) -> None:
        if self._document.unsaved:
            if not self._timer.isActive():
                self._timer.start()
        elif not self._is_kept():
            self._timer.stop()
            self.keep()

    def _now(self) -> Spare:
        plan = self._document.plan if self._document.unsaved else None
        return Spare(self._document.path, plan, self._clock())

    def _is_kept(self) -> bool:
        now, written = self._now(), self._written
        return written is not None and (written.file, written.plan) == (now.file, now.plan)

    @Slot()
    def keep(self) -> None:
        """Keep what there is, in a thread of its own."""
        if self._is_kept() or self._ended:
            return
        spare, file = self._now(), self.file
        self._written = spare
        self._beside.ask(lambda: _kept(file, spare), self._on_kept)

    def keep_now(self) -> None:
        """Keep what there is before anything else happens: the program is being ended."""
        self._timer.stop()
        self.keep()
        self._beside.wait()

    def _on_kept(self, reason: str) -> None:
        if reason:
            self._written = None
            if not self._told:
                self.failed.emit(reason)
        self._told = bool(reason)

    def end(self) -> None:
        """The window closes and nothing is to be kept."""
        self._timer.stop()
        self._beside.close()
        self._ended = True
        _remove(self.file)
        self._lock.unlock()

    # --- other windows ------------------------------------------------------------------------------------

    def left_behind(self) -> tuple[tuple[Path, Spare], ...]:
        """What windows that run no more have left, the latest first; what holds no edits is cleared away."""
        found = []
        for file in self._others():
            lock = _lock_of(file)
            if not lock.tryLock(0):
                continue
            lock.unlock()
            try:
                spare = read_spare(file)
            except NorthkeyError:
                continue  # not ours to throw away: it may hold work that a later version reads
            if spare.plan is None:
                _remove(file)
            else:
                found.append((file, spare))
        return tuple(sorted(found, key=lambda one: -one[1].kept_utc_s))

    def throw_away(self, file: Path) -> None:
        """What was left behind is wanted no more, or is in this window now."""
        _remove(file)

    def is_open_elsewhere(self, path: Path) -> bool:
        """Whether another window that runs works on this plan file."""
        for file in self._others():
            with suppress(NorthkeyError, OSError):
                other = file_of_spare(file)
                if other is None or not _same(other, path):
                    continue
                lock = _lock_of(file)
                if not lock.tryLock(0):
                    return True
                lock.unlock()
        return False

    def _others(self) -> list[Path]:
        with suppress(OSError):
            return [file for file in self.folder.glob(f"*{_SUFFIX}") if file != self.file]
        return []


def _lock_of(file: Path) -> QLockFile:
    lock = QLockFile(str(file.with_name(file.name.removesuffix(_SUFFIX) + ".lock")))
    lock.setStaleLockTime(0)  # stale only when its process is gone
    return lock


def _kept(file: Path, spare: Spare) -> str:
    """Why it could not be kept, or empty."""
    try:
        write_spare(file, spare)
    except NorthkeyError as error:
        return str(error)
    return ""


def _remove(file: Path) -> None:
    with suppress(OSError):
        file.unlink()


def _same(one: Path, other: Path) -> bool:
    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):
        return one == other
