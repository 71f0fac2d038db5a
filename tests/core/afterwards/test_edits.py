"""Edits of the log, and what is read back into it."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.afterwards.edits import with_noted, with_pass_worked, with_read_back, without_entries
from core.afterwards.rows import evening_log
from core.base.errors import ValueRangeError
from core.base.times import format_iso
from core.log.model import MOST_LOG, LogEntry
from core.passes.track import Pass
from core.plan.document import Plan
from tests.core.afterwards.evenings import evening
from tests.lasting import result_of


def rows(plan: Plan):
    return evening_log(plan, result_of(plan)).rows


def passes() -> list[Pass]:
    """The passes of the contacts, then the others."""
    log = evening_log(*evening())
    return [row.pass_ for row in log.rows] + [check.pass_ for check in log.others]


def entry_of(index: int, **noted: Any) -> LogEntry:
    pass_ = passes()[index]
    return LogEntry.model_validate({"norad_id": pass_.norad_id, "near": format_iso(pass_.peak.utc_s)} | noted)


def test_what_is_noted_of_a_row_is_one_entry_and_goes_when_it_says_nothing():
    plan = evening()[0]
    noted = with_noted(plan, rows(plan)[1], worked=True)
    noted = with_noted(noted, rows(noted)[1], azimuth_dial_deg=12.0, time_round=None)
    assert [(one.worked, one.azimuth_dial_deg) for one in noted.log] == [(True, 12.0)]
    assert rows(noted)[1].entry == noted.log[0]
    assert with_noted(plan, rows(plan)[1], worked=None) is plan
    less = with_noted(noted, rows(noted)[1], worked=None)
    assert with_noted(less, rows(less)[1], azimuth_dial_deg=None) == plan
    with pytest.raises(ValueRangeError, match="azimuth_dial_deg"):
        with_noted(plan, rows(plan)[0], azimuth_dial_deg=5000.0)


def test_a_pass_that_was_not_planned_is_added_and_stays_while_it_is_emptied():
    plan, result = evening()
    other = evening_log(plan, result).others[0]
    noted = with_pass_worked(plan, other)
    row = rows(noted)[-1]
    assert (row.number, row.entry.worked) == (None, True)
    emptied = with_noted(noted, row, worked=None)
    assert len(emptied.log) == 1
    assert without_entries(emptied, [0]) == plan


def test_what_is_read_back_twice_changes_nothing_more():
    plan, result = evening()
    typed = with_noted(plan, rows(plan)[0], worked=True, note="loud")
    read = [
        entry_of(0, azimuth_dial_deg=281.0, note="loud, some fading"),
        entry_of(1, worked=False),
        LogEntry(norad_id=70001, near="2024-12-24T18:00:00Z", worked=True),
    ]
    back = with_read_back(typed, result.passes, read)
    assert (back.new, back.changed, back.same, back.unmatched) == (2, 1, 0, 1)
    assert (
        back.sentence == "3 entries read: 2 new and 1 changed. No pass of this evening is meant by 1 of them."
    )
    first = back.plan.log[0]
    assert (first.worked, first.azimuth_dial_deg, first.note) == (True, 281.0, "loud, some fading")
    again = with_read_back(back.plan, result.passes, read)
    assert (again.plan, again.same) == (back.plan, 3)
    assert again.sentence.startswith("3 entries read: 3 as before.")
    assert (
        with_read_back(typed, result.passes, []).sentence
        == "The file has no entries: nothing was noted in it."
    )


def test_more_than_a_log_holds_is_refused():
    plan, result = evening()
    many = [entry_of(0, near=format_iso(4.0e8 + 1.0e5 * k), worked=True) for k in range(MOST_LOG + 1)]
    with pytest.raises(ValueRangeError, match="at most 2000 items"):
        with_read_back(plan, result.passes, many)


values = st.fixed_dictionaries(
    {},
    optional={
        "worked": st.none() | st.booleans(),
        "azimuth_dial_deg": st.none() | st.integers(0, 360).map(float),
        "note": st.sampled_from(["", "loud", "faint"]),
        "last_heard": st.sampled_from([None, "2024-11-01T18:00:00Z"]),
    },
)


@given(st.lists(st.tuples(st.integers(0, 6), st.booleans(), values), max_size=6))
def test_whatever_is_read_back_each_pass_has_one_entry_that_says_what_was_said_last(told):
    """Against a plain book of what was said of each pass."""
    plan, result = evening()
    book: dict[int, dict[str, Any]] = {}
    entries = []
    for index, later, noted in told:
        near = format_iso(passes()[index].peak.utc_s + 60.0 * later)
        entry = entry_of(index, **noted, near=near)
        entries.append(entry)
        said = {
            key: value for key, value in entry if value not in (None, "") and key not in ("near", "norad_id")
        }
        book.setdefault(index, {}).update(said)
    back = with_read_back(plan, result.passes, entries)
    assert len(back.plan.log) == len(book)
    for entry, said in zip(back.plan.log, book.values(), strict=True):
        found = {
            key: value for key, value in entry if value not in (None, "") and key not in ("near", "norad_id")
        }
        assert found == said
    assert back.new + back.changed + back.same == len(entries)
