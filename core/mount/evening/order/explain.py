"""Why each pass is worked as it is, or left out: the alternative and what it would cost.

Every figure is the evening's worth (`worth`) as chosen less the worth of the best evening with the
alternative forced and all else chosen anew (`forced`). Comparing just the two contacts would mislead: the
seconds won on one pass by turning the other way are often lost on the next, which is then joined late.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from core.base.times import clock
from core.base.units import INSIDE_DEG
from core.base.words import first_few, listed
from core.mount.dial.readings import azimuth_dial
from core.mount.evening.joining import seconds_between
from core.mount.evening.order.chains import ContactChoice
from core.mount.evening.order.forced import ForcedChoices, ForcedEvening
from core.mount.evening.order.options import Option
from core.mount.evening.order.parts import worth_of
from core.mount.evening.order.spans import ContactSpan
from core.mount.evening.order.worth import Score
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount

#: What makes less of a difference is not told apart.
_TELLING_S = 1.0


@dataclass(frozen=True, eq=False)
class Explainer:
    """What explaining an evening looks at.

    Attributes:
        alternatives: to its solution.
        checks: all passes on the mount.
        mount: rates, guards and dials.
    """

    alternatives: ForcedChoices
    checks: tuple[PassCheck, ...]
    mount: Mount

    @property
    def options(self) -> tuple[Option, ...]:
        """What could be chosen."""
        return self.alternatives.problem.options

    @property
    def chosen(self) -> tuple[ContactChoice, ...]:
        """The contacts chosen, by time."""
        return self.alternatives.solution.contacts

    def option_of(self, contact: ContactChoice) -> Option:
        """What a contact of this evening or of another is cut from."""
        return self.options[contact.option]

    def span(self, contact: ContactChoice) -> ContactSpan:
        """A contact of this evening or of another, with its samples."""
        return ContactSpan(self.option_of(contact), contact.first, contact.last)

    def satellite(self, contact: ContactChoice) -> str:
        """The satellite of a contact."""
        return self.checks[self.option_of(contact).pass_index].pass_.satellite

    def cost(self, other: ForcedEvening) -> Score:
        """What the evening as chosen is worth more than another, goal by goal."""
        mine, its = self.alternatives.solution.score, self.alternatives.problem.units.score(other.value)
        return Score(mine.worth - its.worth, mine.clear - its.clear)

    def cost_s(self, other: ForcedEvening) -> float:
        """The same in weighted seconds."""
        return self.cost(other).worth * self.alternatives.problem.units.worth_s


def why_worked_so(explainer: Explainer, index: int) -> str:
    """Why a contact (its index in the solution) is worked in its way, from when to when."""
    sentences = (
        _way_sentence(explainer, index),
        _late_sentence(explainer, index),
        _early_sentence(explainer, index),
    )
    signal_s = explainer.span(explainer.chosen[index]).signal_s
    return (
        " ".join(sentence for sentence in sentences if sentence)
        or f"{signal_s:.0f} s of signal; no other way holds it."
    )


def _way_sentence(explainer: Explainer, index: int) -> str:
    """The best evening with this pass in another way."""
    chosen = explainer.chosen[index]
    mine = explainer.option_of(chosen)
    other = explainer.alternatives.with_any(
        place
        for place, option in enumerate(explainer.options)
        if option.pass_index == mine.pass_index and place != chosen.option
    )
    if other is None:
        return ""
    here, there = _kind(mine), _kind(explainer.option_of(other.forced))
    dial = _dial_text(explainer, other.forced)
    return (
        f"{here} from dial {_dial_text(explainer, chosen)}. "
        f"{there} from dial {dial}{_against(explainer, index, other)}."
    )


def _kind(option: Option) -> str:
    """How a pass is followed, as a sentence begins with it."""
    return "Split" if option.way is None else option.way[0].capitalize()


def _dial_text(explainer: Explainer, contact: ContactChoice) -> str:
    """What the azimuth dial shows where a contact starts."""
    return azimuth_dial(explainer.span(contact).start.m_deg, explainer.mount.azimuth).text


def _against(explainer: Explainer, index: int, other: ForcedEvening) -> str:
    """What stands against working a contact's pass in the other way, and the cost."""
    if explainer.cost(other).worth <= 0:
        return f": {_cost_of_nothing(explainer, other)}"
    option = explainer.option_of(other.forced)
    cost = f"{_which_way(explainer, index, other)} is worth {_less(explainer, other)}"
    met = None if option.whole or option.way is None else _stop_met(explainer, option)
    if met is not None:
        until = f"is beyond the {met.stop} until" if met.coming_off else f"meets the {met.stop} at"
        return f"{cost}: it {until} {clock(met.utc_s)}"
    if option.way is None:
        split = explainer.checks[option.pass_index].split
        when = "" if split is None else f" at {clock(split.start_utc_s)}"
        return f"{cost}: it leaves the satellite{when}"
    return f"{cost}{_passes_affected(explainer, other)}"


