"""What the Keyway page knows of the seat at this moment: of plan or drag, from study or checks."""

from __future__ import annotations

from dataclasses import dataclass

from app.window.state.context import Context, PassKey
from core.base.times import clock
from core.evaluate import Result
from core.mount.model.chain import zeta_deg
from core.mount.model.from_above import FromAbove, station_from_above
from core.mount.model.results import PassCheck, Reason, Verdict
from core.mount.model.station import Mount
from core.mount.seat.choice import BestSeat
from core.mount.seat.outcome import (
    PassHere,
    PassId,
    Standing,
    best_bearing_deg,
    checked,
    looked_up,
    pass_id,
    to_decide,
)
from core.mount.seat.saving import Fare, fare_at_best, saving
from core.mount.seat.study import SeatStudy, turned_to
from core.mount.seat.words import full_why, hole_best_words, saving_sentence, short_why
from core.passes.track import Pass
from core.plan.document import Plan
from core.plan.picks import picked_indices
from core.studies import seat_question


@dataclass(frozen=True)
class TroubleRow:
    """One row.

    Attributes:
        index: of the pass, into those studied.
        word, resting: for its mark. quiet: it only rests, nothing is lost.
        satellite, aos, peak, why: the texts. reason: the whole reason, or empty.
    """

    index: int
    word: Verdict
    resting: bool
    quiet: bool
    satellite: str
    aos: str
    peak: str
    why: str
    reason: str

    @property
    def spoken(self) -> str:
        """The row for a screen reader."""
        return f"{self.satellite}, {self.aos} UTC, {self.peak}, {self.why}"


