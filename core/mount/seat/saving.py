"""What turning the keyway to the study's best saves against the seat as it stands, and the sentence of it.

It is counted in passes that are *held*: followed all through, and so without turning back. The best has
fewest passes out of reach first, so that in rare evenings it holds fewer than the seat as it stands and works
more; and it may save nothing and only give more room. The sentence says each of these for what it is.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.base.words import bearing_text
from core.mount.evening.lost import OFF_BEAM
from core.mount.model.chain import CorrectionState, correction_state, fixed_offset_deg
from core.mount.model.station import Mount
from core.mount.seat.limits import SeatLimit, limits_at
from core.mount.seat.outcome import NOTHING_S, SeatOutcome, outcome_from_study
from core.mount.seat.study import SeatStudy
from core.mount.seat.words import lost_words, seat_name


@dataclass(frozen=True)
class Saving:
    """The seat as it stands beside the best.

    Attributes:
        keyway_bearing_deg, index_hole: the best seat, its bearing rounded.
        present_deg, hole_in_use: the seat as it stands.
        here, there: how they fare at the seat as it stands and at the best.
        at_best: it stands there already.
        all_forbidden: every bearing is forbidden, and the best is told as if none were.
        forbidden_here: the forbidden arcs the keyway lies in as it stands.
        correction: whether tonight's correction holds for the seat as it stands.
    """

    keyway_bearing_deg: float
    index_hole: str
    present_deg: float
    hole_in_use: str
    here: SeatOutcome
    there: SeatOutcome
    at_best: bool
    all_forbidden: bool
    forbidden_here: tuple[SeatLimit, ...]
    correction: CorrectionState

    @property
    def saved(self) -> int:
        """Passes that need no turning back at the best and do as it stands; negative where it holds fewer."""
        return self.there.held - self.here.held

    @property
    def passes(self) -> int:
        """How many were studied."""
        return len(self.here.passes)


def saving(study: SeatStudy, mount: Mount, here: SeatOutcome, limits: tuple[SeatLimit, ...] = ()) -> Saving:
    """What the best of a study saves.

    Args:
        study: of the seat.
        mount: as it stands.
        here: how the studied passes fare as it stands.
        limits: the plan's forbidden arcs.
    """
    best, best_deg = study.best, study.hole_of_best.best_rounded_deg
    at_best = stands_at_best(study, mount)
    shift = fixed_offset_deg(mount, study.hole_of_best.hole)
    return Saving(
        keyway_bearing_deg=best_deg,
        index_hole=best.index_hole,
        present_deg=mount.keyway_bearing_deg,
        hole_in_use=mount.index_hole,
        here=here,
        there=here if at_best else outcome_from_study(study, best_deg + shift, best.index_hole),
        at_best=at_best,
        all_forbidden=best.forbidden,
        forbidden_here=limits_at(mount.keyway_bearing_deg, limits),
        correction=correction_state(mount),
    )


def stands_at_best(study: SeatStudy, mount: Mount) -> bool:
    """The mount stands at the best seat already, to a tenth of a degree."""
    present, best = mount.keyway_bearing_deg, study.hole_of_best.best_rounded_deg
    return mount.index_hole == study.best.index_hole and round(present, 1) % 360.0 == round(best, 1) % 360.0


def saving_sentence(told: Saving) -> str:
    """Where to turn the keyway and what that saves, in one sentence.

    ``"Turn the keyway to 143.0 deg true, hole A: 9 of 12 passes go without turning back; as it stands 5 do (4
    saved)."``
    """
    if not told.passes:
        return "There are no passes to seat the keyway by."
    if _stays(told):
        head, tail = _stay_words(told)
    else:
        head, tail = f"{_turn_words(told)}: {_held_words(told, told.there)}", _saved_words(told)
    return f"{head}{tail}{_correction_words(told)}."


def _stays(told: Saving) -> bool:
    """It stands at the best, or where the best saves nothing and nothing forbids it."""
    if told.at_best:
        return True
    better = told.saved > 0 or told.there.in_reach > told.here.in_reach
    better = better or (told.saved == 0 and told.here.lost_s - told.there.lost_s >= NOTHING_S)
    return not better and (told.all_forbidden or not told.forbidden_here)


def _stay_words(told: Saving) -> tuple[str, str]:
    where = f"{bearing_text(told.present_deg)} deg true, hole {told.hole_in_use}"
    head = f"The keyway stands best as it is, {where}" if told.at_best else f"Leave the keyway at {where}"
    if told.all_forbidden:
        head += ", though every bearing is forbidden"
    return f"{head}: {_held_words(told, told.here)}", "" if told.at_best else _no_better_words(told)


def _no_better_words(told: Saving) -> str:
    """What turning to the best would do where it saves nothing: the study took it for its room."""
    best = seat_name(told.keyway_bearing_deg, told.index_hole)
    if told.here.held == told.passes:
        return f"; {best}, only gives more room"
    return f", and turning it to {best}, saves none" + (" but gives more room" if told.saved == 0 else "")


def _turn_words(told: Saving) -> str:
    hole = f"hole {told.index_hole}"
    if told.index_hole != told.hole_in_use:
        hole += f" instead of {told.hole_in_use}"
    lead = "Every bearing is forbidden; were none, turn" if told.all_forbidden else "Turn"
    return f"{lead} the keyway to {bearing_text(told.keyway_bearing_deg)} deg true, {hole}"


def _held_words(told: Saving, at: SeatOutcome) -> str:
    """``"9 of 12 passes go without turning back"``, with what is out of reach where anything is."""
    if told.passes == 1:
        if at.held:
            return "the one pass goes without turning back"
        return "the one pass needs turning back" if at.in_reach else "the one pass is out of reach"
    if at.held == told.passes:
        return f"all {told.passes} passes go without turning back"
    words = f"{at.held} of {told.passes} passes {'goes' if at.held == 1 else 'go'} without turning back"
    away = told.passes - at.in_reach
    return f"{words} and {away} {'is' if away == 1 else 'are'} out of reach" if away else words


def _saved_words(told: Saving) -> str:
    """What that is against the seat as it stands."""
    here, there, saved = told.here, told.there, told.saved
    words = "; as it stands " + (_count_do(here.held) if saved else "as many do")
    more = there.in_reach - here.in_reach
    less = here.lost_s - there.lost_s
    if saved > 0:
        words += f" ({saved} saved)"
    elif more > 0:
        words += f", but {more} more {'is' if more == 1 else 'are'} out of reach"
    elif saved == 0 and less >= NOTHING_S:
        words += f", with {lost_words(less).removesuffix(f' {OFF_BEAM}')} more {OFF_BEAM}"
    if told.forbidden_here and not told.all_forbidden:
        why = next((f" ({limit.why})" for limit in told.forbidden_here if limit.why), "")
        words += f", but there it may not point{why}"
    return words


def _count_do(count: int) -> str:
    if not count:
        return "none does"
    return f"{count} {'does' if count == 1 else 'do'}"


def _correction_words(told: Saving) -> str:
    """What becomes of tonight's correction."""
    if told.correction == "void":
        return "; tonight's correction is void for this seat and not counted"
    if told.correction == "holds" and not _stays(told):
        return "; turning it makes tonight's correction void"
    return ""
