"""What to add where the keyway came out elsewhere: figures that the dial has; how far the verdicts hold."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.dial.readings import azimuth_dial
from core.mount.model.station import AzimuthAxis
from core.setup.model import Sighting
from core.sheet.set_up.correction import correction_to_add, corrections, example_words, place_within_words
from core.sheet.set_up.dial_words import approach_words
from tests.seat_evening import seat_evening


def on_the_dial(figure: float, division_deg: float) -> bool:
    """A whole number of half divisions, as far as two decimals tell."""
    halves = figure / (division_deg / 2.0)
    return abs(halves - round(halves)) * division_deg / 2.0 <= 0.0051


@given(
    division=st.sampled_from([0.5, 1.0, 2.0, 5.0, 10.0]),
    scale=st.sampled_from([1.0, -1.0, 0.5, 2.0, -0.25]),
    stop=st.integers(-8, 8),
    intended=st.floats(0.0, 359.9),
    m=st.floats(0.0, 450.0),
    sense=st.sampled_from([1, -1]),
)
def test_what_is_added_to_a_printed_dial_gives_a_figure_that_the_dial_has(
    division, scale, stop, intended, m, sense
):
    axis = AzimuthAxis(dial_division_deg=division, dial_scale=scale, dial_at_stop_deg=stop * division)
    printed = azimuth_dial(m, axis).shown_deg
    found = corrections(axis, intended, sense)
    assert len(found) == 10
    for number, one in enumerate(found, start=1):
        add = float(one.add)
        assert on_the_dial(printed + add, division)
        off = sense * number * abs(float(found[0].add) / scale)
        assert add == pytest.approx(correction_to_add(axis, 0.0, off), abs=0.0051)
        turned = (intended + off - float(one.keyway_deg) + 180.0) % 360.0 - 180.0
        assert abs(turned) <= 0.0501
    # No finer than a degree of the keyway, which nobody finds better.
    assert abs(float(found[0].add) / scale) >= 1.0 - 1e-9


def test_a_coarse_dial_has_its_half_division_in_the_example_too():
    words = example_words(AzimuthAxis(dial_division_deg=5.0), 100.0)
    assert words == "Example: at 103.0 (100.0 - 103.0) = -3, -2.5 on the dial: 220 becomes 217.5."


def came_from(*sides: str) -> list[Sighting]:
    return [
        Sighting(time="2024-11-01T17:00:00Z", target="Sun", azimuth_dial_deg=1.0, came_from=side)  # type: ignore[arg-type]
        for side in sides
    ]


@pytest.mark.parametrize(
    ("sides", "division", "told"),
    [
        ((), 2.0, "every azimuth dial clockwise: go 2 past and come back."),
        (("left", "left", "right"), 1.0, "clockwise, as in the sightings: go 1.5 past"),
        (("right",), 10.0, "counter-clockwise, as in the sightings: go 5 past"),
    ],
)
def test_a_dial_is_come_to_from_the_side_of_the_sightings_by_more_than_the_play(sides, division, told):
    assert told in approach_words(AzimuthAxis(dial_division_deg=division), 1.0, came_from(*sides))


def test_sightings_left_out_have_no_side_and_a_gear_without_play_wants_none():
    left_out = [one.model_copy(update={"used": False}) for one in came_from("right")]
    assert "dial clockwise:" in approach_words(AzimuthAxis(), 1.0, left_out)
    assert approach_words(AzimuthAxis(), 0.0, []) == ""


def test_the_room_told_is_the_lesser_of_verdicts_and_guards_and_says_which_was_asked():
    plan, result, _study = seat_evening()
    contacts, mount = result.order.contacts, plan.mount
    alone = place_within_words(contacts, mount, 60.0, None)
    assert "other verdicts were not looked at" in alone
    narrow = place_within_words(contacts, mount, 60.0, (-0.3, 0.4))
    assert "from 59.7 to 60.4 (-0.3 / +0.4 deg) before a verdict of tonight's changes" in narrow
    wide = place_within_words(contacts, mount, 60.0, (-180.0, 180.0))
    assert wide.split("(")[1].split(")")[0] == alone.split("(")[1].split(")")[0]
    assert not math.isnan(float(wide.split("(")[1].split(" /")[0]))
