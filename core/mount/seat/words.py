"""The seat in words: what is lost where the keyway points, why, and how good the best seats are."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from core.base.times import clock
from core.base.words import bearing_text, listed
from core.mount.evening.lost import OFF_BEAM
from core.mount.model.chain import usable_overlap_deg
from core.mount.model.from_above import FromAbove
from core.mount.model.results import PassCheck, Reason, Verdict
from core.mount.model.station import Mount
from core.mount.seat.by_evening import BestEvening
from core.mount.seat.choice import BestSeat
from core.mount.seat.curve import CurveSteps
from core.mount.seat.evenings import EveningCurve
from core.mount.seat.limits import SeatLimit, limits_at
from core.mount.seat.outcome import NOTHING_S, PassAtSeat, PassId, SeatOutcome, pass_id
from core.mount.seat.study import HoleStudy
from core.passes.track import Pass

#: A place that must be met closer than this is told so, not as "within 0".
_SHARP_DEG = 0.1


def lost_words(seconds: float) -> str:
    """``"nothing lost"``, ``"34 s off the beam"``, ``"3.4 minutes off the beam"``.

    By the passes alone nothing is let go for another and nothing joined late: what is lost is off the beam.
    """
    if seconds < NOTHING_S:
        return "nothing lost"
    figure = f"{seconds:.0f} s" if seconds < 99.5 else f"{seconds / 60.0:.1f} minutes"
    return f"{figure} {OFF_BEAM}"


def outcome_sentence(outcome: SeatOutcome) -> str:
    """``"7 of 13 passes are not clear, 3.4 minutes off the beam"``."""
    count, bad = len(outcome.passes), outcome.not_clear
    if not count:
        return "There are no passes to study"
    if outcome.lost_s < NOTHING_S:
        loss = "nothing lost"
    else:
        loss = ("" if outcome.exact else "about ") + lost_words(outcome.lost_s)
    if not bad:
        whole = f"All {count} passes are clear" if count > 1 else "The one pass is clear"
    else:
        whole = (
            f"{bad} of {count} {'passes' if count > 1 else 'pass'} {'is' if bad == 1 else 'are'} not clear"
        )
    return f"{whole}, {loss}"


def outcome_details(outcome: SeatOutcome) -> str:
    """How those that are not clear are served: ``"3 split, 1 part, 2 resting"``; empty where all is clear."""
    told = []
    for word in (Verdict.OUT_OF_REACH, Verdict.SPLIT, Verdict.PART):
        count = sum(here.verdict == word for here in outcome.passes)
        if count:
            told.append(f"{count} {word}")
    resting = sum(here.held and here.resting for here in outcome.passes)
    if resting:
        told.append(f"{resting} resting")
    return ", ".join(told)


def short_why(here: PassAtSeat) -> str:
    """Why a pass is in the list, in the few words the study knows."""
    told = [str(here.verdict)]
    if here.held and here.resting:
        told.append("rests at a guard, inside the beam")
    if not here.harmless:
        told.append(lost_words(here.lost_s))
    return ", ".join(told)


def full_why(check: PassCheck, reason: Reason | None = None) -> str:
    """Why a pass is in the list, with time (UTC) and bearing, in one line."""
    crossing = check.crossing
    if reason is not None and reason.strikes and not check.ways:
        strike = reason.strikes[0]
        lost = lost_words(check.seconds_lost).removesuffix(f" {OFF_BEAM}")
        return f"{lost}: strikes {strike.standing} at {clock(strike.utc_s, False)}"
    if check.chosen is not None and check.chosen.rest is not None and check.split is None and not check.part:
        rest = check.chosen.rest
        seconds = rest.end_utc_s - rest.start_utc_s < 100.0
        start, end = clock(rest.start_utc_s, seconds), clock(rest.end_utc_s, seconds)
        held = f"{rest.seconds:.0f} s between {start} and {end}" if rest.comes_off else f"{start} to {end}"
        return f"rests {held}, {rest.where}, {rest.loss_db:.1f} dB"
    if crossing is None:
        return lost_words(check.seconds_lost)
    # One line in a narrow list, whose heading says that the seconds are off the beam.
    until = "to" if crossing.coming_off else "at"
    lost = lost_words(check.seconds_lost).removesuffix(f" {OFF_BEAM}")
    return (
        f"{lost}: {crossing.stop} {until} {clock(crossing.utc_s, False)}, "
        f"{bearing_text(crossing.bearing_deg)} deg true"
    )


@dataclass(frozen=True)
class TroubleRow:
    """One row of the list of passes that lose something or rest.

    Attributes:
        index: of the pass, into those studied.
        verdict, resting: for its mark.
        satellite, aos, peak, why: the texts; AOS is UTC.
        reason: the whole reason, or empty.
    """

    index: int
    verdict: Verdict
    resting: bool
    satellite: str
    aos: str
    peak: str
    why: str
    reason: str

    @property
    def spoken(self) -> str:
        """The row for a screen reader."""
        return f"{self.satellite}, {self.aos} UTC, {self.peak}, {self.why}"


def trouble_rows(
    outcome: SeatOutcome, passes: tuple[Pass, ...], worked_out: Mapping[PassId, tuple[PassCheck, Reason]]
) -> tuple[TroubleRow, ...]:
    """The rows of an outcome of these passes; whole reasons where it is exact and a pass is worked out."""
    rows = []
    for here in outcome.troubled:
        pass_ = passes[here.index]
        known = worked_out.get(pass_id(pass_)) if outcome.exact else None
        row = TroubleRow(
            index=here.index,
            verdict=here.verdict,
            resting=here.resting,
            satellite=pass_.satellite,
            aos=clock(pass_.aos.utc_s, False),
            peak=f"peak {pass_.peak.elevation_deg:.0f} deg",
            why=short_why(here) if known is None else full_why(*known),
            reason="" if known is None else known[1].text,
        )
        rows.append(row)
    return tuple(rows)


def travel_words(mount: Mount) -> str:
    """Travel, guard, and what they leave twice or not at all."""
    overlap = usable_overlap_deg(mount.azimuth)
    words = f"Travel {mount.azimuth.travel_deg:g} deg, guard {mount.azimuth.guard_deg:g} deg"
    if overlap > 0.0:
        return f"{words}, overlap {overlap:g} deg"
    return f"{words}, {-overlap:g} deg cannot be pointed to" if overlap < 0.0 else words


def seat_name(keyway_bearing_deg: float, hole: str) -> str:
    """``"86.5 deg, hole B"``."""
    return f"{bearing_text(keyway_bearing_deg)} deg, hole {hole}"


def tolerance_sentence(best: BestSeat | BestEvening) -> str:
    """Both tolerances, kept apart; rounded to the safe side."""
    minus, plus = (abs(side) for side in best.place_within_deg)
    if minus + plus >= 360.0 - 1e-6:
        placed = "Set it anywhere"
    elif max(minus, plus) < _SHARP_DEG:
        placed = f"Set it to better than {_SHARP_DEG:g} deg"
    elif _down(minus) == _down(plus):
        placed = f"Set it within ±{_down(plus)} deg"
    else:
        placed = f"Set it within -{_down(minus)} / +{_down(plus)} deg"
    known = _down(best.know_to_deg) if best.know_to_deg >= _SHARP_DEG else f"better than {_SHARP_DEG:g}"
    return f"{placed}. Then measure it to {known} deg and correct the dials."


def _down(deg: float) -> str:
    """Rounded down to a tenth: what is told is safe to rely on."""
    return f"{math.floor(deg * 10.0 + 1e-9) / 10.0:g}"


def loss_words(best: BestSeat) -> str:
    """What a best seat leaves undone: ``"nothing lost"`` or ``"2 split, 1.2 minutes off the beam"``."""
    counts = ((best.out_of_reach, "out of reach"), (best.splits, "split"), (best.parts, "part"))
    told = [f"{count} {word}" for count, word in counts if count]
    return ", ".join([*told, lost_words(best.seconds_lost)])


def forbidden_words(limits: tuple[SeatLimit, ...]) -> str:
    """What forbids a bearing: ``"Forbidden here: 300.0 to 340.0 deg (the wall)"``; empty without limits."""
    return f"Forbidden here: {_limits_words(limits)}" if limits else ""


def forbidden_seat_sentence(mount: Mount, limits: tuple[SeatLimit, ...]) -> str:
    """That the keyway stands in a forbidden arc, and which; empty where it may point as it does."""
    here = limits_at(mount.keyway_bearing_deg, limits)
    if not here:
        return ""
    at = bearing_text(mount.keyway_bearing_deg)
    return f"The keyway may not point where it is planned, {at} deg true; forbidden: {_limits_words(here)}."


def _limits_words(limits: tuple[SeatLimit, ...]) -> str:
    told = [
        f"{bearing_text(limit.from_deg)} to {bearing_text(limit.to_deg)} deg"
        + (f" ({limit.why})" if limit.why else "")
        for limit in limits
    ]
    return "; ".join(told)


def second_best_sentence(second: BestSeat | None, best: BestSeat) -> str:
    """What to do if the ground forbids the best, or that the forbidden arcs leave nothing."""
    if best.forbidden:
        return "Every bearing is forbidden: the best is told as if none were."
    if second is None:
        return "The forbidden arcs leave no other place."
    where = seat_name(second.keyway_bearing_deg, second.index_hole)
    return f"If a rock or a wall forbids it: {where}, {loss_words(second)}."


def hole_best_words(hole: HoleStudy) -> str:
    """One hole's best seat: ``"A 155.4 deg, nothing lost"``."""
    return f"{hole.hole.name} {bearing_text(hole.best_rounded_deg)} deg, {loss_words(hole.best)}"


