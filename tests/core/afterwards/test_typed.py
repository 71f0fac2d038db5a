"""What is typed from the paper."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.afterwards.typed import (
    CELLS,
    azimuth_text,
    cell_texts,
    read_azimuth,
    read_cell,
    read_elevation,
    read_time,
    time_text,
)
from core.base.errors import ValueRangeError
from core.base.times import format_iso, parse_iso
from core.log.model import LogEntry
from tests.core.afterwards.evenings import evening


@pytest.mark.parametrize(
    ("text", "figure", "time_round"),
    [
        ("", None, None),
        ("  ", None, None),
        ("212", 212.0, None),
        (" 212.5 ", 212.5, None),
        ("212,5", 212.5, None),
        ("-30", -30.0, None),
        ("212 (2nd)", 212.0, 2),
        ("212.5 2nd", 212.5, 2),
        ("212 ( 1st )", 212.0, 1),
        ("20, second time round", 20.0, 2),
        ("20 (3RD time)", 20.0, 3),
        ("20 12th", 20.0, 12),
        ("212 deg (2nd)", 212.0, 2),
        ("212 (2nd", 212.0, 2),
    ],
)
def test_a_dial_is_read_as_it_stands_on_the_paper(text, figure, time_round):
    assert read_azimuth(text) == (figure, time_round)


@pytest.mark.parametrize("text", ["north", "212 (2)", "(2nd)", "212 (0th)", "4000", "1 2 3", "212 2nd 3"])
def test_what_is_no_figure_is_refused(text):
    with pytest.raises(ValueRangeError):
        read_azimuth(text)


@given(st.none() | st.floats(-3600.0, 3600.0).map(lambda x: round(x, 2)), st.none() | st.integers(1, 99))
def test_what_is_shown_is_read_again(figure, time_round):
    shown = azimuth_text(figure, time_round)
    assert read_azimuth(shown) == (figure, None if figure is None else time_round)


@given(
    st.none() | st.integers(0, 719).map(lambda half: half / 2.0),
    st.none() | st.integers(61_200, 71_999).map(lambda s: format_iso(1_730_419_200.0 + s)),
    st.sampled_from(["", "loud"]),
)
def test_what_the_cells_of_a_row_show_is_read_again(dial, time, note):
    plan, result = evening()
    pass_ = result.passes[0]
    entry = LogEntry(
        norad_id=1,
        near="2024-11-01T18:00:00Z",
        azimuth_dial_deg=dial,
        elevation_dial_deg=dial,
        time=time,
        note=note,
    )
    noted: dict[str, object] = {}
    for cell, text in zip(CELLS, cell_texts(entry), strict=True):
        noted |= read_cell(cell, text, plan.evening, pass_)
    again = LogEntry.model_validate({"norad_id": 1, "near": "2024-11-01T18:00:00Z"} | noted)
    assert again == entry
    assert cell_texts(None) == ("",) * len(CELLS)


def test_the_elevation_dial_has_no_rounds():
    assert (read_elevation(""), read_elevation("34.5")) == (None, 34.5)
    with pytest.raises(ValueRangeError):
        read_elevation("34 (2nd)")


def test_a_time_is_the_one_nearest_to_the_pass_and_reads_again():
    plan, result = evening()
    pass_ = result.passes[0]
    day = format_iso(pass_.peak.utc_s)[:10]
    for text, clock in (("17:42", "17:42:00"), ("1742", "17:42:00"), ("17:42:30", "17:42:30")):
        found = read_time(text, plan.evening, pass_)
        assert found == f"{day}T{clock}.000Z"
        assert read_time(time_text(found), plan.evening, pass_) == found
    assert read_time(" ", plan.evening, pass_) is None
    assert time_text(None) == ""
    assert parse_iso(str(read_time("2024-11-01", plan.evening, pass_))) == parse_iso("2024-11-01")
    for text in ("now", "soon", "25:00"):
        with pytest.raises(ValueRangeError, match="a time of day in UTC such as 18:42"):
            read_time(text, plan.evening, pass_)
