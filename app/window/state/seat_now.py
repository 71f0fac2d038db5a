"""What the Keyway page knows of the seat at this moment: of plan or drag, from study or checks."""

from __future__ import annotations

from app.window.state.context import Context, PassKey
from app.window.state.unstudied import unstudied_sentence
from core.mount.model.chain import zeta_deg
from core.mount.model.from_above import FromAbove, station_from_above
from core.mount.model.results import PassCheck, Reason
from core.mount.model.station import Mount
from core.mount.seat.by_evening import BestEvening
from core.mount.seat.choice import BestSeat, elsewhere
from core.mount.seat.evening_saving import (
    EveningSaving,
    evening_of_curve,
    evening_of_order,
    evening_saving,
    evening_saving_sentence,
    stands_at,
)
from core.mount.seat.outcome import (
    PassId,
    SeatOutcome,
    not_clear_needlessly,
    outcome_from_checks,
    outcome_from_study,
    pass_id,
)
from core.mount.seat.saving import saving, saving_sentence, stands_at_best
from core.mount.seat.study import SeatStudy, turned_to
from core.mount.seat.words import (
    TroubleRow,
    hole_best_words,
    loss_words,
    seat_name,
    second_best_sentence,
    trouble_rows,
)
from core.passes.track import Pass
from core.studies import SeatByEvening, passes_to_study, seat_question