def station_description(above: FromAbove, outcome: SeatOutcome | None) -> str:
    """The picture from above in words, for those who cannot see it."""
    used = next(hole.name for hole in above.holes if hole.in_use)
    words = (
        f"Keyway at {bearing_text(above.keyway_deg)} deg true, pin in hole {used}. "
        f"Counter-clockwise stop at {bearing_text(above.counter_clockwise_stop_deg)}, "
        f"clockwise stop at {bearing_text(above.clockwise_stop_deg)} deg true."
    )
    if above.overlap is not None:
        words += f" Overlap of {above.overlap.span_deg:g} deg from {bearing_text(above.overlap.start_deg)}."
    if above.strikes:
        arcs = [f"{bearing_text(arc.start_deg)} to {bearing_text(arc.end_deg)}" for arc in above.strikes]
        words += f" The boom strikes at some elevation from {listed(arcs)} deg true."
    return words if outcome is None else f"{words} {outcome_sentence(outcome)}."


def curve_reading(steps: CurveSteps, keyway_bearing_deg: float) -> str:
    """What the curve says at a bearing: ``"143.5 deg: about 34 s off the beam, 2 split, 1 part"``."""
    k = steps.at(keyway_bearing_deg)
    seconds = float(steps.lost_s[k])
    told = [lost_words(seconds) if seconds < NOTHING_S else f"about {lost_words(seconds)}"]
    counts = (
        (steps.splits[k], "split"),
        (steps.parts[k], "part"),
        (steps.out_of_reach[k], "out of reach"),
    )
    told += [f"{count:.0f} {word}" for count, word in counts if count]
    return f"{bearing_text(keyway_bearing_deg)} deg: " + ", ".join(told)


