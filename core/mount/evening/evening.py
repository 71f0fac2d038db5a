"""The evening: which passes to work, each in which way and from when to when, chosen together.

The choice itself is made in `order`; here it becomes contacts, moves, and reasons for what is left out.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.base.times import clock
from core.base.units import Progress, no_progress
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.contacts import ContactSpan, contact_of, rests_of, with_moves
from core.mount.evening.order.explain import Explainer, why_left_out, why_worked_so
from core.mount.evening.order.forced import ForcedChoices
from core.mount.evening.order.moves import mover_of
from core.mount.evening.order.options import options_of
from core.mount.evening.order.rules import EveningRules, MountStart, Wanted
from core.mount.evening.order.solve import ChoiceProblem, Solution, solve
from core.mount.evening.order.worth import units_for
from core.mount.evening.results import Contact, EveningOrder, Objective
from core.mount.model.results import PassCheck, Reason
from core.mount.model.station import Posture, Station


def order_evening(
    checks: tuple[PassCheck, ...],
    reasons: tuple[Reason, ...],
    tracks: tuple[MountTrack, ...],
    station: Station,
    shortest_contact_s: float,
    wanted: tuple[Wanted, ...] | None,
    unmatched: tuple[str, ...] = (),
    rules: EveningRules | None = None,
    mount_start: MountStart | None = None,
    progress: Progress = no_progress,
    steered: tuple[Steered, ...] | None = None,
) -> EveningOrder:
    """The best evening: its contacts by time with the moves between them, and why the rest is left out.

    Args:
        checks, reasons, tracks: all passes, why, and their tracks in the mount frame.
        station: what they were checked with.
        shortest_contact_s: no contact is shorter; a picked pass that is shorter itself may be worked whole.
        wanted: the picks matched to passes; None without picks, then all passes are wanted.
        unmatched: sentences about picks that match no pass, handed on.
        rules: margin, cost of changing satellites, idle and stow place.
        mount_start: where the mount stands at first; None: where the first contact starts.
        progress: called all along.
        steered: `steer_all` of the tracks, where it is at hand.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    rules, mount = EveningRules() if rules is None else rules, station.mount
    picked = wanted is not None
    chosen = wanted if wanted is not None else tuple(Wanted(index, 1.0) for index in range(len(checks)))
    unheld = tuple(_no_such_way(checks[w.index], *w.way) for w in chosen if w.way and not _holds(checks, w))
    options = options_of(
        checks,
        tracks,
        station,
        chosen,
        shortest_contact_s,
        picked,
        progress=progress,
        steered=steered,
        mount_start=mount_start,
    )
    mover = mover_of(mount, rules)
    problem = ChoiceProblem(options, mover, units_for(options, rules), mount_start)
    solution = solve(problem, progress)
    spans = [ContactSpan(options[one.option], one.first, one.last) for one in solution.contacts]
    worked = [span.option.pass_index for span in spans]
    contacts = [
        contact_of(span, checks[i], reasons[i], tracks[i], station, picked)
        for span, i in zip(spans, worked, strict=True)
    ]
    contacts = with_moves(contacts, spans, mount, rules, mount_start)
    left = sorted((w.index for w in chosen if w.index not in worked), key=lambda i: checks[i].pass_.aos.utc_s)
    explainer = Explainer(ForcedChoices(problem, solution, progress), checks, mount)
    contacts = [
        replace(
            contact, why_so=f"{why_worked_so(explainer, i)}{_short(contact, shortest_contact_s, mount_start)}"
        )
        for i, contact in enumerate(contacts)
    ]
    whys = [(checks[i], _why_not(explainer, i, shortest_contact_s)) for i in left]
    return EveningOrder(
        tuple(contacts),
        tuple(whys),
        unmatched + unheld,
        rests=rests_of(contacts, mover, rules),
        objective=_objective(problem, solution),
    )


def _short(contact: Contact, shortest_contact_s: float, mount_start: MountStart | None) -> str:
    """A sentence on a contact that is shorter than contacts are."""
    seconds = contact.end_utc_s - contact.start_utc_s
    if seconds >= shortest_contact_s - 1e-6:
        return ""
    under_way = mount_start is not None and contact.check.pass_.aos.utc_s <= mount_start.utc_s + 1.0
    why = "the mount is on it already" if under_way else "picked, it is worked whole"
    return f" It is shorter than the least contact of {shortest_contact_s:.0f} s: {why}."


def _objective(problem: ChoiceProblem, solution: Solution) -> Objective:
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


def _why_not(explainer: Explainer, index: int, shortest_contact_s: float) -> str:
    """Why a pass is not worked."""
    check = explainer.checks[index]
    if check.pointing is None:
        return "out of reach"
    if any(one.pass_index == index for one in explainer.options):
        return why_left_out(explainer, index)
    start, end = worked_span(check)
    return f"{end - start:.0f} s, shorter than the least contact of {shortest_contact_s:.0f} s"


def worked_span(check: PassCheck) -> tuple[float, float]:
    """First and last worked moment of a check that has a pointing, POSIX seconds."""
    assert check.pointing is not None
    here = np.flatnonzero(check.pointing.worked)
    return float(check.pointing.utc_s[here[0]]), float(check.pointing.utc_s[here[-1]])
