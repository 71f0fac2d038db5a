"""Frequencies on a card: to which figure what is added, and when nothing is."""

from __future__ import annotations

import re

import numpy as np
import pytest

from core.base.times import clock
from core.passes.frames import slant_range
from core.passes.stays import Stay, stay_at
from core.radio.model import Transponder
from core.sheet.content import sheet_content
from core.sheet.satellite.radio import MOST_RADIO_LINES, RADIO_READ, radio_lines
from core.sheet.wishes import SheetWishes
from tests.core.passes.flights import START, flight, stay_of
from tests.core.sheet.samples import EVERY_KIND, MADE_S, evening
from tests.stays import stay_through

PATH, HALF_S = flight(700.0, 30.0, 5.0)
STAY = stay_of(PATH, START - HALF_S, START + HALF_S)
FIRST_S, LAST_S = START - HALF_S + 5.0, START + HALF_S - 65.0
BEACON = Transponder(name="beacon", downlink_hz=145.868e6, mode="CW")
VOICE = Transponder(name="voice", downlink_hz=436.212e6, uplink_hz=145.954e6, mode="FM", tone_hz=71.9)


def line(one: Transponder, start_s: float = FIRST_S, end_s: float = LAST_S) -> str:
    (told,) = radio_lines([one], STAY, start_s, end_s)
    return told


def shift_khz(frequency_hz: float, utc_s: float, stay: Stay = STAY) -> float:
    """How much higher it is received, by the ranges half a second to either side."""
    before, after = slant_range(stay_at(stay, np.array([utc_s - 0.5, utc_s + 0.5]))[0])
    return float(frequency_hz * (before - after) / 299_792.458 / 1000.0)


def test_a_beacon_has_the_shifts_of_both_ends_and_when_there_is_none():
    ends = [shift_khz(145.868e6, at) for at in (FIRST_S, LAST_S)]
    assert ends[0] > 0.0 > ends[1]
    assert line(BEACON) == (
        f"beacon CW: down 145.868 MHz ({ends[0]:+.1f} to {ends[1]:+.1f} kHz, 0 at {clock(STAY.tca.utc_s)})"
    )


def test_what_is_sent_is_shifted_the_other_way():
    up = [-shift_khz(145.954e6, at) for at in (FIRST_S, LAST_S)]
    assert line(VOICE).endswith(f", up 145.954 ({up[0]:+.1f} to {up[1]:+.1f}), tone 71.9 Hz")
    alone = Transponder(name="command", uplink_hz=145.954e6)
    assert line(alone).startswith(f"command: up 145.954 MHz ({up[0]:+.1f} to {up[1]:+.1f} kHz, 0 at ")


def test_a_passband_has_both_ends_and_says_that_it_is_turned_round():
    linear = Transponder(
        name="linear",
        downlink_hz=145.889e6,
        uplink_hz=437.512e6,
        bandwidth_hz=30e3,
        mode="SSB",
        inverting=True,
    )
    told = line(linear)
    assert told.startswith("linear SSB: down 145.874 to 145.904 MHz (")
    assert ", up 437.497 to 437.527 (" in told
    assert told.endswith("), inverting")


def test_a_frequency_is_printed_to_the_hertz_where_it_takes_it():
    assert "down 437.0875 MHz" in line(BEACON.model_copy(update={"downlink_hz": 437.0875e6}))
    assert "down 145.800123 MHz" in line(BEACON.model_copy(update={"downlink_hz": 145.800123e6}))
    assert "down 146.000 MHz" in line(BEACON.model_copy(update={"downlink_hz": 146e6}))


def test_before_the_nearest_point_there_is_no_zero():
    assert re.fullmatch(
        r"beacon CW: down 145\.868 MHz \(\+\d\.\d to \+\d\.\d kHz\)", line(BEACON, end_s=START - 60.0)
    )


def test_too_little_to_print_is_none():
    slow = BEACON.model_copy(update={"downlink_hz": 1.9e6})
    assert line(slow) == "beacon CW: down 1.900 MHz (0 kHz)"


def test_a_shift_that_turns_inside_is_told_with_its_moment():
    """Nearer ever faster and then ever slower, as a satellite on a long ellipse."""
    utc_s = START + np.linspace(0.0, 6000.0, 601)
    at = (utc_s - START) / 6000.0
    away = 30_000.0 - 6000.0 * (at - np.sin(2.0 * np.pi * at) / (2.0 * np.pi))
    speed = -(1.0 - np.cos(2.0 * np.pi * at))
    none = np.zeros_like(away)
    states = np.stack([none, none, away], axis=1), np.stack([none, none, speed], axis=1)
    stay = stay_through("INVENTED", 90001, utc_s, states, (STAY.peak, STAY.tca))
    (told,) = radio_lines([BEACON], stay, START + 1200.0, START + 4500.0)
    assert told == f"beacon CW: down 145.868 MHz (+0.3 to +1.0 at {clock(START + 3000.0)} to +0.5 kHz)"


@pytest.mark.parametrize(
    ("status", "ending"),
    [("active", ")"), ("only in sunlight", "), only in sunlight, as of 2026-11-20")],
)
def test_a_status_is_told_where_it_is_more_than_that_it_works(status, ending):
    one = BEACON.model_copy(update={"status": status, "status_date": "2026-11-20"})
    assert line(one).endswith(ending)


def test_one_that_is_off_comes_last_without_a_frequency():
    off = VOICE.model_copy(update={"status": "Off", "status_date": "2026-11-02"})
    assert radio_lines([off, BEACON], STAY, FIRST_S, LAST_S) == (
        line(BEACON),
        "voice FM: off, as of 2026-11-02",
    )


def test_more_than_there_is_room_for_are_counted_and_one_without_a_frequency_is_none():
    silent = Transponder(name="camera")
    told = radio_lines([silent, *[BEACON] * 5], STAY, FIRST_S, LAST_S)
    assert told == (*[line(BEACON)] * MOST_RADIO_LINES, "and 2 more in the plan")
    assert radio_lines([silent], STAY, FIRST_S, LAST_S) == ()


def test_a_long_line_does_without_the_zero_and_names_are_cut():
    long = VOICE.model_copy(update={"name": "W" * 90, "mode": "M" * 90, "status": "S" * 90})
    told = line(long).replace("\u200b", "")
    assert "0 at" not in told
    assert len(told) < 170
    assert "0 at" in line(VOICE)
    assert len(line(VOICE)) <= 110


def test_the_cards_have_them_and_the_sheet_says_how_they_are_read():
    plan, result = evening(EVERY_KIND[:2])
    heard = plan.satellites[0].model_copy(update={"transponders": (BEACON,)})
    with_radio = plan.model_copy(update={"satellites": (heard, *plan.satellites[1:])})
    content = sheet_content(with_radio, result, MADE_S)
    assert [len(card.radio) for card in content.cards] == [1, 0]
    assert content.cards[0].radio[0].startswith("beacon CW: down 145.868 MHz (+")
    assert RADIO_READ in content.how_read
    assert all(card.light for card in content.cards)
    assert RADIO_READ not in sheet_content(plan, result, MADE_S).how_read
    four = sheet_content(with_radio, result, MADE_S, wishes=SheetWishes(shape="four"))
    assert RADIO_READ not in four.how_read
