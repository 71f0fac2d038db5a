"""The plans opened or saved lately, as a menu."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QWidget

_MOST = 8


class RecentMenu(QMenu):
    """One line for each file, the latest first.

    Signals:
        chosen(Path): open this one.
    """

    chosen = Signal(object)

    def __init__(self, files: Sequence[Path], parent: QWidget | None = None) -> None:
        super().__init__("&Recent plans", parent)
        self.files: tuple[Path, ...] = ()
        self._show(files)

    def put_first(self, path: Path | None) -> None:
        """A file was opened or saved."""
        if path is not None and self.files[:1] != (path,):
            self._show((path, *(file for file in self.files if file != path)))

    def _show(self, files: Sequence[Path]) -> None:
        self.files = tuple(dict.fromkeys(files))[:_MOST]
        self.clear()
        for number, path in enumerate(self.files, start=1):
            name = path.name.removesuffix(".json").removesuffix(".northkey").replace("&", "&&")
            action = self.addAction(f"&{number}  {name}   {path.parent}")
            action.triggered.connect(partial(self._choose, path))
        self.setEnabled(bool(self.files))
        self.menuAction().setEnabled(bool(self.files))

    def _choose(self, path: Path, _checked: bool = False) -> None:
        self.chosen.emit(path)