def _which_way(explainer: Explainer, index: int, other: ForcedEvening) -> str:
    """Whether the other way is the shorter one to turn to, from the contact before."""
    if index == 0:
        return ""
    here = explainer.span(explainer.chosen[index - 1]).end

    def seconds(contact: ContactChoice) -> float:
        return seconds_between(explainer.mount, here, explainer.span(contact).start)

    shorter = seconds(other.forced) < seconds(explainer.chosen[index])
    return ", the shorter turn," if shorter else ""


def _less(explainer: Explainer, other: ForcedEvening) -> str:
    """By how much less another evening is worth, and where that is not signal alone what for."""
    least = "" if other.exact else "at least "
    return f"{least}{seconds_words(explainer.cost_s(other))} less{_what_for(explainer, other)}"


def _what_for(explainer: Explainer, other: ForcedEvening) -> str:
    """The parts that a difference in worth is of; empty where it is of signal alone, or a least cost."""
    if not other.exact:
        return ""
    problem = explainer.alternatives.problem
    mine, its = worth_of(problem, explainer.chosen), worth_of(problem, other.contacts)
    parts = (
        ("signal", mine.signal_s - its.signal_s),
        ("changes of satellite", its.changes_s - mine.changes_s),
        ("changes of posture", its.postures_s - mine.postures_s),
        ("turning", its.turning_s - mine.turning_s),
    )
    told = [(name, part_s) for name, part_s in parts if abs(part_s) >= _TELLING_S]
    if [name for name, _ in told] in ([], ["signal"]):
        return ""
    return f" ({', '.join(f'{name} {part_s:+.0f} s' for name, part_s in told)})"


def seconds_words(seconds: float) -> str:
    """Whole seconds, below ten with a tenth: what decides may be less than one."""
    return f"{seconds:.1f} s" if seconds < 9.95 else f"{seconds:.0f} s"


def _cost_of_nothing(explainer: Explainer, other: ForcedEvening) -> str:
    """What decided where the worth is the same."""
    if not other.exact:
        return "may be worth as much"
    if explainer.cost(other).clear > 0:
        return "same worth; this way stays further from the stops"
    return "same worth; that would do as well"


class _StopMet(NamedTuple):
    """A stop or limit and when it is met: going up to it, or coming off it again."""

    stop: str
    utc_s: float
    coming_off: bool


def _stop_met(explainer: Explainer, option: Option) -> _StopMet | None:
    """The stop or limit that takes most of an option.

    What is lost before the option's first moment is lost to where it is held then, what is lost after its
    last to where it is held at last.
    """
    mount, pass_ = explainer.mount, explainer.checks[option.pass_index].pass_
    low, high = guarded_travel_deg(mount.azimuth)
    held = {
        "counter-clockwise stop": option.m_deg <= low + INSIDE_DEG,
        "clockwise stop": option.m_deg >= high - INSIDE_DEG,
        "elevation minimum": option.e_deg <= mount.elevation.minimum_deg + INSIDE_DEG,
        "elevation maximum": option.e_deg >= mount.elevation.maximum_deg - INSIDE_DEG,
    }
    late, early = float(option.utc_s[0]) - pass_.aos.utc_s, pass_.los.utc_s - float(option.utc_s[-1])
    for at_end in (True, False) if early >= late else (False, True):
        for stop, here in held.items():
            run = here[::-1] if at_end else here
            if run[0]:
                length = int(np.argmin(run)) if not run.all() else run.size
                moment_s = float(option.utc_s[-length if at_end else length - 1])
                return _StopMet(stop, moment_s, coming_off=not at_end)
    first = {stop: int(np.argmax(here)) for stop, here in held.items() if here.any()}
    if not first:
        return None
    stop = min(first, key=lambda name: first[name])
    return _StopMet(stop, float(option.utc_s[first[stop]]), coming_off=False)


