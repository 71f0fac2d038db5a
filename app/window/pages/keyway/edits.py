"""Edits of the seat, asking first where they would make tonight's correction void."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QMessageBox, QWidget

from app.window.state.document import Document
from app.window.widgets.seat_question import SeatQuestion
from core.base.angles import wrap_360
from core.base.edits import changed
from core.base.errors import NorthkeyError
from core.base.words import bearing_text
from core.mount.seat.limits import SeatLimit
from core.plan.document import Plan

#: Drags and runs of keys are one step of undo.
MERGE = "keyway"
#: How wide a new forbidden arc is.
_NEW_ARC_DEG = 30


class SeatEditor(QObject):
    """Sends edits of the seat to the document.

    Signals:
        refused(str): an edit was not valid.
    """

    refused = Signal(str)

    def __init__(self, document: Document, window: QWidget) -> None:
        super().__init__(window)
        self._document = document
        self._question = SeatQuestion(document, window)

    @property
    def question(self) -> QMessageBox | None:
        """The question being asked, while it is open."""
        return self._question.box

    def may_turn(self, then: Callable[[], None] | None = None) -> bool:
        """Whether the seat may be changed at once; else the question is asked, and ``then`` follows a yes."""
        return self._question.may_turn(then)

    def turn_to(self, bearing_deg: float, merge: str | None = None) -> None:
        """Point the keyway somewhere."""
        plan = self._document.plan
        words = f"keyway to {bearing_text(wrap_360(bearing_deg))} deg"
        self._edit(lambda: changed(plan, "mount.keyway_bearing_deg", wrap_360(bearing_deg)), words, merge)

    def use_hole(self, name: str) -> None:
        """Put the pin through another hole."""
        plan = self._document.plan
        words = f"hole {plan.mount.index_hole} to {name}"
        self._edit(lambda: changed(plan, "mount.index_hole", name), words)

    def turn_to_seat(self, bearing_deg: float, hole: str) -> None:
        """Bearing and hole in one step."""
        plan = self._document.plan
        words = f"keyway to {bearing_text(wrap_360(bearing_deg))} deg, hole {hole}"
        self._edit(
            lambda: changed(
                changed(plan, "mount.index_hole", hole), "mount.keyway_bearing_deg", wrap_360(bearing_deg)
            ),
            words,
        )

    def add_limit(self) -> None:
        """Forbid the bearings clockwise from where the keyway points."""
        plan = self._document.plan
        start = round(plan.mount.keyway_bearing_deg) % 360
        limit = SeatLimit(from_deg=float(start), to_deg=float((start + _NEW_ARC_DEG) % 360))
        self._edit(lambda: changed(plan, "seat_limits", (*plan.seat_limits, limit)), "forbid an arc")

    def remove_limit(self, row: int) -> None:
        """Allow an arc again."""
        plan = self._document.plan
        left = (*plan.seat_limits[:row], *plan.seat_limits[row + 1 :])
        self._edit(lambda: changed(plan, "seat_limits", left), "allow an arc again")

    def set_limit(self, row: int, key: str, value: float | str) -> None:
        """Another end of a forbidden arc, or another reason.

        Raises:
            ValueRangeError: it is not valid.
        """
        plan = self._document.plan
        new = changed(plan, f"seat_limits.{row}.{key}", value)
        shown = value if isinstance(value, str) else f"{value:g} deg"
        self._document.edit(new, f"forbidden arc {row + 1}: {shown}")

    def end_step(self) -> None:
        """The next edit is a step of its own."""
        self._document.end_merge()

    def _edit(self, make: Callable[[], Plan], words: str, merge: str | None = None) -> None:
        try:
            self._document.edit(make(), words, merge=merge)
        except NorthkeyError as error:
            self.refused.emit(str(error))
