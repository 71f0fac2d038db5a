"""A moment of the evening, typed."""

from __future__ import annotations

import pytest

from core.base.errors import ValueRangeError
from core.base.times import format_iso, parse_iso
from core.plan.document import Evening
from core.plan.typed_moment import read_moment

EVENING = Evening(start="2024-11-01T16:00:00Z", end="2024-11-02T01:00:00Z")
NOW_S = parse_iso("2024-11-01T17:42:08Z")


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("", "2024-11-01T17:42:08"),
        (" Now ", "2024-11-01T17:42:08"),
        ("18:42", "2024-11-01T18:42:00"),
        ("1842", "2024-11-01T18:42:00"),
        ("18:42:30", "2024-11-01T18:42:30"),
        ("184230", "2024-11-01T18:42:30"),
        ("18:42Z", "2024-11-01T18:42:00"),
        ("18:42 UTC", "2024-11-01T18:42:00"),
        ("00:10", "2024-11-02T00:10:00"),
        ("15:50", "2024-11-01T15:50:00"),
        ("01:20", "2024-11-02T01:20:00"),
        ("2024-11-01T18:42:30Z", "2024-11-01T18:42:30"),
    ],
)
def test_a_time_of_day_is_the_one_of_the_evening(text: str, moment: str) -> None:
    assert format_iso(read_moment(text, EVENING, NOW_S)) == f"{moment}.000Z"


def test_in_an_evening_of_days_it_is_the_one_nearest_to_now() -> None:
    days = Evening(start="2024-11-01T16:00:00Z", end="2024-11-05T16:00:00Z")
    now_s = parse_iso("2024-11-03T23:50:00Z")
    assert format_iso(read_moment("00:10", days, now_s)) == "2024-11-04T00:10:00.000Z"


@pytest.mark.parametrize("text", ["soon", "25:00", "18:61", "18:42:75", "2024-13-01T00:00Z"])
def test_what_is_no_time_is_refused(text: str) -> None:
    with pytest.raises(ValueRangeError, match="now is"):
        read_moment(text, EVENING, NOW_S)
