"""Taking a keyway that was found over into the plan, asking first where that voids tonight's correction."""

from __future__ import annotations

from PySide6.QtWidgets import QMessageBox, QWidget

from app.window.state.document import Document
from app.window.widgets.seat_question import SeatQuestion
from core.base.angles import wrap_360
from core.base.edits import changed
from core.base.words import bearing_text


class SeatTaker:
    """Sends the keyway's bearing to the document."""

    def __init__(self, document: Document, window: QWidget) -> None:
        self._document = document
        self._question = SeatQuestion(document, window)

    @property
    def question(self) -> QMessageBox | None:
        """The question being asked, while it is open."""
        return self._question.box

    def take(self, bearing_deg: float) -> None:
        """The keyway points there; asks first where a correction is in force for another place."""
        bearing_deg = round(wrap_360(bearing_deg), 2) % 360.0
        if bearing_deg == self._document.plan.mount.keyway_bearing_deg:
            return
        if self._question.may_turn(lambda: self._turn(bearing_deg)):
            self._turn(bearing_deg)

    def _turn(self, bearing_deg: float) -> None:
        words = f"keyway found at {bearing_text(bearing_deg)} deg"
        self._document.edit(changed(self._document.plan, "mount.keyway_bearing_deg", bearing_deg), words)
