"""Errors in one dialog, with details to copy; exceptions nobody caught are shown and logged, never silent."""

from __future__ import annotations

import logging
import sys
import traceback
from types import TracebackType

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QPlainTextEdit, QVBoxLayout, QWidget

from app.window.scheme import font

LOG = logging.getLogger("northkey")


class ProblemDialog(QDialog):
    """One sentence, and details that can be copied."""

    def __init__(self, title: str, sentence: str, details: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setMinimumWidth(520)
        self.sentence = QLabel(sentence)
        self.sentence.setWordWrap(True)
        self.sentence.setFont(font(11))
        self.sentence.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.sentence.setAccessibleName("what went wrong")
        self.details = QPlainTextEdit(details)
        self.details.setReadOnly(True)
        self.details.setAccessibleName("details")
        self.details.setVisible(bool(details))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        copy = buttons.addButton("Copy details", QDialogButtonBox.ButtonRole.ActionRole)
        copy.clicked.connect(self._copy)
        copy.setVisible(bool(details))
        column = QVBoxLayout(self)
        column.addWidget(self.sentence)
        column.addWidget(self.details)
        column.addWidget(buttons)

    def _copy(self) -> None:
        text = f"{self.windowTitle()}\n{self.sentence.text()}\n\n{self.details.toPlainText()}"
        QGuiApplication.clipboard().setText(text)


class ExceptionWatch(QObject):
    """Shows and logs what nobody caught, slots included, which Qt would only print.

    Signals:
        caught(str sentence, str details): an exception ended a slot or an event.
    """

    caught = Signal(str, str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._before = sys.excepthook

    def start(self) -> None:
        """Take over `sys.excepthook`."""
        self._before = sys.excepthook
        sys.excepthook = self._hook

    def stop(self) -> None:
        """Give it back."""
        sys.excepthook = self._before

    def _hook(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt):
            self._before(kind, error, trace)
            return
        LOG.error("unexpected %s", kind.__name__, exc_info=(kind, error, trace))
        details = "".join(traceback.format_exception(kind, error, trace))
        self._tell(f"Something went wrong that should not have: {error or kind.__name__}", details)

    @Slot(str, str)
    def _tell(self, sentence: str, details: str) -> None:
        self.caught.emit(sentence, details)