class SeatNow:
    """The seat as it is shown.

    Attributes:
        live_deg: the keyway's bearing while it is being moved, ahead of the document; None otherwise.
        study: the study where it holds for the present plan, else None.
        passes: those studied, or to be studied.
    """

    def __init__(self, context: Context) -> None:
        self._context = context
        self.live_deg: float | None = None
        self.study: SeatStudy | None = None
        self.passes: tuple[Pass, ...] = ()
        self._seen: tuple[Plan, Plan | None, SeatStudy | None, Plan | None, Result | None] | None = None
        self._details: dict[PassId, tuple[PassCheck, Reason]] = {}
        self._standing: tuple[object, Standing | None] = (None, None)
        self._decide: tuple[object, int] = (None, 0)
        self._best: tuple[SeatStudy | None, float] = (None, 0.0)
        self._fare: tuple[SeatStudy | None, Fare] = (None, Fare(0, 0, 0.0))

    def take(self) -> None:
        """Look at what the context holds now; cheap where nothing changed."""
        context = self._context
        seen = (context.plan, context.result_plan, context.study, context.study_plan, context.result)
        if self._seen is not None and all(a is b for a, b in zip(seen, self._seen, strict=True)):
            return
        self._seen = seen
        of = context.study_plan
        holds = of is not None and seat_question(of) == seat_question(context.plan)
        self.study = context.study if holds else None
        self._details = {}
        result = context.result
        if result is not None and context.result_plan == context.plan:
            self._details = {
                pass_id(check.pass_): (check, reason)
                for check, reason in zip(result.checks, result.reasons, strict=True)
            }
        self._standing = (None, None)
        self.passes = self._passes_now()

    def _passes_now(self) -> tuple[Pass, ...]:
        if self.study is not None:
            return self.study.passes
        result, plan = self._context.result, self._context.plan
        if result is None or not plan.satellites:
            return ()
        picked = picked_indices(plan.picks, plan.satellites, result.passes)
        return tuple(result.passes[index] for index in picked if result.passes[index].cut != "both")

    @property
    def mount(self) -> Mount:
        """The mount where it stands or is being turned to."""
        mount = self._context.plan.mount
        return mount if self.live_deg is None else turned_to(mount, self.live_deg)

    @property
    def settled(self) -> bool:
        """The results at hand are of this very seat."""
        live = self.live_deg
        return bool(self._details) and (live is None or live == self._context.plan.mount.keyway_bearing_deg)

    def above(self) -> FromAbove:
        """The station from above."""
        return station_from_above(self.mount)

    def standing(self) -> Standing | None:
        """How the passes fare, from checks of this seat or looked up in the study; None without both."""
        zeta, settled = zeta_deg(self.mount), self.settled
        if self._standing[0] != (zeta, settled):
            made = None
            if settled:
                made = checked(self.passes, {key: pair[0] for key, pair in self._details.items()})
            if made is None and self.study is not None:
                made = looked_up(self.study, zeta)
            self._standing = ((zeta, settled), made)
        return self._standing[1]

    def rows(self, standing: Standing) -> tuple[TroubleRow, ...]:
        """The list of what is lost or rests here."""
        return tuple(self._row(here, standing.exact) for here in standing.troubled)

    def _row(self, here: PassHere, exact: bool) -> TroubleRow:
        pass_ = self.passes[here.index]
        known = self._details.get(pass_id(pass_)) if exact else None
        return TroubleRow(
            index=here.index,
            word=here.word,
            resting=here.resting,
            quiet=here.held and here.lost_s < 0.5,
            satellite=pass_.satellite,
            aos=clock(pass_.aos.utc_s, False),
            peak=f"peak {pass_.peak.elevation_deg:.0f} deg",
            why=short_why(here) if known is None else full_why(known[0]),
            reason="" if known is None else known[1].text,
        )

    def best_seat(self) -> tuple[float, str] | None:
        """Bearing and hole of the best seat; None while it is unknown or nothing is studied."""
        study = self.study
        if study is None or not study.passes:
            return None
        if self._best[0] is not study:
            self._best = (study, self._best_bearing(study.best))
        return self._best[1], study.best.index_hole

    def _best_bearing(self, best: BestSeat) -> float:
        assert self.study is not None
        return best_bearing_deg(self.study, self._context.plan.mount, best)

    def first_sentence(self) -> str:
        """Where to turn the keyway and what it saves, or why that is not known yet."""
        plan, study, standing = self._context.plan, self.study, self.standing()
        if not plan.satellites:
            return "No satellites yet: their passes tell where to turn the keyway."
        if study is None or standing is None:
            if self._context.runner.busy_words:
                return "Studying the seat: where to turn the keyway is told in a moment."
            return 'The seat is not studied: "Work it out" in the foot strip does that.'
        best = self.best_seat()
        if best is None:
            return saving_sentence(None)
        if self._fare[0] is not study:
            self._fare = (study, fare_at_best(study, plan.mount, best[0]))
        there = self._fare[1]
        return saving_sentence(saving(study, self.mount, best[0], standing, there, plan.seat_limits))

    def holes_best(self) -> tuple[str, ...]:
        """The best seat of each hole in words; nothing where there is but one hole."""
        holes = self.study.holes if self.study is not None else ()
        if len(holes) < 2:
            return ()
        return tuple(hole_best_words(hole.best, self._best_bearing(hole.best)) for hole in holes)

    def at_best(self) -> bool:
        """The keyway stands there already."""
        best, mount = self.best_seat(), self._context.plan.mount
        return best is not None and (round(mount.keyway_bearing_deg, 1), mount.index_hole) == (
            round(best[0], 1),
            best[1],
        )

    def index_of(self, key: PassKey | None) -> int:
        """Index of a pass among those shown, -1 if it is not there."""
        if key is None:
            return -1
        return next((k for k, pass_ in enumerate(self.passes) if PassKey.of(pass_) == key), -1)

    def to_decide(self) -> int:
        """How many passes are not clear, if the best seat has fewer."""
        study, mount = self.study, self._context.plan.mount
        if study is None:
            return 0
        key = (id(study), zeta_deg(mount))
        if self._decide[0] != key:
            self._decide = (key, to_decide(study, mount, zeta_deg(mount)))
        return self._decide[1]
