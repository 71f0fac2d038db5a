"""Splitters and columns set by hand are found again at the next start; others go by the window's size."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QApplication, QSplitter, QTableView, QWidget

_NAME, _BY_HAND = "kept as", "by hand"


def keep_layout(part: QSplitter | QTableView, name: str) -> None:
    """Remember by a name how a splitter is parted, or how wide a table's columns are, once a hand set it."""
    part.setProperty(_NAME, name)
    if isinstance(part, QSplitter):
        part.splitterMoved.connect(lambda _place, _index: part.setProperty(_BY_HAND, True))
    else:
        part.horizontalHeader().sectionResized.connect(lambda _column, _old, _new: _mark_if_pulled(part))


def _mark_if_pulled(table: QTableView) -> None:
    """Columns are also set by the window's size; then no button is held."""
    if QApplication.mouseButtons() & Qt.MouseButton.LeftButton and table.underMouse():
        table.setProperty(_BY_HAND, True)


def is_by_hand(part: QWidget) -> bool:
    """Whether a hand has set it, now or at an earlier start."""
    return bool(part.property(_BY_HAND))


def layout_of(root: QWidget) -> dict[str, tuple[int, ...]]:
    """The pixels of every part under a widget that a hand has set."""
    parts = [part for part in _parts(root) if is_by_hand(part)]
    found = {str(part.property(_NAME)): _sizes(part) for part in parts}
    return {name: sizes for name, sizes in found.items() if all(sizes)}


class _OnFirstShow(QObject):
    """A splitter that is not shown yet has not its room yet, and would part another one later."""

    def __init__(self, splitter: QSplitter, sizes: tuple[int, ...]) -> None:
        super().__init__(splitter)
        self._splitter, self._sizes = splitter, sizes

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Show:
            self._splitter.setSizes(list(self._sizes))
            self._splitter.removeEventFilter(self)
        return super().eventFilter(watched, event)


def restore_layout(root: QWidget, kept: dict[str, tuple[int, ...]]) -> None:
    """Set what was remembered; what has another number of parts by now is left alone."""
    for part in _parts(root):
        sizes = kept.get(str(part.property(_NAME)), ())
        if not sizes or len(sizes) != len(_sizes(part)):
            continue
        part.setProperty(_BY_HAND, True)
        if isinstance(part, QSplitter):
            part.setSizes(list(sizes))
            part.installEventFilter(_OnFirstShow(part, sizes))
        else:
            for column, width in enumerate(sizes):
                part.setColumnWidth(column, width)


def _parts(root: QWidget) -> list[QSplitter | QTableView]:
    found: list[QSplitter | QTableView] = [*root.findChildren(QSplitter), *root.findChildren(QTableView)]
    return [part for part in found if part.property(_NAME)]


def _sizes(part: QSplitter | QTableView) -> tuple[int, ...]:
    if isinstance(part, QSplitter):
        return tuple(part.sizes())
    return tuple(part.columnWidth(column) for column in range(part.model().columnCount()))
