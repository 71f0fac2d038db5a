"""What is let go in the middle of a pass is printed as let go, moment by moment, as the screen shows it.

The mount of this evening ends at 45 deg of elevation, so that parts lose the satellite where it is high, and
splits are back on it only when it has come down to them.
"""

from __future__ import annotations

from collections import Counter
from functools import cache

import numpy as np
import pytest

from core.evaluate import Result
from core.export.readings_csv import readings_csv
from core.mount.evening.drawn import drawn_pass
from core.mount.evening.moment import moment_of
from core.mount.model.results import PassCheck
from core.plan.document import Plan
from core.sheet.drawing.marks import MARK_OF, Mark
from core.sheet.drawing.sky import sky
from core.sheet.drawing.strip import evening_strip
from tests.core.export.test_readings_csv import rows_of
from tests.evening_plans import full_evening_plan
from tests.lasting import result_of

#: Beside a change a moment may be drawn as what is before it or as what comes after.
BESIDE_S = 1.0
WORDS = {
    Mark.FILLED: "upright",
    Mark.HATCHED: "over the top",
    Mark.GAP: "turning back",
    Mark.OUTLINED: "let go",
    Mark.HIDDEN: "behind the mask",
}
Spans = tuple[tuple[float, float], ...]


@cache
def low_mount() -> tuple[Plan, Result]:
    plan = full_evening_plan(12, mount__azimuth={"travel_deg": 300.0}, mount__elevation={"maximum_deg": 45.0})
    return plan, result_of(plan)


def every_check() -> list[tuple[PassCheck, Spans]]:
    """All passes by themselves, worked throughout, then the contacts, worked from when to when."""
    _plan, result = low_mount()
    alone = [(check, ((check.pass_.aos.utc_s, check.pass_.los.utc_s),)) for check in result.checks]
    return alone + [(one.check, ((one.start_utc_s, one.end_utc_s),)) for one in result.order.contacts]


def absences_of(check: PassCheck) -> Spans:
    return check.split.absences if check.split else check.part.absences if check.part else ()


def expected(check: PassCheck, span: Spans, utc_s: float) -> Mark | None:
    """From what the verdict tells, no sample of the pointing asked; None beside a change."""
    split, part = check.split, check.part
    over, move, away = (
        check.pass_.stretches,
        ((split.start_utc_s, split.end_utc_s),) if split else (),
        absences_of(check),
    )
    worked = ((part.start_utc_s, part.end_utc_s),) if part else span
    if any(
        abs(utc_s - end) < BESIDE_S for each in (over, move, away, worked, span) for end in np.ravel(each)
    ):
        return None

    def inside(spans: Spans) -> bool:
        return any(start < utc_s < end for start, end in spans)

    if not inside(over):
        return Mark.HIDDEN
    if inside(move):
        return Mark.GAP
    if check.pointing is None or inside(away) or not inside(worked) or not inside(span):
        return Mark.OUTLINED
    if split:
        posture = split.to_posture if utc_s > split.end_utc_s else split.from_posture
    else:
        posture = part.posture if part else check.chosen.posture
    return Mark.HATCHED if posture == "over the top" else Mark.FILLED


def test_the_evening_has_parts_and_splits_that_lose_the_satellite_in_the_middle() -> None:
    lost = Counter(check.verdict for check, _span in every_check() if absences_of(check))
    assert lost["part"] >= 1
    assert lost["split"] >= 2
    assert any(
        check.split and check.split.back_utc_s > check.split.end_utc_s + 5.0 for check, _ in every_check()
    )


def test_every_moment_is_printed_as_the_verdict_works_it() -> None:
    plan, _result = low_mount()
    told: Counter[Mark] = Counter()
    for check, span in every_check():
        drawn = drawn_pass(check, plan.mount)
        for utc_s, kind in zip(drawn.utc_s.tolist(), drawn.kind.tolist(), strict=True):
            mark = expected(check, span, utc_s)
            assert mark in {None, MARK_OF[kind]}, (check.verdict, utc_s, kind)
            told[MARK_OF[kind]] += mark is not None
    assert min(told[mark] for mark in (Mark.FILLED, Mark.GAP, Mark.OUTLINED)) > 20


def test_the_screen_says_in_words_what_the_paper_marks() -> None:
    plan, _result = low_mount()
    for check, span in every_check():
        drawn = drawn_pass(check, plan.mount)
        for utc_s in np.arange(drawn.utc_s[0], drawn.utc_s[-1], 7.0).tolist():
            mark, state = expected(check, span, utc_s), moment_of(drawn, plan.mount, utc_s).state
            assert mark is None or state.removesuffix(", resting") in {WORDS[mark], "out of reach"}


def test_thinning_loses_no_change() -> None:
    plan, _result = low_mount()
    for check, _span in every_check():
        drawn = drawn_pass(check, plan.mount)
        thin = drawn.thinned
        full, kept = (
            [(kind, one.utc_s[a], one.utc_s[b]) for kind, a, b in one.runs()] for one in (drawn, thin)
        )
        assert [kind for kind, _a, _b in kept] == [kind for kind, _a, _b in full]
        assert [a for _kind, a, _b in kept] == [a for _kind, a, _b in full]
        assert (thin.start_utc_s, thin.end_utc_s) == (drawn.start_utc_s, drawn.end_utc_s)


@pytest.mark.parametrize("verdict", ["part", "split"])
def test_the_sky_and_the_strip_have_a_white_band_where_the_satellite_is_away(verdict: str) -> None:
    plan, result = low_mount()
    contact = next(c for c in result.order.contacts if c.check.verdict == verdict and absences_of(c.check))
    drawn = drawn_pass(contact.check, plan.mount)
    whites = sum(MARK_OF[kind] is Mark.OUTLINED for kind, _a, _b in drawn.runs())
    over_the_top = sum(MARK_OF[kind] is Mark.HATCHED for kind, _a, _b in drawn.runs())
    between = [
        kind
        for kind, first, last in drawn.runs()
        if drawn.utc_s[first] > drawn.start_utc_s and drawn.utc_s[last] <= drawn.end_utc_s
    ]
    assert sum(MARK_OF[kind] is Mark.OUTLINED for kind in between) == len(absences_of(contact.check)) >= 1
    strip = evening_strip([contact], [drawn], plan.mount, "UTC")
    assert strip is not None
    for drawing in (sky(drawn, ()), strip):
        bands = [
            item for item in drawing.items if item.kind == "stroke" and item.closed and item.fill == "white"
        ]
        assert len(bands) == whites + over_the_top


def test_the_exported_table_does_not_call_it_worked() -> None:
    plan, result = low_mount()
    rows = rows_of(readings_csv(plan, result, 0.0, 5.0))
    wanted = []
    for contact in result.order.contacts:
        span = ((contact.start_utc_s, contact.end_utc_s),)
        moments = np.append(np.arange(contact.start_utc_s, contact.end_utc_s, 5.0), contact.end_utc_s)
        wanted += [expected(contact.check, span, utc_s) for utc_s in moments.tolist()]
    assert len(wanted) == len(rows)
    told = {(mark, row["state"]) for mark, row in zip(wanted, rows, strict=True) if mark is not None}
    assert told == {(Mark.FILLED, "on the pass"), (Mark.GAP, "moving"), (Mark.OUTLINED, "let go")}
