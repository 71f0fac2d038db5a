"""The Keyway page: the station from above, the seat in numbers, and what each bearing would lose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.window.page import Page
from app.window.pages.keyway.curve import CurvePart
from app.window.pages.keyway.edits import MERGE, SeatEditor
from app.window.pages.keyway.panel import SeatPanel
from app.window.pages.keyway.views.seat_curve import SeatCurve
from app.window.pages.keyway.views.station_view import StationView
from app.window.state.context import Context, PassKey
from app.window.state.seat_now import SeatNow
from app.window.widgets.labels import label
from core.base.errors import NorthkeyError
from core.mount.seat.limits import limits_at
from core.mount.seat.words import (
    TroubleRow,
    forbidden_words,
    outcome_details,
    outcome_sentence,
    seat_name,
    tolerance_sentence,
)
from core.place.declination import magnetic_from_true

if TYPE_CHECKING:
    from app.window.pages.keyway.season.dialog import SeasonDialog

#: A keyway in motion goes to the document when it pauses this long, so that dragging starts no evaluations.
_PAUSE_MS = 60
_LONGEST_WHY = 200
_NO_SATELLITES = (
    "No satellites yet. Bring element sets in on the Satellites page (Ctrl+2); then the passes lie round the "
    "station here, and what meets a stop is listed."
)


class KeywayPage(Page):
    """Where the keyway should point, and through which hole the pin goes."""

    title = "Keyway"

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.station, self.curve, self.panel = StationView(), CurvePart(), SeatPanel()
        self.sentence = label(13, bold=True, name="where to turn the keyway", wraps=True)
        # Room for both answers: the one by the evening comes later and may be a line shorter.
        self.sentence.setMinimumHeight(2 * self.sentence.fontMetrics().lineSpacing())
        self.editor = SeatEditor(context.document, self)
        self.now = SeatNow(context)
        self._season: SeasonDialog | None = None
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        self.panel.setMinimumWidth(384)
        self.panel.setMaximumWidth(560)
        left = QVBoxLayout()
        left.setSpacing(10)
        self.curve.setMinimumHeight(204)
        self.curve.setMaximumHeight(276)
        left.addWidget(self.sentence)
        left.addWidget(self.station, 4)
        left.addWidget(self.curve, 1)
        row = QHBoxLayout(self)
        row.setContentsMargins(22, 18, 26, 14)
        row.setSpacing(26)
        row.addLayout(left, 7)
        row.addWidget(self.panel, 4)

    def _connect(self) -> None:
        self._pause.timeout.connect(self._commit)
        for view in (self.station, self.curve.view):
            view.grabbed.connect(lambda view=view: self._ask(view))
            view.moved.connect(self._move)
            view.settled.connect(self._settle)
            view.released.connect(self._release)
        self.station.pass_chosen.connect(self._choose)
        self.panel.pass_chosen.connect(self._choose)
        self.panel.typed.connect(self._turn)
        self.panel.holes.chosen.connect(self._use_hole)
        self.panel.best_wanted.connect(self.turn_to_best)
        self.panel.season_wanted.connect(self.open_season)
        self.curve.season_wanted.connect(self.open_season)
        limits = self.panel.limits
        limits.add_wanted.connect(self.editor.add_limit)
        limits.remove_wanted.connect(self.editor.remove_limit)
        limits.end_typed.connect(self._set_limit)
        limits.why_typed.connect(lambda row, text: self.editor.set_limit(row, "why", text[:_LONGEST_WHY]))
        self.editor.refused.connect(self.panel.field.mark_wrong)
        self.context.pointer.pass_changed.connect(self._show_passes)
        self.context.runner.busy_changed.connect(self._on_busy)

    def open_season(self) -> None:
        """The season, in a window of its own."""
        from app.window.pages.keyway.season.dialog import SeasonDialog

        if self._season is None:
            self._season = SeasonDialog(self.context, self)
            self._season.now.changed.connect(self._show_season)
        self._season.show()
        self._season.raise_()

    def _show_season(self) -> None:
        known = None if self._season is None else self._season.now.known
        self.curve.show_season(() if known is None else known.study.holes)

    # --- edits --------------------------------------------------------------------------------------------

    def _ask(self, view: StationView | SeatCurve) -> None:
        if not self.editor.may_turn():
            view.refuse()

    def _move(self, bearing_deg: float) -> None:
        self.now.live_deg = bearing_deg
        self._show()
        self._pause.start()

    def _commit(self) -> None:
        self._pause.stop()
        if self.now.live_deg is not None:
            self.editor.turn_to(self.now.live_deg, MERGE)

    def _settle(self) -> None:
        self._commit()
        self.now.live_deg = None
        self.refresh()

    def _release(self) -> None:
        if self.now.live_deg is not None:
            self._settle()
        self.editor.end_step()

    def _turn(self, bearing_deg: float) -> None:
        if self.editor.may_turn(lambda: self.editor.turn_to(bearing_deg)):
            self.editor.turn_to(bearing_deg)
        self.refresh()

    def _use_hole(self, name: str) -> None:
        if self.editor.may_turn(lambda: self.editor.use_hole(name)):
            self.editor.use_hole(name)
        self.refresh()

    def _set_limit(self, row: int, key: str, value: float) -> None:
        try:
            self.editor.set_limit(row, key, value)
        except NorthkeyError as error:
            self.panel.limits.refuse(row, key, error)

    def turn_to_best(self) -> None:
        """Bearing and hole of the best seat, in one step of undo."""
        best = self.now.best_seat()
        if best is None or self.now.at_best():
            return
        if self.editor.may_turn(lambda: self.editor.turn_to_seat(*best)):
            self.editor.turn_to_seat(*best)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
        focus = self.focusWidget()
        if enter and focus in {self.station, self.curve.view, self.panel.list, self.panel.best}:
            self.turn_to_best()
        else:
            super().keyPressEvent(event)

    # --- showing ------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        self.now.take()
        scheme = self.context.scheme
        self.station.set_scheme(scheme)
        self.curve.set_scheme(scheme)
        self.panel.set_scheme(scheme)
        limits = self.context.plan.seat_limits
        self.station.set_limits(limits)
        self.panel.limits.show_limits(limits)
        self.station.set_passes(self.now.passes)
        self.curve.show_study(self.now.study, self.now.mount, self._waiting(), self.now.by_evening)
        if self._season is not None:
            self._season.refresh()
        self._show_season()
        self._show_best()
        self._show()

    def count(self) -> int:
        self.now.take()
        return self.now.to_decide()

    def _waiting(self) -> str:
        if self.now.study is None:
            return "Studying the seat..." if self.context.plan.satellites else "No passes to study yet"
        return "" if self.now.study.passes else "No passes to study in these hours"

    def _show(self) -> None:
        """All that follows the keyway while it moves."""
        now = self.now
        mount, above = now.mount, now.above()
        self._show_sentence()
        self.station.set_seat(above, mount.azimuth, now.outcome())
        self.curve.show_seat(mount.index_hole, above.keyway_deg)
        result = self.context.result
        magnetic = (
            None if result is None else magnetic_from_true(above.keyway_deg, result.seat.declination_deg)
        )
        self.panel.show_seat(above, mount, magnetic)
        self.panel.show_forbidden(forbidden_words(limits_at(above.keyway_deg, self.context.plan.seat_limits)))
        self._show_passes()

    def _on_busy(self) -> None:
        self._show_sentence()
        self.panel.show_other(self.now.other_answer())

    def _show_sentence(self) -> None:
        self.sentence.setText(self.now.first_sentence())

    def _show_passes(self) -> None:
        """The sentence, the list and the chosen pass."""
        outcome, chosen = self.now.outcome(), self.now.index_of(self.context.pointer.pass_key)
        self.station.set_chosen(chosen)
        if not self.context.plan.satellites:
            self.panel.show_outcome(_NO_SATELLITES, False, "", (), -1)
        elif outcome is None:
            self.panel.show_outcome("Studying the seat...", False, "", (), -1)
        else:
            rows: tuple[TroubleRow, ...] = self.now.rows(outcome)
            alarm = not all(here.harmless for here in outcome.passes)
            details = outcome_details(outcome)
            if outcome.passes and not rows:
                details = "Nothing is lost and nothing rests here."
            self.panel.show_outcome(outcome_sentence(outcome), alarm, details, rows, chosen)

    def _show_best(self) -> None:
        now = self.now
        seat, best = now.best_seat(), now.best
        self.panel.show_other(now.other_answer())
        if seat is None or best is None:
            self.panel.show_best("", False, "", "", "")
            return
        holes = now.holes_best()
        others = "By the passes alone, best with each hole:  " + ";  ".join(holes) if holes else ""
        told = tolerance_sentence(best)
        self.panel.show_best(seat_name(*seat), now.at_best(), told, now.second_words(), others)

    def _choose(self, index: int) -> None:
        passes = self.now.passes
        self.context.pointer.choose(PassKey.of(passes[index]) if 0 <= index < len(passes) else None)
