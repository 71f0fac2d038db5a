"""The seat in words: what is lost where the keyway points, why, and what would be better. Pure."""

from __future__ import annotations

import math

from core.base.times import clock
from core.base.words import bearing_text
from core.mount.model.chain import usable_overlap_deg
from core.mount.model.from_above import FromAbove
from core.mount.model.results import PassCheck, Verdict
from core.mount.model.station import Mount
from core.mount.seat.choice import BestSeat, SeatLimit
from core.mount.seat.outcome import CurvePieces, PassHere, Standing
from core.mount.seat.saving import Fare, Saving

_NOTHING_S = 0.5
#: A place that must be met closer than this is told so, not as "within 0".
_SHARP_DEG = 0.1


def lost(seconds: float) -> str:
    """``"nothing lost"``, ``"34 s lost"``, ``"3.4 minutes lost"``."""
    if seconds < _NOTHING_S:
        return "nothing lost"
    return f"{seconds:.0f} s lost" if seconds < 99.5 else f"{seconds / 60.0:.1f} minutes lost"


def standing_sentence(standing: Standing) -> str:
    """``"7 of 13 passes are not clear, 3.4 minutes lost"``."""
    count, bad = len(standing.passes), standing.not_clear
    if not count:
        return "There are no passes to study"
    if standing.lost_s < _NOTHING_S:
        loss = "nothing lost"
    else:
        loss = ("" if standing.exact else "about ") + lost(standing.lost_s)
    if not bad:
        whole = f"All {count} passes are clear" if count > 1 else "The one pass is clear"
    else:
        whole = (
            f"{bad} of {count} {'passes' if count > 1 else 'pass'} {'is' if bad == 1 else 'are'} not clear"
        )
    return f"{whole}, {loss}"


def standing_details(standing: Standing) -> str:
    """How those that are not clear are served: ``"3 split, 1 part, 2 resting"``; empty where all is clear."""
    told = []
    for word in (Verdict.OUT_OF_REACH, Verdict.SPLIT, Verdict.PART):
        count = sum(here.word == word for here in standing.passes)
        if count:
            told.append(f"{count} {word}")
    resting = sum(here.held and here.resting for here in standing.passes)
    if resting:
        told.append(f"{resting} resting")
    return ", ".join(told)


def short_why(here: PassHere) -> str:
    """Why a pass is in the list, in the few words the study knows."""
    word = here.word if here.held else f"{here.word}, {lost(here.lost_s)}"
    if not here.held:
        return word
    if here.resting:
        rest = "rests at a guard, inside the beam"
        return f"{word}, {rest}" if here.lost_s < _NOTHING_S else f"{word}, {rest}, {lost(here.lost_s)}"
    return f"{word}, {lost(here.lost_s)}" if here.lost_s >= _NOTHING_S else word


def full_why(check: PassCheck) -> str:
    """Why a pass is in the list, with time (UTC) and bearing, in one line."""
    crossing = check.crossing
    if check.chosen is not None and check.chosen.rest is not None and check.split is None and not check.part:
        rest = check.chosen.rest
        seconds = rest.end_utc_s - rest.start_utc_s < 100.0
        start, end = clock(rest.start_utc_s, seconds), clock(rest.end_utc_s, seconds)
        held = f"{rest.seconds:.0f} s between {start} and {end}" if rest.comes_off else f"{start} to {end}"
        return f"rests {held}, {rest.where}, {rest.loss_db:.1f} dB"
    if crossing is None:
        return lost(check.seconds_lost)
    until = "to" if crossing.coming_off else "at"  # one line in a narrow list
    return (
        f"{lost(check.seconds_lost)}: {crossing.stop} {until} {clock(crossing.utc_s, False)}, "
        f"{bearing_text(crossing.bearing_deg)} deg true"
    )


