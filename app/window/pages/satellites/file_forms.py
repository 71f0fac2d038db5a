"""The forms element sets are written in, as the dialogs name them, and where files are asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from core.elements.model import ElementSet
from core.elements.writing import write_omm_csv, write_omm_json, write_omm_kvn, write_omm_xml

Writer = Callable[..., str]
#: Dialog's name of the form, suffix, writer.
FORMS: tuple[tuple[str, str, Writer], ...] = (
    ("OMM in JSON", "json", write_omm_json),
    ("OMM in CSV", "csv", write_omm_csv),
    ("OMM as keywords (KVN)", "kvn", write_omm_kvn),
    ("OMM in XML", "xml", write_omm_xml),
)
_ORIGINATOR = "NORTHKEY"
_READ = (
    "Element files (*.csv *.json *.xml *.kvn *.omm *.tle *.txt *.2le *.3le)",
    "All files (*)",
)


def written(sets: Iterable[ElementSet], path: Path, made: str) -> bytes:
    """The sets in the form that the file's suffix says; JSON where it says nothing known.

    Args:
        sets: what to write.
        path: only its suffix is read.
        made: the making time, ISO 8601 UTC.
    """
    suffix = path.suffix.casefold().lstrip(".")
    writer = next((writer for _name, known, writer in FORMS if known == suffix), write_omm_json)
    return writer(sets, creation_date=made, originator=_ORIGINATOR).encode("utf-8")


def reading_dialog(parent: QWidget, folder: Path) -> QFileDialog:
    """Asks for element files; several at once."""
    dialog = QFileDialog(parent, "Import elements", str(folder))
    dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
    dialog.setNameFilters(_READ)
    return dialog


def writing_dialog(parent: QWidget, folder: Path) -> QFileDialog:
    """Asks for a file to write sets to, its form by the filter chosen."""
    dialog = QFileDialog(parent, "Export elements", str(folder))
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    names = {f"{name} (*.{suffix})": suffix for name, suffix, _writer in FORMS}
    dialog.setNameFilters(list(names))
    dialog.setDefaultSuffix(FORMS[0][1])
    dialog.filterSelected.connect(lambda chosen: dialog.setDefaultSuffix(names[chosen]))
    return dialog