def _passes_affected(explainer: Explainer, other: ForcedEvening) -> str:
    """What becomes of the other passes then."""
    mine = {explainer.option_of(one).pass_index: one for one in explainer.chosen}
    then = {explainer.option_of(one).pass_index: one for one in other.contacts}
    gone = [explainer.satellite(one) for index, one in mine.items() if index not in then]
    if gone:
        return f"; {_named(gone)} {_verb(gone, 'is', 'are')} then left out"

    def signal_s(contact: ContactChoice) -> float:
        return explainer.span(contact).signal_s

    less = [index for index, one in mine.items() if signal_s(then[index]) < signal_s(one) - 1.0]
    own = explainer.option_of(other.forced).pass_index
    if less in ([], [own]):
        return ""
    names = [explainer.satellite(mine[index]) for index in less]
    return f"; {_named(names)} {_verb(names, 'gets', 'get')} less"


def _verb(names: list[str], one: str, more: str) -> str:
    return one if len(names) == 1 else more


def _named(names: list[str]) -> str:
    return first_few(names, 2) if len(names) > 3 else listed(names)


def _late_sentence(explainer: Explainer, index: int) -> str:
    """Why it is joined late."""
    chosen = explainer.chosen[index]
    if chosen.first == 0:
        return ""
    utc_s = explainer.option_of(chosen).utc_s
    after = f", after {explainer.satellite(explainer.chosen[index - 1])}" if index else ""
    joined = f"Joined {float(utc_s[chosen.first] - utc_s[0]):.0f} s late{after}"
    sooner = explainer.alternatives.starting(chosen.option, 0)
    if sooner is None:
        return f"{joined}. No earlier start is possible."
    return f"{joined}. {_cost_of_all(explainer, sooner, 'from its start')}."


def _early_sentence(explainer: Explainer, index: int) -> str:
    """Why it is left early."""
    chosen = explainer.chosen[index]
    utc_s = explainer.option_of(chosen).utc_s
    if chosen.last == utc_s.size - 1:
        return ""
    more = index + 1 < len(explainer.chosen)
    following = f", to catch {explainer.satellite(explainer.chosen[index + 1])}" if more else ""
    left = f"Left {float(utc_s[-1] - utc_s[chosen.last]):.0f} s early{following}"
    longer = explainer.alternatives.ending(chosen.option, utc_s.size - 1)
    return f"{left}." if longer is None else f"{left}. {_cost_of_all(explainer, longer, 'to its end')}."


def _cost_of_all(explainer: Explainer, other: ForcedEvening, stretch: str) -> str:
    """What working the pass from its start on, or to its end, would cost."""
    if explainer.cost(other).worth <= 0:
        return f"Worked {stretch}: {_cost_of_nothing(explainer, other)}"
    affected = _passes_affected(explainer, other)
    return f"Worked {stretch}, the evening is worth {_less(explainer, other)}{affected}"


def why_left_out(explainer: Explainer, pass_index: int) -> str:
    """Why a pass that could be worked is not: the contact that takes its time, and the cost."""
    own = [one for one in explainer.options if one.pass_index == pass_index]
    with_it = explainer.alternatives.with_pass(pass_index)
    if with_it is None:
        return f"it cannot be reached in time for a contact of {min(one.least_s for one in own):.0f} s"
    less = explainer.cost(with_it).worth > 0
    same = "is worth the same" if with_it.exact else "may be worth as much"
    cost = f"with it the evening {f'is worth {_less(explainer, with_it)}' if less else same}"
    start, end = min(float(one.utc_s[0]) for one in own), max(float(one.utc_s[-1]) for one in own)
    spans = [explainer.span(one) for one in explainer.chosen]
    over_s = [min(end, span.end_utc_s) - max(start, span.start_utc_s) for span in spans]
    if over_s and max(over_s) > 0.0:
        name = explainer.satellite(explainer.chosen[int(np.argmax(over_s))])
        return f"overlaps {name}; {cost}"
    return f"there is no time to move to it and away; {cost}"
