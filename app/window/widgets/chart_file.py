"""Asking where a chart, or a page, is to be saved."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QWidget


def ask_where_to_save_chart(
    parent: QWidget,
    beside: Path | None,
    name: str,
    forms: str,
    then: Callable[[Path], None],
    title: str = "Save chart",
) -> None:
    """Open a dialog for a chart's file, which does not block.

    Args:
        parent: what it belongs to.
        beside: the plan's file, in whose folder it begins; None: at home.
        name: what the file is called unless another name is typed.
        forms: as a dialog for files offers them.
        then: gets the path.
        title: of the dialog.
    """
    dialog = QFileDialog(parent, title, str(beside.parent if beside else Path.home()), forms)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setDefaultSuffix(Path(name).suffix.lstrip("."))
    dialog.selectFile(name)
    dialog.fileSelected.connect(lambda chosen: then(Path(chosen)))
    dialog.open()
