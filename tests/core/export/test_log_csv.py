"""The log as CSV."""

from __future__ import annotations

import csv
from typing import Any

from core.afterwards.rows import evening_log
from core.base.times import format_iso
from core.evaluate import identity
from core.export.log_csv import HEADS, log_csv
from tests.core.afterwards.evenings import SATELLITES, evening, evening_data, noted
from tests.lasting import result_of
from tests.plans import plan_of


def rows_of(**changes: Any) -> tuple[list[str], list[dict[str, str]]]:
    plan = plan_of(evening_data(**changes))
    result = result_of(plan)
    lines = log_csv(plan, result, evening_log(plan, result), 1_730_500_000.0).split("\r\n")
    body = [line for line in lines if not line.startswith("#")]
    return [line for line in lines if line.startswith("#")], list(csv.DictReader(body))


def test_each_contact_has_a_row_with_what_was_printed():
    plan, result = evening()
    head, rows = rows_of()
    assert head[0] == f"# northkey log, plan {identity(plan)}, made 2024-11-01T22:26:40.000Z"
    assert [row["number"] for row in rows] == [str(n) for n in range(1, len(result.order.contacts) + 1)]
    assert tuple(rows[0]) == HEADS
    for row, contact in zip(rows, result.order.contacts, strict=True):
        assert row["satellite"] == contact.check.pass_.satellite
        assert row["start_utc"] == format_iso(contact.start_utc_s)
        assert row["date_utc"] == "2024-11-01"
        assert (row["worked"], row["azimuth_dial_deg"], row["dials_at_utc"], row["note"]) == ("", "", "", "")
        assert row["printed_azimuth_dial_deg"]


def test_what_was_noted_stands_beside_it_with_the_difference():
    plan, _result = evening()
    entries = noted(plan, 3.2)
    entries[0] |= {"note": "loud", "last_heard": "2024-11-01T17:46:00Z"}
    entries[1] |= {"worked": False}
    _head, rows = rows_of(log=entries)
    for row, entry in zip(rows, entries, strict=True):
        more = float(row["azimuth_dial_deg"]) - float(row["printed_azimuth_dial_deg"])
        assert float(row["azimuth_more_deg"]) == more
        assert -4.0 < more < -2.5, "the station stood 3.2 deg further clockwise, so its dial read less"
        assert row["dials_at_utc"] == entry["time"]
    assert [row["worked"] for row in rows][:3] == ["yes", "no", "yes"]
    assert (rows[0]["note"], rows[0]["last_heard_utc"]) == ("loud", "2024-11-01T17:46:00.000Z")


def test_a_spreadsheet_takes_no_name_and_no_note_for_a_formula():
    first = evening()[1].order.contacts[0].check.pass_
    entry = {"norad_id": first.norad_id, "near": format_iso(first.peak.utc_s)}
    satellites = [{**one, "name": "=1+1"} if one["name"] == first.satellite else one for one in SATELLITES]
    for note, cell in (
        ("=cmd", "'=cmd"),
        ("+1", "'+1"),
        ("-1", "'-1"),
        ("@a", "'@a"),
        ("\t=1", "'=1"),
        ('say "hi", then', 'say "hi", then'),
    ):
        _head, rows = rows_of(satellites=satellites, log=[{**entry, "note": note}])
        assert rows[0]["satellite"] == "'=1+1"
        assert rows[0]["note"] == cell


def test_an_entry_without_a_pass_is_kept_below():
    log = [
        {"norad_id": 70001, "near": "2024-12-24T18:00:00Z", "azimuth_dial_deg": 12.5, "time_round": 2},
        {"norad_id": 4711, "near": "2024-11-01T18:00:00Z", "worked": True},
    ]
    _head, rows = rows_of(log=log)
    assert [(row["number"], row["satellite"], row["norad_id"]) for row in rows[-2:]] == [
        ("", "Alder", "70001"),
        ("", "", "4711"),
    ]
    assert (rows[-2]["azimuth_dial_deg"], rows[-2]["azimuth_dial_time_round"]) == ("12.5", "2")
    assert rows[-2]["printed_azimuth_dial_deg"] == rows[-2]["start_utc"] == ""
