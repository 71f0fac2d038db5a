"""Where does the keyway point? A bearing of any kind becomes the keyway's, held against the plan's."""

from __future__ import annotations

from typing import cast

from PySide6.QtWidgets import QGridLayout, QLabel

from app.window.pages.setup.answers import Answer
from app.window.pages.setup.big import Choice, Typed, big_button, in_a_row, told
from app.window.pages.setup.seat_taker import SeatTaker
from app.window.pages.setup.step import Desk, Step, wheres
from app.window.pages.setup.views.above import AboveView
from app.window.pages.setup.views.above_scene import Foot, Hand, stops
from app.window.widgets.labels import label, second
from core.base.errors import NorthkeyError
from core.base.typed import page_words
from core.base.words import bearing_text
from core.mount.model.from_above import station_from_above
from core.mount.seat.by_evening import BestEvening
from core.mount.seat.choice import BestSeat
from core.plan.quantities import QUANTITIES
from core.setup.bearings import Reference, ThreeBearings, bearings_as_typed, three_bearings
from core.setup.placing import Placing, enough_sentence, placing, turn_figure, turn_sentence, within_sentence
from core.setup.words import method_name
from core.setup.write_down import of_keyway

_REFERENCES = (("true", "True"), ("magnetic", "By the compass"), ("grid", "Off the map grid"))
_KINDS = ("true", "by the compass", "off the map grid")
_TAKE_TIP = "The plan's keyway then points there; undo takes it back"


class KeywayStep(Step):
    """The keyway's bearing as it was found."""

    title = "Keyway"
    question = "Where does the keyway point?"

    def __init__(self, desk: Desk, taker: SeatTaker) -> None:
        view = AboveView("the tripod from above, the keyway as found and as planned")
        super().__init__(desk, view)
        self.view = view
        self.taker = taker
        self.reference = Choice("the bearing was read", _REFERENCES)
        self.reference.choose("true")
        self.field = Typed(
            "bearing of the keyway as found", "degrees", QUANTITIES["mount.keyway_bearing_deg"], width=150
        )
        self.figures: dict[str, QLabel] = {}
        self.answer = Answer("how far the tripod is to be turned")
        self.within = told(name="whether tonight tolerates that", points=13)
        self.enough = told(name="whether north is known well enough", points=11)
        self.take_button = big_button(
            "Take it as the keyway's bearing",
            self.take_over,
            main=True,
            tip=_TAKE_TIP,
        )
        self._lay_out()
        self.reference.chosen.connect(lambda _value: self.show_now())
        self.field.typed.connect(self.show_now)

    def _lay_out(self) -> None:
        self.add(
            told("Read it along the keyway, from the plate's centre outward.", points=12), self.reference
        )
        self.left.addLayout(in_a_row(self.field, self.take_button))
        grid = QGridLayout()
        grid.setHorizontalSpacing(24)
        for place, words in enumerate(_KINDS):
            shown = self.figures[words] = label(22, bold=True, name=f"keyway {words}")
            grid.addWidget(shown, 0, place)
            grid.addWidget(second(words, 11, wraps=False), 1, place)
        grid.setColumnStretch(len(_KINDS), 1)
        self.left.addLayout(grid)
        self.left.addSpacing(8)
        self.add(self.answer, self.within, self.enough)
        self.left.addStretch(1)

    # --- doing --------------------------------------------------------------------------------------------

    def take_over(self) -> None:
        """What was found becomes the plan's; a question may come first."""
        if not self.field.settled("Type the bearing first"):
            return
        found = self._found()
        if found is not None:
            self.taker.take(found.true_deg)
            self.answered.emit()

    def _found(self) -> ThreeBearings | None:
        """The bearing that was typed by all three; None where nothing is typed or it cannot be turned."""
        answer, typed = self.desk.set_up.answer, self.field.number
        if answer is None or typed is None:
            return None
        kind = cast(Reference, self.reference.value)
        try:
            return bearings_as_typed(typed, kind, answer.declination, answer.grid)
        except NorthkeyError as error:
            self.field.mark_wrong(page_words(error))
            return None

    def forget(self) -> None:
        self.field.put(None)

    # --- showing ------------------------------------------------------------------------------------------

    def first_field(self) -> Typed:
        return self.field

    def done(self) -> bool:
        found = self._found()
        return (
            found is not None and round(found.true_deg, 2) % 360.0 == self.desk.plan.mount.keyway_bearing_deg
        )

    def _best(self) -> BestSeat | BestEvening | None:
        """Tonight's best seat, where a study of the present plan's passes is at hand."""
        context = self.desk.context
        known = context.evenings_known
        if known is not None and known.best is not None:
            return known.best
        of, study = context.study_plan, context.study
        if of is None or study is None or not study.passes:
            return None
        from core.studies import seat_question

        return study.best if seat_question(of) == seat_question(context.plan) else None

    def show_now(self) -> None:
        mount, answer = self.desk.plan.mount, self.desk.set_up.answer
        found = self._found()
        if answer is None:
            shown = None
        else:
            shown = found or three_bearings(mount.keyway_bearing_deg, answer.declination, answer.grid)
        self._show_figures(shown)
        best = self._best()
        at = placing(mount.keyway_bearing_deg if found is None else found.true_deg, mount, best)
        if found is None:
            self.answer.tell("", f"The plan has the keyway at {bearing_text(at.planned_deg)} deg true.")
        else:
            self.answer.tell(turn_figure(at), turn_sentence(at), alarm=at.within is False)
        self.within.setText(within_sentence(at, mount, best))
        self._show_enough(best)
        self._show_picture(at, found is not None)
        self.take_button.setEnabled(found is not None and not self.done())
        by = {"magnetic": "the compass", "grid": "the map grid"}.get(self.reference.value, "")
        lines = of_keyway(shown, mount.index_hole, by) if shown is not None else ()
        self.write_down.tell(lines, self.desk.scheme)
        self.reference.set_scheme(self.desk.scheme)

    def _show_figures(self, shown: ThreeBearings | None) -> None:
        values = (None, None, None)
        if shown is not None:
            values = (shown.true_deg, shown.magnetic_deg, shown.grid_deg)  # type: ignore[assignment]
        for words, value in zip(_KINDS, values, strict=True):
            self.figures[words].setText("none" if value is None else bearing_text(value))

    def _show_enough(self, best: BestSeat | BestEvening | None) -> None:
        answer, by_compass = self.desk.set_up.answer, self.reference.value == "magnetic"
        used = None
        if answer is not None:
            compass = next((one for one in answer.methods if one.method == "compass"), None)
            used = compass if by_compass else answer.best
        words = "" if used is None else enough_sentence(used.sigma_deg, method_name(used), best)
        note = answer.declination.note if answer is not None and by_compass else ""
        self.enough.setText(wheres([words, note]))
        self.enough.setVisible(bool(self.enough.text()))

    def _show_picture(self, at: Placing, typed: bool) -> None:
        mount = self.desk.plan.mount
        above = station_from_above(mount)
        turned = at.found_deg - at.planned_deg
        hands = [Hand(at.found_deg, f"found {bearing_text(at.found_deg)}", "keyway")] if typed else []
        hands.append(Hand(at.planned_deg, f"plan {bearing_text(at.planned_deg)}", "planned"))
        hands += stops(above, turned)
        feet = [Foot(bearing + turned) for bearing in above.legs_deg]
        self.view.show_hands(hands, self.desk.scheme, at.found_deg, feet)
