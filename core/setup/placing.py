"""Where the keyway was found to point, held against where the plan wants it and what tonight tolerates."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.angles import wrap_180
from core.base.units import INSIDE_DEG
from core.base.words import bearing_text, figure
from core.mount.model.station import Mount
from core.mount.seat.by_evening import BestEvening
from core.mount.seat.choice import BestSeat

#: Turned by less, a tripod is not turned on purpose.
_STANDS_DEG = 0.05


@dataclass(frozen=True)
class Placing:
    """A keyway as it was found.

    Attributes:
        found_deg, planned_deg: true bearings.
        turn_deg: by how much the tripod must turn to stand as planned, clockwise positive, -180 to 180.
        off_best_deg: how far it lies clockwise of tonight's best seat; None where that is not known, or of
            another hole.
        within: whether the best seat tolerates that; None likewise.
        back_deg: by how much the tripod must turn to come within it, clockwise positive; 0 where it is.
    """

    found_deg: float
    planned_deg: float
    turn_deg: float
    off_best_deg: float | None
    within: bool | None
    back_deg: float


def placing(found_deg: float, mount: Mount, best: BestSeat | BestEvening | None) -> Placing:
    """A keyway found at a true bearing.

    Args:
        found_deg: true bearing.
        mount: as planned.
        best: tonight's best seat, where it is known.
    """
    planned_deg = mount.keyway_bearing_deg
    turn_deg = float(wrap_180(planned_deg - found_deg))
    if best is None or best.index_hole != mount.index_hole:
        return Placing(found_deg, planned_deg, turn_deg, None, None, 0.0)
    off_deg = float(wrap_180(found_deg - best.keyway_bearing_deg))
    minus, plus = best.place_within_deg
    around = plus - minus >= 360.0 - INSIDE_DEG
    places = (off_deg - 360.0, off_deg, off_deg + 360.0)  # a tolerance may reach past half a turn
    within = around or any(minus - INSIDE_DEG <= place <= plus + INSIDE_DEG for place in places)
    back_deg = 0.0
    if not within:
        ways = [float(wrap_180(minus - off_deg)), float(wrap_180(plus - off_deg))]
        back_deg = min(ways, key=abs)
    return Placing(found_deg, planned_deg, turn_deg, off_deg, within, back_deg)


def turn_figure(one: Placing) -> str:
    """The large figure: ``3.2 deg clockwise``, or that it stands."""
    if abs(one.turn_deg) < _STANDS_DEG:
        return "0.0 deg: it stands"
    return f"{figure(abs(one.turn_deg))} deg {_side(one.turn_deg)}"


def turn_sentence(one: Placing) -> str:
    """What to do so that the keyway points as planned."""
    planned = bearing_text(one.planned_deg)
    if abs(one.turn_deg) < _STANDS_DEG:
        return f"The keyway points as the plan says, {planned} true."
    return f"Turn the tripod so far, seen from above, and the keyway points as planned, {planned} true."


def within_sentence(one: Placing, mount: Mount, best: BestSeat | BestEvening | None) -> str:
    """Whether tonight tolerates where it stands, and how well it must then be known."""
    if best is None:
        return "What tonight tolerates is not known yet: it follows from the study of the seat."
    if one.within is None or one.off_best_deg is None:
        return (
            f"Tonight's best seat is with hole {best.index_hole}, and hole {mount.index_hole} is in use: "
            "what is tolerated there is not known."
        )
    off = f"{figure(abs(one.off_best_deg))} deg {_side(one.off_best_deg)} of tonight's best"
    if abs(one.off_best_deg) < _STANDS_DEG:
        off = "at tonight's best"
    known = math.floor(best.know_to_deg * 10.0 + 1e-9) / 10.0
    know = f"Know it to {figure(known)} deg." if known > 0.0 else "Know it better than 0.1 deg."
    if one.within:
        return f"Good enough tonight: {off}, and that may be. {know}"
    back = f"{figure(math.ceil(abs(one.back_deg) * 10.0 - 1e-9) / 10.0)} deg {_side(one.back_deg)}"
    return f"Too far tonight: {off}. Turn at least {back}. {know}"


def enough_sentence(sigma_deg: float | None, by: str, best: BestSeat | BestEvening | None) -> str:
    """Whether a way to north is good enough for tonight: two sigma within the tolerance."""
    if sigma_deg is None or best is None:
        return ""
    known = math.floor(best.know_to_deg * 10.0 + 1e-9) / 10.0
    twice = f"{figure(2.0 * sigma_deg)} deg (two sigma) by {by}"
    if 2.0 * sigma_deg <= best.know_to_deg:
        return f"{twice}: good enough, {figure(known)} deg is needed."
    return f"{twice}: not good enough, {figure(known)} deg is needed. Take a sighting (step 4)."


def _side(turn_deg: float) -> str:
    return "clockwise" if turn_deg > 0.0 else "counter-clockwise"
