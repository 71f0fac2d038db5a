"""The one dialog for errors: sentences large, details small and to be copied. Made by the first error."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QPlainTextEdit, QVBoxLayout, QWidget

from app.window.frame.errors import ErrorReport
from app.window.widgets.labels import label
from core.base.times import clock


class ErrorDialog(QDialog):
    """Shows one or several errors: sentences large, details small and to be copied."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setMinimumWidth(520)
        self.reports: tuple[ErrorReport, ...] = ()
        self.sentence = label(11, name="what went wrong", wraps=True)
        self.sentence.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.details = QPlainTextEdit()
        self.details.setReadOnly(True)
        self.details.setAccessibleName("details")
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        self.copy = buttons.addButton("&Copy", QDialogButtonBox.ButtonRole.ActionRole)
        self.copy.setAccessibleName("Copy all of it")
        self.copy.clicked.connect(self._copy)
        for button in buttons.buttons():
            button.setAccessibleName(button.accessibleName() or button.text().replace("&", ""))
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 18, 20, 14)
        column.setSpacing(12)
        column.addWidget(self.sentence)
        column.addWidget(self.details)
        column.addWidget(buttons)

    def show_reports(self, reports: tuple[ErrorReport, ...]) -> None:
        """The newest one in large, those before it below."""
        self.reports = reports
        newest = reports[-1] if reports else None
        self.setWindowTitle(newest.title if newest else "Recent errors")
        self.sentence.setText(newest.sentence if newest else "Nothing has gone wrong.")
        parts = [newest.details] if newest and newest.details else []
        parts += [
            f"{clock(p.utc_s)} UTC  {p.title}: {p.sentence}" + (f"\n{p.details}" if p.details else "")
            for p in reversed(reports[:-1])
        ]
        self.details.setPlainText("\n\n".join(parts))
        self.details.setVisible(bool(parts))
        self.copy.setVisible(bool(reports))
        self.adjustSize()

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(
            "\n\n".join(
                f"{clock(p.utc_s)} UTC  {p.title}\n{p.sentence}\n{p.details}".strip() for p in self.reports
            )
        )