class SeatNow:
    """The seat as it is shown.

    Attributes:
        live_deg: the keyway's bearing while it is being moved, ahead of the document; None otherwise.
        study: the study by the passes alone where it holds for the present plan, else None.
        by_evening: the study by the evening, likewise.
        passes: those studied, or to be studied.
    """

    def __init__(self, context: Context) -> None:
        self._context = context
        self.live_deg: float | None = None
        self.study: SeatStudy | None = None
        self.by_evening: SeatByEvening | None = None
        self.passes: tuple[Pass, ...] = ()
        self._worked_out: dict[PassId, tuple[PassCheck, Reason]] = {}
        #: What `take` last looked at.
        self._taken: tuple[object, ...] = ()
        #: The last outcome and the seat it is of: several parts of the page ask while the keyway moves.
        self._outcome: tuple[object, SeatOutcome | None] = (None, None)
        #: The passes, and where each is among them: asked while the keyway moves.
        self._places: tuple[tuple[Pass, ...], dict[PassKey, int]] = ((), {})

    def take(self) -> None:
        """Look at what the context holds now; cheap where nothing changed."""
        context = self._context
        plan, result = context.plan, context.result
        held = (plan, context.result_plan, context.study, context.study_plan, result, context.by_evening)
        if len(held) == len(self._taken) and all(a is b for a, b in zip(held, self._taken, strict=True)):
            return
        self._taken, self._outcome = held, (None, None)
        of = context.study_plan
        holds = of is not None and seat_question(of) == seat_question(plan)
        self.study = context.study if holds else None
        self.by_evening = context.evenings_known if self.study is not None else None
        self._worked_out = {}
        if result is not None and context.result_plan == plan:
            told = zip(result.checks, result.reasons, strict=True)
            self._worked_out = {pass_id(check.pass_): (check, reason) for check, reason in told}
        if self.study is not None:
            self.passes = self.study.passes
        else:
            self.passes = () if result is None else passes_to_study(plan, result)

    @property
    def mount(self) -> Mount:
        """The mount where it stands or is being turned to."""
        mount = self._context.plan.mount
        return mount if self.live_deg is None else turned_to(mount, self.live_deg)

    def above(self) -> FromAbove:
        """The station from above."""
        context = self._context
        lengths, of = context.plan.clearance, context.result_plan
        known = context.result is not None and of is not None and of.clearance == lengths
        struck = context.result.struck if known and context.result is not None else ()
        return station_from_above(self.mount, lengths, struck)

    def outcome(self) -> SeatOutcome | None:
        """How the passes fare, from checks of this seat or looked up in the study; None without both."""
        zeta = zeta_deg(self.mount)
        settled = self.live_deg is None or self.live_deg == self._context.plan.mount.keyway_bearing_deg
        seat = zeta, self._context.plan.mount.index_hole, settled
        if self._outcome[0] != seat:
            made = None
            if settled and self._worked_out:
                made = outcome_from_checks(
                    self.passes, {k: check for k, (check, _) in self._worked_out.items()}
                )
            if made is None and self.study is not None:
                made = outcome_from_study(self.study, zeta, self._context.plan.mount.index_hole)
            self._outcome = (seat, made)
        return self._outcome[1]

    def rows(self, outcome: SeatOutcome) -> tuple[TroubleRow, ...]:
        """The list of what is lost or rests here."""
        return trouble_rows(outcome, self.passes, self._worked_out)

    @property
    def best_evening(self) -> BestEvening | None:
        """The seat whose evening is best; None while unknown, or where no evening is worth anything."""
        return None if self.by_evening is None else self.by_evening.best

    @property
    def best_alone(self) -> BestSeat | None:
        """The best seat by the passes alone; None while it is unknown or nothing is studied."""
        return self.study.best if self.study is not None and self.study.passes else None

    @property
    def best(self) -> BestEvening | BestSeat | None:
        """The seat that is recommended: by the evening, and until that is known by the passes alone."""
        return self.best_evening or self.best_alone

    def best_seat(self) -> tuple[float, str] | None:
        """Bearing and hole of the seat that is recommended; None while unknown or nothing is studied."""
        if self.best_evening is not None:
            return self.best_evening.keyway_bearing_deg, self.best_evening.index_hole
        return self._seat_alone()

    def _seat_alone(self) -> tuple[float, str] | None:
        if self.study is None or self.best_alone is None:
            return None
        return self.study.hole_of_best.best_rounded_deg, self.study.best.index_hole

    def second_words(self) -> str:
        """The better of the study's two that is another place than the seat that is recommended."""
        study, seat = self.study, self.best_seat()
        if study is None or seat is None:
            return ""
        if study.best.forbidden or study.second_best is None:
            return second_best_sentence(study.second_best, study.best)
        other = elsewhere(study.best, study.second_best, seat[0])
        return "" if other is None else second_best_sentence(other, study.best)

    def other_answer(self) -> str:
        """Under the recommended seat: what the passes alone say, or that the evening is still to be asked."""
        alone = self._seat_alone()
        if self.study is None or alone is None:
            return ""
        if self.best_evening is not None:
            return f"By the passes alone: {seat_name(*alone)}, {loss_words(self.study.best)}."
        if self.by_evening is not None:
            return "By the passes alone: no seat's evening is worth anything."
        if self._context.runner.busy_words:
            return "By the passes alone; the seats' evenings are being weighed."
        return "By the passes alone; the seats' evenings are not weighed."

    def first_sentence(self) -> str:
        """Where to turn the keyway and what it saves, or why that is not known yet."""
        outcome = self.outcome()
        if not self._context.plan.satellites or self.study is None or outcome is None:
            return unstudied_sentence(self._context)
        told = self._evening_saving()
        if told is not None:
            return evening_saving_sentence(told)
        alone = saving_sentence(saving(self.study, self.mount, outcome, self._context.plan.seat_limits))
        return f"By the passes alone: {alone[0].lower()}{alone[1:]}" if self.study.passes else alone

    def _evening_saving(self) -> EveningSaving | None:
        """What turning to the recommended seat gains; None while the evenings are not known."""
        context = self._context
        if self.by_evening is None or self.by_evening.best is None:
            return None
        mount, result = self.mount, context.result
        settled = mount == context.plan.mount and context.result_plan == context.plan
        if settled and result is not None:
            here = evening_of_order(result.order)
        else:
            here = evening_of_curve(self.by_evening.curve_of(mount.index_hole), mount)
        return evening_saving(self.by_evening.best, mount, here, context.plan.seat_limits)

    def holes_best(self) -> tuple[str, ...]:
        """The best seat of each hole in words; nothing where there is but one hole."""
        holes = self.study.holes if self.study is not None else ()
        return tuple(hole_best_words(hole) for hole in holes) if len(holes) > 1 else ()

    def at_best(self) -> bool:
        """The keyway stands at the seat that is recommended."""
        if self.best_evening is not None:
            return stands_at(self.best_evening, self._context.plan.mount)
        return self.study is not None and stands_at_best(self.study, self._context.plan.mount)

    def index_of(self, key: PassKey | None) -> int:
        """Index of a pass among those shown, -1 if it is not there."""
        if self._places[0] is not self.passes:
            keys = [PassKey.of(pass_) for pass_ in self.passes]
            self._places = self.passes, {known: place for place, known in reversed(list(enumerate(keys)))}
        return -1 if key is None else self._places[1].get(key, -1)

    def to_decide(self) -> int:
        """How many passes are not clear, if the best has fewer; by the evening, 1 if it is to be turned."""
        told = self._evening_saving()
        if told is not None:
            return 0 if told.stays else 1
        return 0 if self.study is None else not_clear_needlessly(self.study, self._context.plan.mount)
