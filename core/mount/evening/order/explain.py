"""Why each pass is worked so, or not at all: the alternative refused and what it costs.

Every figure is a re-solving with that choice forced and all others made anew (`study` beside this):
the evening's worth as chosen less its worth then.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.times import clock
from core.base.units import INSIDE_DEG
from core.base.words import first_few, listed
from core.mount.dial.readings import azimuth_dial
from core.mount.drive.slew import move_seconds
from core.mount.evening.order.contacts import Cut
from core.mount.evening.order.options import Option
from core.mount.evening.order.solve import Chosen
from core.mount.evening.order.study import Refused, Study
from core.mount.evening.order.worth import Score
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import PassCheck
from core.mount.model.station import Station

#: Fewer degrees to the stops on the average are not worth a word.
_TELLING_DEG = 0.05


@dataclass(frozen=True, eq=False)
class Told:
    """An evening to be explained.

    Attributes:
        study: of its problem and solution.
        checks: all passes on the mount.
        station: the mount, antennas and steering.
    """

    study: Study
    checks: tuple[PassCheck, ...]
    station: Station

    @property
    def options(self) -> tuple[Option, ...]:
        """What could be chosen."""
        return self.study.problem.options

    def cut(self, chosen: Chosen) -> Cut:
        """A contact of this or another evening."""
        return Cut(self.options[chosen.option], chosen.first, chosen.last)

    def name(self, chosen: Chosen) -> str:
        """The satellite of a contact."""
        return self.checks[self.options[chosen.option].pass_index].pass_.satellite

    def less(self, refused: Refused) -> Score:
        """What the evening as chosen is worth more, goal by goal."""
        units = self.study.problem.units
        mine, other = self.study.solution.score, units.score(refused.value)
        return Score(
            mine.signal - other.signal, mine.clear - other.clear, mine.less_travel - other.less_travel
        )


def why_so(told: Told, place: int) -> str:
    """Why a contact (its place in the solution) is worked in its way, from when to when."""
    chosen = told.study.solution.contacts[place]
    return (
        " ".join(
            sentence
            for sentence in (
                _way_sentence(told, place),
                _late_sentence(told, place),
                _early_sentence(told, place),
            )
            if sentence
        )
        or f"It can be worked in no other way, for {told.cut(chosen).signal_s:.0f} s of signal."
    )


def _way_sentence(told: Told, place: int) -> str:
    """The best evening with this pass in another way."""
    chosen = told.study.solution.contacts[place]
    mine = told.options[chosen.option]
    found = [
        (index, told.study.with_option(index))
        for index, one in enumerate(told.options)
        if one.pass_index == mine.pass_index and index != chosen.option
    ]
    real = [(index, refused) for index, refused in found if refused is not None]
    if not real:
        return ""
    index, refused = max(real, key=lambda pair: pair[1].value)
    other = told.options[index]
    alternative = refused.contacts[refused.at]
    here, there = _kind(mine), _kind(other)
    start = (
        _dial_text(told, alternative)
        if here == there
        else f"{there} from dial {_dial_text(told, alternative)}"
    )
    words = f"{here} from dial {_dial_text(told, chosen)}, not {start}"
    return f"{words[0].upper()}{words[1:]}: {_because(told, place, refused, other)}."


def _kind(option: Option) -> str:
    return "split" if option.way is None else option.way[0]


def _dial_text(told: Told, chosen: Chosen) -> str:
    """What the azimuth dial shows where a contact starts."""
    cut = told.cut(chosen)
    return azimuth_dial(cut.place(cut.first)[0], told.station.mount.azimuth).text


def _because(told: Told, place: int, refused: Refused, other: Option) -> str:
    """What stands against the other way, and the cost."""
    signal = told.less(refused).signal
    which = _which_way(told, place, refused)
    if signal <= 0:
        return f"{which} {_lesser_cost(told, refused)}"
    cost = _cost_words(told, refused)
    met = None if other.whole or other.way is None else _meets(told, other)
    if met is not None:
        stop, moment, coming_off = met
        until = f"is past the {stop} until" if coming_off else f"meets the {stop} at"
        return f"{which} {until} {clock(moment)} and {cost}"
    if other.way is None:
        split = told.checks[other.pass_index].split
        when = "" if split is None else f" at {clock(split.start_utc_s)}"
        return f"a split leaves the satellite{when} and {cost}"
    return f"{which} {cost}{_consequence(told, refused)}"


def _which_way(told: Told, place: int, refused: Refused) -> str:
    """The way that is shorter to turn to, from the contact before."""
    if place == 0:
        return "that way"
    mount = told.station.mount
    before = told.cut(told.study.solution.contacts[place - 1])
    here = before.place(before.last)

    def seconds(chosen: Chosen) -> float:
        cut = told.cut(chosen)
        there = cut.place(cut.first)
        return float(move_seconds(mount, here[0], there[0], here[1], there[1]))

    shorter = seconds(refused.contacts[refused.at]) < seconds(told.study.solution.contacts[place])
    return "the short way" if shorter else "that way"


def _cost_words(told: Told, refused: Refused) -> str:
    least = "" if refused.exact else "at least "
    return f"loses {least}{seconds_words(told.less(refused).signal * told.study.problem.units.signal_s)}"


def seconds_words(seconds: float) -> str:
    """Whole seconds, below ten with a tenth: what decides may be less than one."""
    return f"{seconds:.1f} s" if seconds < 9.95 else f"{seconds:.0f} s"


def _lesser_cost(told: Told, refused: Refused) -> str:
    """What it costs where it costs no signal."""
    units = told.study.problem.units
    less = told.less(refused)
    heard = max(told.study.solution.score.signal * units.signal_s, 1.0)
    if less.clear > 0:
        nearer = less.clear * units.clear_deg_s
        mean = nearer / heard
        words = (
            f"{mean:.1f} deg in the evening's mean" if mean >= _TELLING_DEG else f"{nearer:.0f} deg seconds"
        )
        return f"is as much signal but nearer to the stops, by {words}"
    if less.less_travel > 0:
        return f"is as much signal but turns the motors {less.less_travel * units.travel_deg:.0f} deg more"
    return "would do as well"


def _meets(told: Told, option: Option) -> tuple[str, float, bool] | None:
    """The stop or limit that takes most of an option, and when: meeting it, or (True) coming off it again.

    What is lost before the option's first moment is lost to where it is held then, what is lost after its
    last to where it is held at last.
    """
    mount, pass_ = told.station.mount, told.checks[option.pass_index].pass_
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
                return stop, float(option.utc_s[-length if at_end else length - 1]), not at_end
    first = {stop: int(np.argmax(here)) for stop, here in held.items() if here.any()}
    if not first:
        return None
    stop = min(first, key=lambda name: first[name])
    return stop, float(option.utc_s[first[stop]]), False


def _consequence(told: Told, refused: Refused) -> str:
    """What becomes of the other passes then."""
    mine = {told.options[one.option].pass_index: one for one in told.study.solution.contacts}
    then = {told.options[one.option].pass_index: one for one in refused.contacts}
    gone = [told.name(one) for index, one in mine.items() if index not in then]
    if gone:
        return f", and {_named(gone)} would be left out"
    less = [index for index, one in mine.items() if _signal(told, then[index]) < _signal(told, one) - 1.0]
    own = told.options[refused.contacts[refused.at].option].pass_index
    return f", of {_named([told.name(mine[index]) for index in less])}" if less not in ([], [own]) else ""


def _named(names: list[str]) -> str:
    return first_few(names, 2) if len(names) > 3 else listed(names)


def _signal(told: Told, chosen: Chosen) -> float:
    return told.cut(chosen).signal_s


def _late_sentence(told: Told, place: int) -> str:
    """Why it is joined late."""
    solution = told.study.solution.contacts
    chosen = solution[place]
    if chosen.first == 0:
        return ""
    late_s = float(told.options[chosen.option].utc_s[chosen.first] - told.options[chosen.option].utc_s[0])
    refused = told.study.starting(chosen.option, 0)
    after = f" after {told.name(solution[place - 1])}" if place else ""
    if refused is None:
        return f"Joined {late_s:.0f} s after it could be had{after}: there is no being there sooner."
    cost = _whole_cost(told, refused, "from its start on")
    return f"Joined {late_s:.0f} s after it could be had{after}: {cost}."


def _early_sentence(told: Told, place: int) -> str:
    """Why it is left early."""
    solution = told.study.solution.contacts
    chosen = solution[place]
    option = told.options[chosen.option]
    if chosen.last == option.utc_s.size - 1:
        return ""
    early_s = float(option.utc_s[-1] - option.utc_s[chosen.last])
    refused = told.study.ending(chosen.option, option.utc_s.size - 1)
    following = f" for {told.name(solution[place + 1])}" if place + 1 < len(solution) else ""
    if refused is None:
        return f"Left with {early_s:.0f} s still to be had{following}."
    return (
        f"Left with {early_s:.0f} s still to be had{following}: {_whole_cost(told, refused, 'to its end')}."
    )


def _whole_cost(told: Told, refused: Refused, stretch: str) -> str:
    signal = told.less(refused).signal
    if signal <= 0:
        return f"worked {stretch}, it {_lesser_cost(told, refused)}"
    return f"worked {stretch}, the evening {_cost_words(told, refused)}{_consequence(told, refused)}"


def why_left_out(told: Told, pass_index: int) -> str:
    """Why a pass that could be worked is not: the contact that takes its time, and the cost."""
    own = [one for one in told.options if one.pass_index == pass_index]
    brings = max(one.worth * float(one.signal_s[-1]) for one in own)
    start, end = min(float(one.utc_s[0]) for one in own), max(float(one.utc_s[-1]) for one in own)
    cuts = [told.cut(one) for one in told.study.solution.contacts]
    over = [min(end, cut.end_utc_s) - max(start, cut.start_utc_s) for cut in cuts]
    found = told.study.with_pass(pass_index)
    if found is None:
        least = f"a contact of {min(one.least_s for one in own):.0f} s"
        return f"it cannot be reached in time for {least}; alone it would bring {brings:.0f} s"
    refused = found[1]
    if told.less(refused).signal > 0:
        cost = f"with it the evening {_cost_words(told, refused)}"
    else:
        cost = f"with it the evening {_lesser_cost(told, refused)}"
    if over and max(over) > 0.0:
        taker = int(np.argmax(over))
        worth = cuts[taker].option.worth * cuts[taker].signal_s
        name = told.name(told.study.solution.contacts[taker])
        return f"overlaps {name}, which is worth {worth:.0f} s; this would bring {brings:.0f} s, and {cost}"
    return f"there is no time to move to it and away; it would bring {brings:.0f} s, and {cost}"
