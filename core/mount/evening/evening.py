"""The evening: which passes to work, each in which way and from when to when, chosen together.

The choice itself is made in `order`; here it becomes contacts, moves, and sentences. What the alternatives
would have cost takes as long again as the choice and is told beside it (`explain_evening`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from core.base.angles import Floats
from core.base.times import clock
from core.base.units import Progress, no_progress
from core.mount.evening.cautions import cautions_of
from core.mount.evening.order.contacts import contact_of, rests_of, with_moves
from core.mount.evening.order.options import Option
from core.mount.evening.order.parts import short_s, worth_of
from core.mount.evening.order.spans import ContactSpan
from core.mount.evening.question import Choice, EveningQuestion, choose
from core.mount.evening.results import EveningOrder, EveningReasons
from core.mount.model.results import PassCheck, Reason
from core.mount.model.station import Posture


def order_evening(
    question: EveningQuestion,
    reasons: tuple[Reason, ...],
    unmatched: tuple[str, ...] = (),
    progress: Progress = no_progress,
) -> EveningOrder:
    """The best evening: its contacts by time with the moves between them, and what is left out.

    Args:
        question: what it is asked of.
        reasons: why each pass is checked as it is.
        unmatched: sentences about picks that match no pass, handed on.
        progress: called all along.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    checks, station = question.checks, question.station
    choice = choose(question, progress)
    spans, own = _spans(choice), _by_pass(choice)
    worked = _Worked.of(spans)
    steered = question.steered or (None,) * len(checks)
    contacts = [
        contact_of(span, checks[i], reasons[i], question.tracks[i], station, question.picked, steered[i])
        for span in spans
        for i in (span.option.pass_index,)
    ]
    contacts = with_moves(contacts, spans, station.mount, question.rules, question.mount_start)
    unheld = tuple(
        _no_such_way(checks[w.index], *w.way)
        for w in question.wanted
        if w.way and not any((way.posture, way.turn) == w.way for way in checks[w.index].ways)
    )
    worth = worth_of(choice.problem, choice.solution.contacts)
    order = EveningOrder(
        tuple(contacts),
        tuple((checks[i], _why_not(question, worked, own.get(i, ()), i)) for i in _left_out(question, spans)),
        unmatched + unheld,
        rests=rests_of(contacts, choice.problem.mover, question.rules),
        worth=replace(worth, short_s=short_s(choice.problem, choice.solution)),
    )
    if station.clearance is None:
        return order
    return replace(order, cautions=cautions_of(order, station, question.mount_start))


def explain_evening(question: EveningQuestion, progress: Progress = no_progress) -> EveningReasons:
    """Why each contact is worked as it is, and why each pass is left out: what the alternatives would cost.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    from core.mount.evening.order.explain import Explainer, why_left_out, why_worked_so
    from core.mount.evening.order.forced import ForcedChoices

    choice = choose(question, progress, every=True)
    spans, own = _spans(choice), _by_pass(choice)
    left = _left_out(question, spans)
    if not choice.problem.options:
        return EveningReasons((), tuple(_why_not(question, _Worked.of(()), (), i) for i in left))
    mount = question.station.mount
    forced = ForcedChoices(choice.problem, choice.solution, progress)
    explainer = Explainer(forced, question.checks, mount)
    why_so = tuple(
        f"{why_worked_so(explainer, place)}{_short(question, span)}" for place, span in enumerate(spans)
    )
    return EveningReasons(
        why_so,
        tuple(
            why_left_out(explainer, i) if i in own else _why_not(question, _Worked.of(()), (), i)
            for i in left
        ),
    )


def _spans(choice: Choice) -> list[ContactSpan]:
    options = choice.problem.options
    return [ContactSpan(options[one.option], one.first, one.last) for one in choice.solution.contacts]


def _by_pass(choice: Choice) -> dict[int, list[Option]]:
    """The options of each pass that has any."""
    found: dict[int, list[Option]] = {}
    for one in choice.problem.options:
        found.setdefault(one.pass_index, []).append(one)
    return found


def _left_out(question: EveningQuestion, spans: Sequence[ContactSpan]) -> list[int]:
    """What is wanted and not worked, by AOS."""
    worked = {span.option.pass_index for span in spans}
    left = (want.index for want in question.wanted if want.index not in worked)
    return sorted(left, key=lambda index: question.checks[index].pass_.aos.utc_s)


def _short(question: EveningQuestion, span: ContactSpan) -> str:
    """A sentence on a contact that is shorter than contacts are."""
    least_s, start = question.shortest_contact_s, question.mount_start
    if span.end_utc_s - span.start_utc_s >= least_s - 1e-6:
        return ""
    aos_s = question.checks[span.option.pass_index].pass_.aos.utc_s
    under_way = start is not None and aos_s <= start.utc_s + 1.0
    why = "the mount is on it already" if under_way else "picked, it is worked whole"
    return f" It is shorter than the least contact of {least_s:.0f} s: {why}."


def _no_such_way(check: PassCheck, posture: Posture, turn: int) -> str:
    held = ", ".join(f"{way.posture} turn {way.turn}" for way in check.ways) or "none"
    return (
        f"{check.pass_.satellite} at {clock(check.pass_.aos.utc_s)} UTC does not hold {posture} in turn "
        f"{turn} (ways that hold: {held}): any way may be used."
    )


class _Worked(NamedTuple):
    """What is worked: (C,) from when to when, and which passes."""

    start_utc_s: Floats
    end_utc_s: Floats
    passes: tuple[int, ...]

    @classmethod
    def of(cls, spans: Sequence[ContactSpan]) -> _Worked:
        """That of some spans."""
        return cls(
            np.array([span.start_utc_s for span in spans]),
            np.array([span.end_utc_s for span in spans]),
            tuple(span.option.pass_index for span in spans),
        )


def _why_not(question: EveningQuestion, worked: _Worked, own: Sequence[Option], index: int) -> str:
    """Why a pass is not worked, as far as that is known without asking what it would cost.

    Args:
        question: as asked.
        worked: what is worked.
        own: the options of the pass.
        index: the pass.
    """
    check = question.checks[index]
    if check.pointing is None:
        return "out of reach"
    if not own:
        start, end = worked_span(check)
        if end - start >= question.shortest_contact_s:  # nothing is planned finer than the steps
            return f"{end - start:.0f} s, too short to be planned"
        return f"{end - start:.0f} s, shorter than the least contact of {question.shortest_contact_s:.0f} s"
    start = min(float(one.utc_s[0]) for one in own)
    end = max(float(one.utc_s[-1]) for one in own)
    over_s = np.minimum(worked.end_utc_s, end) - np.maximum(worked.start_utc_s, start)
    if over_s.max(initial=0.0) > 0.0:
        taker = worked.passes[int(over_s.argmax())]
        return f"overlaps {question.checks[taker].pass_.satellite}"
    return "there is no time to move to it and away"


def worked_span(check: PassCheck) -> tuple[float, float]:
    """First and last worked moment of a check that has a pointing, POSIX seconds."""
    assert check.pointing is not None
    here = np.flatnonzero(check.pointing.worked)
    return float(check.pointing.utc_s[here[0]]), float(check.pointing.utc_s[here[-1]])