def travel_words(mount: Mount) -> str:
    """Travel, guard, and what they leave twice or not at all."""
    overlap = usable_overlap_deg(mount.azimuth)
    words = f"Travel {mount.azimuth.travel_deg:g} deg, guard {mount.azimuth.guard_deg:g} deg"
    if overlap > 0.0:
        return f"{words}, overlap {overlap:g} deg"
    return f"{words}, {-overlap:g} deg cannot be pointed to" if overlap < 0.0 else words


def best_words(keyway_bearing_deg: float, hole: str) -> str:
    """``"86.5 deg, hole B"``."""
    return f"{bearing_text(keyway_bearing_deg)} deg, hole {hole}"


def tolerance_sentence(best: BestSeat) -> str:
    """Both tolerances, kept apart; rounded to the safe side."""
    minus, plus = (abs(side) for side in best.place_within_deg)
    if minus + plus >= 360.0 - 1e-6:
        placed = "The keyway may be placed anywhere"
    elif max(minus, plus) < _SHARP_DEG:
        placed = f"The keyway may be placed within less than {_SHARP_DEG:g} deg of it"
    else:
        placed = f"The keyway may be placed within -{_down(minus)} / +{_down(plus)} deg of it"
    known = _down(best.know_to_deg) if best.know_to_deg >= 0.1 else "better than 0.1"
    return f"{placed} if it is then measured and the dials corrected. It must then be known to {known} deg."


def _down(deg: float) -> str:
    """Rounded down, whole from 2 deg on, else to a tenth."""
    step = 1.0 if deg >= 2.0 else 10.0
    return f"{math.floor(deg * step + 1e-9) / step:g}"


def seat_outcome(best: BestSeat) -> str:
    """What a best seat leaves undone: ``"nothing lost"`` or ``"2 split, 1.2 minutes lost"``."""
    counts = ((best.out_of_reach, "out of reach"), (best.splits, "split"), (best.parts, "part"))
    told = [f"{count} {word}" for count, word in counts if count]
    return ", ".join([*told, lost(best.seconds_lost)])


def forbidden_words(limits: tuple[SeatLimit, ...]) -> str:
    """What forbids a bearing: ``"Forbidden here: 300.0 to 340.0 deg (the wall)"``; empty without limits."""
    if not limits:
        return ""
    told = [
        f"{bearing_text(limit.from_deg)} to {bearing_text(limit.to_deg)} deg"
        + (f" ({limit.why})" if limit.why else "")
        for limit in limits
    ]
    return "Forbidden here: " + "; ".join(told)


def second_best_sentence(second: BestSeat | None, best: BestSeat) -> str:
    """What to do if the ground forbids the best, or that the forbidden arcs leave nothing."""
    if best.forbidden:
        return "Every bearing is forbidden: the best is told as if none were."
    if second is None:
        return "The forbidden arcs leave no other place."
    where = best_words(second.keyway_bearing_deg, second.index_hole)
    return f"If a rock or a wall forbids it: {where}, {seat_outcome(second)}."


def saving_sentence(told: Saving | None) -> str:
    """Where to turn the keyway and what that saves, in one sentence; None while there are no passes.

    ``"Turn the keyway to 143.0 deg true, hole A: 9 of 12 passes go without turning back; as it stands 5 do (4
    saved)."``
    """
    if told is None or not told.passes:
        return "There are no passes to seat the keyway by."
    if _stay(told):
        head, tail = _stay_words(told)
    else:
        head, tail = f"{_turn_words(told)}: {_held_words(told, told.there)}", _saved_words(told)
    return f"{head}{tail}{_correction_words(told)}."


def _stay(told: Saving) -> bool:
    """It stands at the best, or where the best saves nothing and nothing forbids it."""
    if told.at_best:
        return True
    better = told.saved > 0 or told.there.in_reach > told.here.in_reach
    better = better or (told.saved == 0 and told.here.lost_s - told.there.lost_s >= _NOTHING_S)
    return not better and (told.all_forbidden or not told.forbidden_here)


def _stay_words(told: Saving) -> tuple[str, str]:
    where = f"{bearing_text(told.present_deg)} deg true, hole {told.hole_in_use}"
    head = f"The keyway stands best as it is, {where}" if told.at_best else f"Leave the keyway at {where}"
    if told.all_forbidden:
        head += ", though every bearing is forbidden"
    return f"{head}: {_held_words(told, told.here)}", "" if told.at_best else _no_better_words(told)


