"""What the pictures of the Stand page share: their room, their name and their colours."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.window.look.scheme import LIGHT, Scheme


class StandPicture(QWidget):
    """A picture that takes what room there is; ``name`` is its accessible name."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._scheme: Scheme = LIGHT
        self.setMinimumSize(150, 170)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(name)

    def sizeHint(self) -> QSize:
        return QSize(240, 260)
