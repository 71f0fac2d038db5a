"""The question before an edit that makes tonight's correction void."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QMessageBox, QWidget

from app.window.state.document import Document
from app.window.widgets.plain import question_box
from core.base.words import bearing_text
from core.mount.model.chain import correction_state
from core.mount.model.station import SightingCorrection


class SeatQuestion(QObject):
    """Asks once for each correction; who agreed to lose one is not asked again."""

    def __init__(self, document: Document, window: QWidget) -> None:
        super().__init__(window)
        self._document, self._window = document, window
        self._agreed: SightingCorrection | None = None
        #: The question being asked, while it is open.
        self.box: QMessageBox | None = None

    @property
    def _fitted(self) -> SightingCorrection | None:
        """Tonight's correction where it is in force and nobody has agreed yet to lose it."""
        mount = self._document.plan.mount
        fitted = mount.sighting_correction
        return fitted if correction_state(mount) == "holds" and fitted != self._agreed else None

    def may_turn(self, then: Callable[[], None] | None = None) -> bool:
        """Whether the seat may be changed at once; else the question is asked, and ``then`` follows a yes."""
        fitted = self._fitted
        if fitted is None:
            return True
        if self.box is None:
            self._ask(fitted, then)
        return False

    def _ask(self, fitted: SightingCorrection, then: Callable[[], None] | None) -> None:
        box = question_box(
            self._window,
            "Tonight's correction",
            f"A correction of {fitted.deg:+.1f} deg from sightings is in force.",
            f"It was fitted with the keyway at {bearing_text(fitted.keyway_bearing_deg)} deg in hole "
            f"{fitted.index_hole}. Turned away from there it is void, until the seat is the same again.",
        )
        turn = box.addButton("Turn the keyway", QMessageBox.ButtonRole.AcceptRole)
        box.addButton("Leave it", QMessageBox.ButtonRole.RejectRole)

        def agree() -> None:
            self._agreed = fitted
            if then is not None:
                then()

        turn.clicked.connect(agree)
        box.finished.connect(self._forget)
        self.box = box
        box.open()

    def _forget(self) -> None:
        self.box = None
