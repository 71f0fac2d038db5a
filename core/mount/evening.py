"""The evening: which passes to work, each in which way and from when to when, chosen together.

The choice itself is `core.mount.order`'s; here it becomes contacts, moves, and reasons for what is left out.
"""

from __future__ import annotations

import numpy as np

from core.mount.motion import Steering
from core.mount.nouns import Contact, EveningOrder, Objective, PassCheck, Reason
from core.mount.order.contacts import Cut, Station, contact_of, rests_of, with_moves
from core.mount.order.moves import mover_of
from core.mount.order.options import Option, options_of
from core.mount.order.rules import EveningRules, Standing, Wanted
from core.mount.order.solve import Problem, Solution, solve
from core.mount.order.worth import units_for
from core.mount.stack import Antenna, Mount, Posture
from core.mount.tracks import MountTrack
from core.times import clock


def order_evening(
    checks: tuple[PassCheck, ...],
    reasons: tuple[Reason, ...],
    tracks: tuple[MountTrack, ...],
    mount: Mount,
    antennas: tuple[Antenna, ...],
    steering: Steering,
    shortest_contact_s: float,
    wanted: tuple[Wanted, ...] | None,
    unmatched: tuple[str, ...] = (),
    rules: EveningRules | None = None,
    standing: Standing | None = None,
) -> EveningOrder:
    """The best evening: its contacts by time with the moves between them, and why the rest is left out.

    Args:
        checks, reasons, tracks: all passes, why, and their tracks in the mount frame.
        mount, antennas, steering: the station.
        shortest_contact_s: no contact is shorter; a picked pass that is shorter itself may be worked whole.
        wanted: the picks matched to passes; None without picks, then all passes are wanted.
        unmatched: sentences about picks that match no pass, handed on.
        rules: margin, cost of changing satellites, idle and stow place.
        standing: where the mount stands at first; None: where the first contact starts.
    """
    rules = EveningRules() if rules is None else rules
    picked = wanted is not None
    chosen = wanted if wanted is not None else tuple(Wanted(index, 1.0) for index in range(len(checks)))
    told = list(unmatched) + [
        _no_such_way(checks[w.index], *w.way) for w in chosen if w.way and not _holds(checks, w)
    ]
    options = options_of(checks, tracks, mount, antennas, steering, chosen, shortest_contact_s, picked)
    mover = mover_of(mount, rules)
    problem = Problem(options, mover, rules, units_for(options, mount), standing)
    solution = solve(problem)
    cuts = [Cut(options[one.option], one.first, one.last) for one in solution.contacts]
    station = Station(mount, antennas, steering)
    places = [cut.option.pass_index for cut in cuts]
    contacts = [
        contact_of(cut, checks[i], reasons[i], tracks[i], station, picked)
        for cut, i in zip(cuts, places, strict=True)
    ]
    contacts = with_moves(contacts, cuts, mount, rules, standing)
    left = sorted((w.index for w in chosen if w.index not in places), key=lambda i: checks[i].pass_.aos.utc_s)
    whys = [(checks[i], _why_not(checks[i], i, options, cuts, contacts, shortest_contact_s)) for i in left]
    return EveningOrder(
        tuple(contacts),
        tuple(whys),
        tuple(told),
        rests=rests_of(contacts, mover, rules),
        objective=_objective(problem, solution),
    )


def _objective(problem: Problem, solution: Solution) -> Objective:
    units, score = problem.units, solution.score
    return Objective(
        score.signal * units.signal_s, score.clear * units.clear_deg_s, -score.less_travel * units.travel_deg
    )


def _holds(checks: tuple[PassCheck, ...], want: Wanted) -> bool:
    return any((way.posture, way.turn) == want.way for way in checks[want.index].ways)


def _no_such_way(check: PassCheck, posture: Posture, turn: int) -> str:
    held = ", ".join(f"{way.posture} turn {way.turn}" for way in check.ways) or "none"
    return (
        f"{check.pass_.satellite} at {clock(check.pass_.aos.utc_s)} UTC does not hold {posture} in turn "
        f"{turn} (ways that hold: {held}): any way may be used."
    )


def _why_not(
    check: PassCheck,
    index: int,
    options: tuple[Option, ...],
    cuts: list[Cut],
    contacts: list[Contact],
    shortest_contact_s: float,
) -> str:
    """Why a pass is not worked."""
    if check.pointing is None:
        return "out of reach"
    own = [one for one in options if one.pass_index == index]
    if not own:
        start, end = worked_span(check)
        return f"{end - start:.0f} s, shorter than the least contact of {shortest_contact_s:.0f} s"
    brings = max(one.worth * float(one.signal_s[-1]) for one in own)
    start, end = min(float(one.utc_s[0]) for one in own), max(float(one.utc_s[-1]) for one in own)
    over = [min(end, cut.end_utc_s) - max(start, cut.start_utc_s) for cut in cuts]
    if over and max(over) > 0.0:
        most = int(np.argmax(over))
        worth = cuts[most].option.worth * cuts[most].signal_s
        name = contacts[most].check.pass_.satellite
        return f"overlaps {name}, which is worth {worth:.0f} s; this would bring {brings:.0f} s"
    return f"there is no time to move to it and away; it would bring {brings:.0f} s"


def worked_span(check: PassCheck) -> tuple[float, float]:
    """First and last worked moment of a check that has a pointing, POSIX seconds."""
    assert check.pointing is not None
    here = np.flatnonzero(check.pointing.worked)
    return float(check.pointing.utc_s[here[0]]), float(check.pointing.utc_s[here[-1]])
