"""What turning the keyway to the seat whose evening is best gains, and the sentences of it.

The counterpart of `saving`, which tells of the passes alone: here it is counted in what the evening is worth.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.base.words import bearing_text
from core.mount.evening.results import EveningOrder
from core.mount.model.chain import CorrectionState, correction_state, zeta_deg
from core.mount.model.station import Mount
from core.mount.seat.by_evening import AS_GOOD_S, BestEvening
from core.mount.seat.evenings import EveningCurve, over_the_top_in, turned_back_in
from core.mount.seat.limits import SeatLimit, limits_at
from core.mount.seat.words import seat_name


@dataclass(frozen=True)
class EveningAt:
    """The evening at one seat.

    Attributes:
        worth_s: what it is worth.
        turned_back, over_the_top: how many contacts have a move in mid-pass, are worked over the top.
        exact: of this very seat; else of the nearest that was asked.
    """

    worth_s: float
    turned_back: int
    over_the_top: int
    exact: bool = True


@dataclass(frozen=True)
class EveningSaving:
    """The evening as the keyway stands beside the best.

    Attributes:
        best: the seat whose evening is best.
        present_deg, hole_in_use: the seat as it stands.
        here: the evening there.
        at_best: it stands at the best already, to a tenth of a degree.
        forbidden_here: the forbidden arcs the keyway lies in as it stands.
        correction: whether tonight's correction holds for the seat as it stands.
    """

    best: BestEvening
    present_deg: float
    hole_in_use: str
    here: EveningAt
    at_best: bool
    forbidden_here: tuple[SeatLimit, ...]
    correction: CorrectionState

    @property
    def gain_s(self) -> float:
        """How much more the best seat's evening is worth; negative where it is as good and calmer."""
        return self.best.worth_s - self.here.worth_s

    @property
    def stays(self) -> bool:
        """Nothing is to be turned: it stands at the best, or that is only roomier and this not forbidden."""
        if self.at_best:
            return True
        there = (self.best.turned_back, self.best.over_the_top)
        better = self.gain_s >= AS_GOOD_S or there < (self.here.turned_back, self.here.over_the_top)
        return not better and (self.best.forbidden or not self.forbidden_here)


def evening_of_order(order: EveningOrder) -> EveningAt:
    """The evening of the seat that an order was made for."""
    return EveningAt(order.worth.worth_s, turned_back_in(order), over_the_top_in(order))


def evening_of_curve(curve: EveningCurve, mount: Mount) -> EveningAt:
    """The evening of the candidate nearest to where a mount stands."""
    k = curve.nearest(zeta_deg(mount))
    return EveningAt(float(curve.worth_s[k]), int(curve.turned_back[k]), int(curve.over_the_top[k]), False)


def evening_saving(
    best: BestEvening, mount: Mount, here: EveningAt, limits: tuple[SeatLimit, ...] = ()
) -> EveningSaving:
    """What turning to the seat whose evening is best gains.

    Args:
        best: that seat.
        mount: as it stands.
        here: the evening as it stands.
        limits: the plan's forbidden arcs.
    """
    present = mount.keyway_bearing_deg
    return EveningSaving(
        best=best,
        present_deg=present,
        hole_in_use=mount.index_hole,
        here=here,
        at_best=stands_at(best, mount),
        forbidden_here=limits_at(present, limits),
        correction=correction_state(mount),
    )


def stands_at(best: BestEvening, mount: Mount) -> bool:
    """The mount stands at the seat already, to a tenth of a degree."""
    present, there = mount.keyway_bearing_deg, best.keyway_bearing_deg
    return mount.index_hole == best.index_hole and round(present, 1) % 360.0 == round(there, 1) % 360.0


def evening_saving_sentence(told: EveningSaving) -> str:
    """Where to turn the keyway for the best evening, and what that gains, in one sentence.

    ``"Turn the keyway to 266.6 deg true, hole A: the evening is worth 9,021 s; as it stands 8,653 s."``
    """
    if told.stays:
        return f"{_stay_words(told)}{_void_words(told)}."
    here = f"; as it stands {worth_words(told.here)}"
    back = told.here.turned_back - told.best.turned_back
    if back > 0 and told.gain_s < AS_GOOD_S:
        here += f" and {back} more turned back"
    why = next((f" ({limit.why})" for limit in told.forbidden_here if limit.why), "")
    if told.forbidden_here and not told.best.forbidden:
        here += f", but there it may not point{why}"
    return f"{_turn_words(told)}: the evening is worth {told.best.worth_s:,.0f} s{here}{_void_words(told)}."


def worth_words(at: EveningAt) -> str:
    """``"8,653 s"``, ``"about 8,653 s"``."""
    return f"{'' if at.exact else 'about '}{at.worth_s:,.0f} s"


def _turn_words(told: EveningSaving) -> str:
    hole = f"hole {told.best.index_hole}"
    if told.best.index_hole != told.hole_in_use:
        hole += f" instead of {told.hole_in_use}"
    lead = "Every bearing is forbidden; were none, turn" if told.best.forbidden else "Turn"
    return f"{lead} the keyway to {bearing_text(told.best.keyway_bearing_deg)} deg true, {hole}"


def _stay_words(told: EveningSaving) -> str:
    where = f"{bearing_text(told.present_deg)} deg true, hole {told.hole_in_use}"
    head = f"The keyway stands best as it is, {where}" if told.at_best else f"Leave the keyway at {where}"
    if told.best.forbidden:
        head += ", though every bearing is forbidden"
    words = f"{head}: the evening is worth {worth_words(told.here)}"
    if told.at_best:
        return words
    best = seat_name(told.best.keyway_bearing_deg, told.best.index_hole)
    return f"{words}; {best}, only gives more room"


def _void_words(told: EveningSaving) -> str:
    """What becomes of tonight's correction."""
    if told.correction == "void":
        return "; tonight's correction is void for this seat"
    if told.correction == "holds" and not told.stays:
        return "; turning it makes tonight's correction void"
    return ""
