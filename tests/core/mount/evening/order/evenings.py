"""Random evenings that an enumeration can still walk through, with options cut to twelve a pass."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.evening.evening import explain_evening, order_evening
from core.mount.evening.joining import AxisAngles, idle_place
from core.mount.evening.order.chains import ChoiceProblem
from core.mount.evening.order.moves import mover_of
from core.mount.evening.order.options import Option, options_of
from core.mount.evening.order.rules import EveningRules, MountStart, Wanted
from core.mount.evening.order.worth import units_for
from core.mount.evening.question import EveningQuestion
from core.mount.evening.results import Contact, EveningOrder, EveningReasons
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import PassCheck, Reason
from core.mount.model.station import Antenna, Mount, Station
from core.passes.track import Pass, cut_pass
from tests.oracles.evening_exhaustive import contacts_of
from tests.stays import arc_stay

#: Contacts that may be cut from one pass.
MOST = 12
NESTED_STEP_S = 240.0


@dataclass(frozen=True)
class RandomEvening:
    """A problem, what the oracle is given of it, and what is in it."""

    problem: ChoiceProblem
    plain: dict[str, Any]
    overlapping: bool
    splits: int


def a_pass(norad_id: int, start_s: float, azimuth_deg: float, seconds: float = 600.0) -> Pass:
    """A plain pass over 5 deg, made of an arc."""
    found = cut_pass(arc_stay(norad_id, start_s, azimuth_deg, seconds), (), 5.0)
    assert found is not None
    return found


@dataclass(frozen=True)
class Told:
    """An evening in order, and what its alternatives would cost."""

    order: EveningOrder
    reasons: EveningReasons

    @property
    def contacts(self) -> tuple[Contact, ...]:
        """By time."""
        return self.order.contacts

    @property
    def why_so(self) -> tuple[str, ...]:
        """Of each contact."""
        return self.reasons.why_so

    @property
    def left_out(self) -> tuple[tuple[PassCheck, str], ...]:
        """Each with why, costs counted."""
        checks = (check for check, _ in self.order.left_out)
        return tuple(zip(checks, self.reasons.why_left, strict=True))


def question_of(
    passes: tuple[Pass, ...], station: Station, shortest_s: float = 180.0, **rest: Any
) -> EveningQuestion:
    """The evening of some passes; ``rest`` as in `EveningQuestion`."""
    tracks = mount_tracks(passes, station.mount.tilt)
    return EveningQuestion(check_passes(passes, tracks, station), tracks, station, shortest_s, **rest)


def order_of(question: EveningQuestion) -> EveningOrder:
    """The evening in order, passes without reasons."""
    return order_evening(question, tuple(Reason() for _ in question.checks))


def told_of(question: EveningQuestion) -> Told:
    """The same with its reasons."""
    return Told(order_of(question), explain_evening(question))


def random_evening(seed: int, passes: int = 6, step_s: float | None = None) -> RandomEvening:
    """One evening; every second overlaps, every second pair has 360 deg of travel.

    With a grid given, no option is left out: there are then too many contacts to enumerate.
    """
    given_s = step_s
    dice = random.Random(seed)
    overlapping, travel_deg = seed % 2 == 0, (360.0, 450.0)[(seed // 2) % 2]
    mount = _mount(dice, travel_deg)
    antennas = (Antenna(beamwidth_deg=dice.choice([8.0, 20.0, 30.0, 60.0])),)
    nested = overlapping and dice.random() < 0.5
    flown = _nested_passes(dice, passes) if nested else _passes(dice, passes, overlapping)
    tracks = mount_tracks(flown, mount.tilt)
    checks = check_passes(flown, tracks, Station(mount, antennas))
    wanted = tuple(Wanted(i, dice.choice([0.5, 1.0, 1.0, 2.0, 3.0])) for i in range(passes))
    step_s = dice.choice([100.0, 130.0, 160.0])
    least_s = dice.choice([60.0, 110.0, 180.0])
    if nested:
        wanted = tuple(Wanted(i, (1.0, 3.0, 0.5)[i % 3]) for i in range(passes))
        step_s, least_s = NESTED_STEP_S, 60.0
    step_s = step_s if given_s is None else given_s
    options = options_of(checks, tracks, Station(mount, antennas), wanted, least_s, False, step_s)
    rules = EveningRules(
        move_margin_s=dice.choice([0.0, 0.0, 5.0, 20.0]),
        enough_s=dice.choice([90.0, 200.0, 330.0, 900.0]),
        change_cost_s=dice.choice([0.0, 0.0, 15.0, 60.0]),
        posture_change_cost_s=dice.choice([0.0, 60.0, 60.0, 200.0]),
        turn_cost_s=dice.choice([0.0, 5.0, 5.0, 60.0, 600.0]),
        idle_m_deg=dice.choice([None, None, travel_deg / 3.0]),
    )
    place = AxisAngles(dice.uniform(10.0, travel_deg - 10.0), dice.uniform(0.0, 60.0))
    mount_start = MountStart(place, flown[0].aos.utc_s - 20.0) if dice.random() < 0.25 else None
    options = _few(dice, options) if given_s is None else options
    problem = ChoiceProblem(options, mover_of(mount, rules), units_for(options, rules), mount_start)
    splits = sum(1 for one in options if one.way is None)
    return RandomEvening(problem, plain(problem), overlapping, splits)


def problem_of_long_passes(count: int, step_s: float, seed: int = 1) -> ChoiceProblem:
    """Passes of 40 to 150 min within four hours, enough of each being five minutes."""
    dice = random.Random(seed)
    mount = Mount.model_validate(
        {"keyway_bearing_deg": dice.uniform(0.0, 360.0), "azimuth": {"travel_deg": 450.0, "guard_deg": 3.0}}
    )
    station = Station(mount, (Antenna(beamwidth_deg=20.0),))
    flown = []
    for number in range(count):
        seconds = dice.uniform(2400.0, 9000.0)
        start_s = 1_700_000_000.0 + dice.uniform(0.0, 14400.0 - seconds)
        flown.append(a_pass(number, start_s, dice.uniform(0.0, 360.0), seconds))
    tracks = mount_tracks(tuple(flown), mount.tilt)
    checks = check_passes(tuple(flown), tracks, station)
    wanted = tuple(Wanted(one, 1.0) for one in range(count))
    options = options_of(checks, tracks, station, wanted, 180.0, False, step_s)
    rules = EveningRules(enough_s=300.0)
    return ChoiceProblem(options, mover_of(mount, rules), units_for(options, rules))


def _mount(dice: random.Random, travel_deg: float) -> Mount:
    measured = dice.random() < 0.3
    gain = {"acceleration_deg_s2": 2.0, "rate_back_deg_s": 4.0} if measured else {}
    return Mount.model_validate(
        {
            "keyway_bearing_deg": dice.uniform(0.0, 360.0),
            "azimuth": {"travel_deg": travel_deg, "guard_deg": 3.0, "rate_deg_s": 6.0} | gain,
            "elevation": {"maximum_deg": dice.choice([90.0, 90.0, 180.0]), "rate_deg_s": 2.5} | gain,
            "drive": {"settle_s": 3.0 if measured else 0.0, "both_axes_at_once": dice.random() < 0.7},
        }
    )


def _passes(dice: random.Random, count: int, overlapping: bool) -> tuple[Pass, ...]:
    """One after the other with gaps of 20 to 120 s; where they overlap, half of the gaps are negative."""
    found: list[Pass] = []
    start_s = 1_700_000_000.0 + dice.uniform(0.0, 100.0)
    for number in range(count):
        seconds = dice.uniform(220.0, 480.0)
        stay = arc_stay(
            number % (count - 1), start_s, dice.uniform(0.0, 360.0), seconds, dice.uniform(20.0, 88.0)
        )
        pass_ = cut_pass(stay, (), 5.0)
        assert pass_ is not None
        found.append(pass_)
        apart = dice.uniform(20.0, 120.0)
        if overlapping and dice.random() < 0.6:
            apart = -dice.uniform(0.2, 0.95) * seconds
        start_s = start_s + seconds + apart
    return tuple(found)


def _nested_passes(dice: random.Random, count: int) -> tuple[Pass, ...]:
    """Two short passes within each long one, so that leaving it for them and coming back looks best."""
    found: list[Pass] = []
    start_s = 1_700_000_000.0 // NESTED_STEP_S * NESTED_STEP_S
    for number in range(count):
        if number % 3 == 0:
            begin_s, seconds = start_s - dice.uniform(60.0, 90.0), dice.uniform(1000.0, 1050.0)
        else:
            begin_s = start_s + (2 * (number % 3) - 1) * NESTED_STEP_S + dice.uniform(-10.0, 40.0)
            seconds = dice.uniform(260.0, 330.0)
        if number % 3 == 2:
            start_s += 4.0 * NESTED_STEP_S
        stay = arc_stay(number, begin_s, dice.uniform(0.0, 360.0), seconds, dice.uniform(20.0, 80.0))
        pass_ = cut_pass(stay, (), 5.0)
        assert pass_ is not None
        found.append(pass_)
    return tuple(found)


def _few(dice: random.Random, options: tuple[Option, ...]) -> tuple[Option, ...]:
    """Options left out at random until no pass has more than `MOST` contacts to choose from; splits stay."""
    free = {"enough": 900.0, "posture": 0.0, "turn": 0.0}
    any_evening = {"guards": (0.0, 360.0), "units": (0.01, 1.0), "costs": free}
    kept: list[Option] = []
    for index in sorted({one.pass_index for one in options}):
        own = [one for one in options if one.pass_index == index]
        dice.shuffle(own)
        own.sort(key=lambda one: one.way is not None)
        left = MOST
        for one in own:
            size = len(contacts_of(plain_option(one), any_evening))
            if size <= left:
                kept.append(one)
                left -= size
    return tuple(kept)


def plain_option(option: Option) -> dict[str, Any]:
    """An option in plain numbers."""
    return {
        "pass": option.pass_index,
        "satellite": option.satellite,
        "worth": option.worth,
        "least": option.least_s,
        "t": option.utc_s.tolist(),
        "m": option.m_deg.tolist(),
        "e": option.e_deg.tolist(),
        "over": option.over.tolist(),
        "signal": option.signal_s.tolist(),
    }


def plain(problem: ChoiceProblem) -> dict[str, Any]:
    """A problem in plain numbers, for the oracle."""
    mount, rules, units = problem.mover.mount, problem.units.rules, problem.units
    axes = {}
    for name, axis in (("m", mount.azimuth), ("e", mount.elevation)):
        back = axis.rate_deg_s if axis.rate_back_deg_s is None else axis.rate_back_deg_s
        axes[name] = {"up": axis.rate_deg_s, "down": back, "gain": axis.acceleration_deg_s2}
    mount_start = problem.mount_start
    return {
        "options": [plain_option(one) for one in problem.options],
        "guards": guarded_travel_deg(mount.azimuth),
        "units": (units.worth_s, units.clear_deg_s),
        "costs": {
            "enough": rules.enough_s,
            "change": rules.change_cost_s,
            "posture": rules.posture_change_cost_s,
            "turn": rules.turn_cost_s,
        },
        "mount": axes | {"both": mount.drive.both_axes_at_once, "settle": mount.drive.settle_s},
        "margin": rules.move_margin_s,
        "idle": None if rules.idle_m_deg is None else idle_place(mount, rules.idle_m_deg),
        "standing": None if mount_start is None else (mount_start.utc_s, *mount_start.axes),
    }
