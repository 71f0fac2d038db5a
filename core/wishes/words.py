"""The ranked seats in words: why each stands where it stands."""

from __future__ import annotations

from core.base.words import bearing_text, listed
from core.wishes.ranked import RankedSeat, Wished

#: Costs less than this apart are alike, s.
_ALIKE_S = 0.5


def wished_sentence(wished: Wished) -> str:
    """The best seat, and the wish that it gives up."""
    if not wished.seats:
        return "Every keyway bearing is forbidden: no seat to choose."
    best = wished.seats[0]
    where = (
        f"{bearing_text(best.keyway_bearing_deg)} deg true with hole {best.index_hole} is best by all wishes"
    )
    if not best.given_up:
        return f"{where}: every wish is granted."
    gives_up = f"it gives up {listed(best.given_up)}"
    if wished.grants_all:
        return f"{where}: {gives_up}, though another bearing grants all."
    return f"{where}: no bearing grants all, and {gives_up}."


def reason_sentence(wished: Wished, rank: int) -> str:
    """Why the seat of a rank (0 the best) stands there."""
    seat, best = wished.seats[rank], wished.seats[0]
    told = [one.words for one in seat.met]
    told.append(f"Gives up {listed(seat.given_up)}." if seat.given_up else "Every wish is granted.")
    if rank:
        told.append(_behind(seat, best))
    return " ".join(told)


def _behind(seat: RankedSeat, best: RankedSeat) -> str:
    """By how much, and mostly by what."""
    behind = seat.cost_s - best.cost_s
    if behind < _ALIKE_S:
        return "As good as the first; what is granted is met less well, or it is further to turn."
    worst = max(zip(seat.met, best.met, strict=True), key=lambda pair: pair[0].cost_s - pair[1].cost_s)[0]
    return f"{behind:.0f} s behind the first, mostly by {worst.name}."