def _no_better_words(told: Saving) -> str:
    """What turning to the best would do where it saves nothing: the study took it for its room."""
    best = best_words(told.keyway_bearing_deg, told.index_hole)
    if told.here.held == told.passes:
        return f"; {best}, only gives more room"
    return f", and turning it to {best}, saves none" + (" but gives more room" if told.saved == 0 else "")


def _turn_words(told: Saving) -> str:
    hole = f"hole {told.index_hole}"
    if told.index_hole != told.hole_in_use:
        hole += f" instead of {told.hole_in_use}"
    lead = "Every bearing is forbidden; were none, turn" if told.all_forbidden else "Turn"
    return f"{lead} the keyway to {bearing_text(told.keyway_bearing_deg)} deg true, {hole}"


def _held_words(told: Saving, fares: Fare) -> str:
    """``"9 of 12 passes go without turning back"``, with what is out of reach where anything is."""
    if told.passes == 1:
        if fares.held:
            return "the one pass goes without turning back"
        return "the one pass needs turning back" if fares.in_reach else "the one pass is out of reach"
    if fares.held == told.passes:
        return f"all {told.passes} passes go without turning back"
    words = f"{fares.held} of {told.passes} passes {'goes' if fares.held == 1 else 'go'} without turning back"
    away = told.passes - fares.in_reach
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
    elif saved == 0 and less >= _NOTHING_S:
        words += f", with {lost(less).removesuffix(' lost')} more lost"
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
    if told.correction == "holds" and not _stay(told):
        return "; turning it makes tonight's correction void"
    return ""


def hole_best_words(best: BestSeat, keyway_bearing_deg: float) -> str:
    """One hole's best seat: ``"A 155.4 deg, nothing lost"``."""
    return f"{best.index_hole} {bearing_text(keyway_bearing_deg)} deg, {seat_outcome(best)}"


def station_description(above: FromAbove, standing: Standing | None) -> str:
    """The picture from above in words, for those who cannot see it."""
    used = next(hole.name for hole in above.holes if hole.in_use)
    words = (
        f"Keyway at {bearing_text(above.keyway_deg)} deg true, pin in hole {used}. "
        f"Counter-clockwise stop at {bearing_text(above.counter_clockwise_stop_deg)}, "
        f"clockwise stop at {bearing_text(above.clockwise_stop_deg)} deg true."
    )
    if above.overlap is not None:
        words += f" Overlap of {above.overlap.span_deg:g} deg from {bearing_text(above.overlap.start_deg)}."
    return words if standing is None else f"{words} {standing_sentence(standing)}."


def curve_reading(pieces: CurvePieces, keyway_bearing_deg: float) -> str:
    """What the curve says at a bearing: ``"143.5 deg: about 34 s lost, 2 split, 1 part"``."""
    k = pieces.at(keyway_bearing_deg)
    seconds = float(pieces.lost_s[k])
    told = [lost(seconds) if seconds < _NOTHING_S else f"about {lost(seconds)}"]
    counts = (
        (pieces.splits[k], "split"),
        (pieces.parts[k], "part"),
        (pieces.out_of_reach[k], "out of reach"),
    )
    told += [f"{count:.0f} {word}" for count, word in counts if count]
    return f"{bearing_text(keyway_bearing_deg)} deg: " + ", ".join(told)


def curve_description(
    pieces: CurvePieces, keyway_bearing_deg: float, best: BestSeat, best_bearing_deg: float
) -> str:
    """The curve of the best seat's hole in words."""
    worst = float(pieces.lost_s.max(initial=0.0))
    return (
        f"Seconds lost against keyway bearing with hole {best.index_hole}. "
        f"At {curve_reading(pieces, keyway_bearing_deg)}. "
        f"At worst {lost(worst)}; best at {hole_best_words(best, best_bearing_deg)}."
    )
