"""Edits of what is typed: each one step of undo; a refusal marks the field it was typed into, or is told."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from app.window.state.document import Document
from app.window.widgets.fields import LineField
from core.base.edits import changed, reset
from core.base.errors import NorthkeyError
from core.base.typed import page_words
from core.plan.document import Plan


class PlanEditor(QObject):
    """Sends edits to the document; the field that was typed into comes along to be marked.

    Signals:
        refused(str): an edit without a field was not valid, with the reason.
    """

    refused = Signal(str)

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self.document = document

    def do(self, edit: Callable[[Plan], Plan], label: str, field: LineField | None = None) -> None:
        """Do an edit; a refusal marks the field or is told."""
        try:
            new = edit(self.document.plan)
        except NorthkeyError as error:
            if field is None:
                self.refused.emit(page_words(error))
            else:
                field.refuse_error(error)
            return
        self.take(new, label)

    def take(self, new: Plan, label: str) -> None:
        """Hand a valid plan on."""
        self.document.edit(new, label)

    def set_number(self, path: str, value: float, field: LineField, words: str) -> None:
        """Another number at a key path; ``words`` say what it is, for undo."""
        self.do(lambda plan: changed(plan, path, value), f"{words} {value:g}", field)

    def set_text(self, path: str, value: str, field: LineField, words: str) -> None:
        """Another text at a key path."""
        self.do(lambda plan: changed(plan, path, value), f"{words} {value}", field)

    def choose(self, path: str, value: object, words: str) -> None:
        """Another choice at a key path."""
        self.do(lambda plan: changed(plan, path, value), words)

    def reset(self, path: str) -> None:
        """Back to what holds where nothing is said."""
        words = path.rpartition(".")[2]
        for unit in ("_deg", "_mm", "_kg", "_nm", "_m_s", "_mpa", "_um", "_s", "_n"):
            words = words.removesuffix(unit)
        self.do(lambda plan: reset(plan, path), f"{words.replace('_', ' ')} left to its default")
