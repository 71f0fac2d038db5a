from datetime import datetime

import pytest

from core.base.words import (
    bearing_text,
    counted,
    day_and_month,
    duration,
    first_few,
    listed,
    ordinal,
    plain,
    signed,
)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0.0"), (-0.0, "0.0"), (359.94, "359.9"), (359.96, "0.0"), (360.0, "0.0"), (-3.0, "357.0")],
)
def test_bearings_stay_below_360(value, text):
    assert bearing_text(value) == text


def test_figures():
    assert [plain(v) for v in (3.0, 2.5, 2.25, -0.001, 120.0)] == ["3", "2.5", "2.25", "0", "120"]
    assert [signed(v) for v in (3.0, -2.5, 0.0, -0.001)] == ["+3", "-2.5", "0", "0"]
    assert [duration(v) for v in (0.2, 45.4, 125.0, 4320.0, -45.0)] == [
        "0 s",
        "45 s",
        "2 min 05 s",
        "1 h 12 min",
        "-45 s",
    ]
    assert [listed(v) for v in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a and b", "a, b and c"]


def test_counts_and_places():
    assert [counted(n, "pass") for n in (0, 1, 2)] == ["0 passes", "1 pass", "2 passes"]
    assert [counted(n, "move") for n in (1, 3)] == ["1 move", "3 moves"]
    assert [ordinal(n) for n in (1, 5, 6)] == ["first", "fifth", "6th"]


def test_the_first_few_say_how_many_are_left():
    assert first_few(["a", "b"], 2) == "a, b"
    assert first_few(["a", "b", "c", "d"], 2) == "a, b and 2 more"
    assert first_few([], 2) == ""


def test_months_have_english_names():
    assert [day_and_month(datetime(2024, month, 9)) for month in (1, 5, 12)] == ["9 Jan", "9 May", "9 Dec"]