def evening_reading(evenings: EveningCurve, keyway_bearing_deg: float) -> str:
    """What the evening is worth at a bearing, by the nearest seat asked: ``"evening worth 8,653 s"``."""
    return f"evening worth about {evenings.worth_s[evenings.nearest(keyway_bearing_deg)]:,.0f} s"


def curve_description(
    steps: CurveSteps, keyway_bearing_deg: float, hole: HoleStudy, evenings: EveningCurve | None = None
) -> str:
    """The curve of a hole in words, with what the evening is worth where that is known."""
    worst = float(steps.lost_s.max(initial=0.0))
    return (
        f"Seconds {OFF_BEAM} against keyway bearing with hole {hole.hole.name}. "
        f"At {curve_reading(steps, keyway_bearing_deg)}. "
        f"At worst {lost_words(worst)}; best by the passes alone at {hole_best_words(hole)}."
        + ("" if evenings is None else f" {_evenings_words(evenings, keyway_bearing_deg)}")
    )


def _evenings_words(evenings: EveningCurve, keyway_bearing_deg: float) -> str:
    most = int(evenings.worth_s.argmax())
    return (
        f"There the {evening_reading(evenings, keyway_bearing_deg)}, at most {evenings.worth_s[most]:,.0f} s "
        f"at {bearing_text(float(evenings.zeta_deg[most]))} deg."
    )
