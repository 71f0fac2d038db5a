"""The pocket page's saved file, read back."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import FileProblem
from core.base.times import format_iso
from core.log.model import MOST_LOG, LogEntry
from core.log.pocket_file import pocket_log_from_text, read_pocket_log
from core.plan.storage import plan_from_text, plan_to_text
from tests.plans import plan_of, short_plan_data

NEAR = "2024-11-01T17:40:00Z"


def entry_data(**changes: Any) -> dict[str, Any]:
    """An entry as the page saves it."""
    return {
        "norad_id": 70001,
        "near": NEAR,
        "worked": True,
        "azimuth_dial_deg": 212.5,
        "elevation_dial_deg": 34,
        "time": "2024-11-01T17:40:12.250Z",
        "last_heard": None,
        "note": "loud",
    } | changes


def file_data(*entries: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """A saved file."""
    return {
        "format": "northkey-log",
        "version": 1,
        "identity": "0123abcd",
        "title": "Larch ridge",
        "log": list(entries),
    } | changes


def read(data: object) -> Any:
    return pocket_log_from_text(json.dumps(data), "sent.json")


def test_what_was_noted_is_read():
    found = read(file_data(entry_data(), entry_data(worked=None, note="", azimuth_dial_deg=None)))
    assert (found.identity, found.title) == ("0123abcd", "Larch ridge")
    first, second = found.entries
    assert first == LogEntry.model_validate(entry_data())
    assert (first.worked, first.azimuth_dial_deg, first.near) == (True, 212.5, "2024-11-01T17:40:00.000Z")
    assert (second.worked, second.azimuth_dial_deg, second.elevation_dial_deg) == (None, None, 34.0)


def test_a_note_may_hold_whatever_a_hand_can_type():
    note = '</script><b>"QSB"</b> \u202e, 5/9 \\ \n second line' + "x" * 1900
    (entry,) = read(file_data(entry_data(note=note))).entries
    assert entry.note.startswith('</script><b>"QSB"</b> [U+202E], 5/9 \\ second line')


def test_a_note_of_several_lines_becomes_one():
    (entry,) = read(file_data(entry_data(note="loud\nthen  gone\r\n"))).entries
    assert entry.note == "loud then gone"


def test_lines_that_were_left_empty_are_no_entries():
    empty = {"norad_id": 70001, "near": NEAR, "worked": None, "note": " ", "time": None}
    found = read(file_data(empty, entry_data(), empty))
    assert [entry.note for entry in found.entries] == ["loud"]


moments = st.floats(0.0, 3.0e9).map(format_iso)
dials = st.none() | st.floats(-3600.0, 3600.0)
entries = st.fixed_dictionaries(
    {"norad_id": st.integers(1, 999_999_999), "near": moments},
    optional={
        "worked": st.none() | st.booleans(),
        "azimuth_dial_deg": dials,
        "elevation_dial_deg": dials,
        "time": st.none() | moments,
        "time_round": st.none() | st.integers(1, 1000),
        "last_heard": st.none() | moments,
        "note": st.text(max_size=20).filter(
            lambda text: not any("\ud800" <= mark <= "\udfff" for mark in text)
        ),
    },
)


@given(st.lists(entries, max_size=4))
def test_from_the_file_to_the_plan_and_back_nothing_is_lost(saved):
    found = read(file_data(*saved))
    plan = plan_of(short_plan_data()).model_copy(update={"log": found.log})
    again = plan_from_text(
        plan_to_text(plan_of(short_plan_data(), log=[one.model_dump() for one in plan.log]))
    )
    assert again.log == found.log
    assert read(file_data(*(one.model_dump(mode="json") for one in again.log))).log == found.log
    for entry, data in zip(found.log, saved, strict=True):
        assert entry.says_nothing is (
            not entry.note
            and all(
                data.get(key) is None
                for key in ("worked", "azimuth_dial_deg", "elevation_dial_deg", "time", "last_heard")
            )
        )


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ([], 'format: is no log file: it does not say "format": "northkey-log"'),
        (file_data(format="northkey-plan"), "format: is no log file"),
        (file_data(version=2), "version: is 2, this program reads up to 1; open it with a newer one"),
        (file_data(version="1"), "version: must be a whole number, at present 1"),
        (file_data(version=True), "version: must be a whole number"),
        (file_data(identity="0123ABCD"), "identity: must be the eight hex digits of the plan"),
        (file_data(identity=7), "identity: is 7, it must be text in quotes"),
        (file_data(extra=1), "extra: is no key of a log here"),
        (
            file_data(entry_data(norad=7)),
            'log[1].norad: is no key of a log here; perhaps "norad_id" is meant',
        ),
        (file_data(entry_data(worked=1)), "log[1].worked: is 1, it must be true or false"),
        (file_data(entry_data(worked="yes")), 'log[1].worked: is "yes", it must be true or false'),
        (file_data(entry_data(), entry_data(near="noon")), "log[2].near: must be an ISO 8601 time"),
        (file_data(entry_data(time="1921-01-01T00:00:00Z")), "log[1].time: must be a time in the years"),
        (file_data(entry_data(azimuth_dial_deg="212")), 'is "212", it must be a number without quotes'),
        (file_data(entry_data(azimuth_dial_deg=3601)), "is 3601, it must be -3600 to 3600"),
        (file_data(entry_data(norad_id=0)), "log[1].norad_id: is 0, it must be 1 to 999999999"),
        (file_data(entry_data(norad_id=1.5)), "is 1.5, it must be a whole number"),
        (file_data(entry_data(note="x" * 2001)), "at most 2000 characters"),
        (file_data(entry_data(note="\ud800")), "it must be Unicode text"),
        (file_data(entry_data(note=None)), "is null, it must be text in quotes"),
        ({"format": "northkey-log", "version": 1}, "identity: is missing"),
    ],
)
def test_what_is_no_log_is_refused_by_file_and_field(data, words):
    with pytest.raises(FileProblem) as refused:
        read(data)
    assert str(refused.value).startswith("sent.json")
    assert words in str(refused.value)
    assert "\n" not in str(refused.value)


def test_floods_are_refused():
    many = json.dumps(file_data(*[entry_data()] * (MOST_LOG + 1)))
    with pytest.raises(FileProblem, match="at most 2000 items"):
        pocket_log_from_text(many)
    twice = '{"format": "northkey-log", "format": "northkey-log"}'
    with pytest.raises(FileProblem, match='"format" stands twice'):
        pocket_log_from_text(twice)
    for text, words in (
        ("[" * 100_000, "next to nothing in them"),
        ("[" * 900 + " " * 20_000, "nested deeper|is not JSON"),
        ('{"format": NaN}', "NaN is no number a log can hold"),
        ("", "is empty"),
        ("9" * 5000, "a number of thousands of digits"),
    ):
        with pytest.raises(FileProblem, match=words):
            pocket_log_from_text(text)


def test_a_file_is_read_through_the_one_door(tmp_path):
    path = tmp_path / "pocket.json"
    path.write_text(json.dumps(file_data(entry_data())), "utf-8-sig")
    assert len(read_pocket_log(path).log) == 1
    path.write_bytes(b"\xff\xfe")
    with pytest.raises(FileProblem, match="is not a text file in UTF-8"):
        read_pocket_log(path)
    for place, words in ((tmp_path, "is a folder"), (tmp_path / "none", "does not exist")):
        with pytest.raises(FileProblem, match=words):
            read_pocket_log(place)
    path.write_bytes(b" " * (16 * 1024 * 1024 + 1))
    with pytest.raises(FileProblem, match=r"is larger than any log \(16 MiB\)"):
        read_pocket_log(path)
