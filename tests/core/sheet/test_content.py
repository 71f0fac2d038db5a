import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.angles import wrap_180
from core.base.times import clock
from core.evaluate import evaluate
from core.mount.evening.drawn import drawn_pass, postures_of
from core.mount.model.chain import zeta_deg
from core.mount.model.station import AzimuthAxis, ElevationAxis, IndexHole, Mount, SightingCorrection, Tilt
from core.passes.track import Pass
from core.sheet.content import sheet_content
from core.sheet.drawing.marks import MARK_OF
from core.sheet.hand.seconds import HAND_S, QUICKEST_S
from core.sheet.render import pdf_of
from core.sheet.set_up.correction import correction_to_add
from core.sheet.set_up.dial_words import azimuth_words, elevation_words
from core.sheet.swings import swings
from core.sheet.wishes import SheetWishes
from tests.core.sheet.samples import (
    EVERY_KIND,
    HOSTILE_TITLE,
    MADE_S,
    MOUNT,
    START_S,
    Wanted,
    check_of,
    evening,
    pass_of,
)
from tests.evening_plans import evening_plan
from tests.lasting import result_of
from tests.plans import plan_of, short_plan_data
from tests.stays import stay_through


@pytest.fixture(scope="module")
def made():
    plan, result = evening()
    return plan, result, sheet_content(plan, result, MADE_S)


def _seconds(text):
    hours, minutes, seconds = (int(part) for part in text.split(":"))
    return START_S - 17 * 3600 + hours * 3600 + minutes * 60 + seconds


def _boresight(m_deg, e_deg):
    m, e = math.radians(m_deg), math.radians(e_deg)
    return np.array([math.cos(e) * math.sin(m), math.cos(e) * math.cos(m), math.sin(e)])


def _apart_deg(a, b):
    return math.degrees(math.atan2(np.linalg.norm(np.cross(a, b)), float(a @ b)))


def test_every_verdict_stands_on_the_sheet(made):
    _, _, content = made
    assert {card.verdict for card in content.cards} == {
        "upright",
        "upright, resting",
        "over the top",
        "split",
        "part",
        "out of reach",
    }


def _settings(card):
    return [
        line
        for line in card.lines
        if line.kind == "set" and line.azimuth.figure and "behind the mask" not in line.note
    ]


def test_each_line_gives_the_dials_of_its_printed_second(made):
    plan, result, content = made
    for contact, card in zip(result.order.contacts, content.cards, strict=True):
        for line in _settings(card):
            t, pointing = _seconds(line.utc), contact.check.pointing
            assert t == line.utc_s
            m = np.interp(t, pointing.utc_s, pointing.m_deg)
            e = np.interp(t, pointing.utc_s, pointing.e_deg)
            # The sample's dial: 0 at the stop, scale 1, wraps at 360, read to half a degree.
            off = abs(wrap_180(float(line.azimuth.figure) - m))
            assert off <= 0.25 + 1e-6
            assert abs(float(line.elevation.figure) - e) <= 0.25 + 1e-6
            shown = math.floor(m * 2.0 + 0.5) / 2.0
            twice = shown + 360.0 <= plan.mount.azimuth.travel_deg or shown >= 360.0
            assert line.azimuth.time_round == (("2nd" if shown >= 360.0 else "1st") if twice else "")


def test_lines_are_spaced_by_sky_angle_and_by_the_hands_time(made):
    plan, result, content = made
    step = plan.station.beam_limit_deg / 4.0
    seen = 0
    for contact, card in zip(result.order.contacts, content.cards, strict=True):
        pointing = contact.check.pointing
        for here, there in itertools.pairwise(card.lines):
            a, b = here.utc_s, there.utc_s
            assert a < b
            away = here.kind in {"move", "hold"} or "behind the mask" in here.note or there.kind == "hold"
            if away or (here.azimuth == there.azimuth and here.elevation == there.elevation):
                continue
            looks = [
                _boresight(
                    np.interp(t, pointing.utc_s, pointing.m_deg), np.interp(t, pointing.utc_s, pointing.e_deg)
                )
                for t in np.linspace(a, b, 25)
            ]
            # Whole seconds may cost a second's worth of motion at either end.
            slack = 2.0 * max(_apart_deg(*pair) for pair in itertools.pairwise(looks)) * 24.0 / (b - a) + 0.1
            path = sum(_apart_deg(*pair) for pair in itertools.pairwise(looks))
            seen += 1
            assert b - a >= QUICKEST_S or there.kind in {"word", "move"}
            assert path <= step + slack or (b - a < 2.0 * HAND_S and path <= 3.0 * step + slack)
    assert seen > 50


def test_events_have_their_line(made):
    _, result, content = made
    for contact, card in zip(result.order.contacts, content.cards, strict=True):
        notes = " | ".join(line.note for line in card.lines)
        check = contact.check
        if check.pointing is None:
            assert not card.lines
            continue
        assert card.lines[0].note.startswith("AOS")
        assert card.lines[-1].kind == "word"
        assert card.lines[-1].note == ("stop here" if check.part else "LOS")
        if len(check.pass_.stretches) > 1 and check.split is None:
            assert f"behind the mask until {clock(math.ceil(check.pass_.stretches[1][0]))}" in notes
        if check.resting:
            assert "azimuth rests at" in notes


def test_no_two_lines_one_after_the_other_have_the_same_dials(made):
    for card in made[2].cards:
        for here, there in itertools.pairwise(card.lines):
            assert (here.azimuth, here.elevation) != (there.azimuth, there.elevation)


def test_a_split_tells_where_to_move_and_which_way(made):
    _, result, content = made
    seen = 0
    for contact, card in zip(result.order.contacts, content.cards, strict=True):
        split = contact.check.split
        if split is None:
            continue
        seen += 1
        (move,) = (line for line in card.lines if line.kind == "move")
        assert move.utc_s <= split.start_utc_s
        assert move.until_s >= split.end_utc_s
        sense = "cw" if split.m_to_deg > split.m_from_deg else "ccw"
        assert move.turn == sense
        assert move.note.startswith(f"MOVE {sense.upper()} ")
        assert (
            f"to {move.azimuth.text}, el {move.elevation.text}, back on at {clock(move.until_s)}" in move.note
        )
        assert "MOVE " in card.turn
        assert not [line for line in card.lines if move.utc_s < line.utc_s < move.until_s]
    assert seen == 2


def test_turn_to_a_line_agrees_with_the_dials(made):
    _, _, content = made
    for card in content.cards:
        for here, there in itertools.pairwise(card.lines):
            told = here.azimuth.figure and there.azimuth.figure
            if not told or there.kind in {"move", "hold"} or here.kind in {"move", "hold"}:
                continue
            turned = wrap_180(float(there.azimuth.figure) - float(here.azimuth.figure))
            if abs(turned) > 0.5:
                assert there.turn == ("cw" if turned > 0 else "ccw")


def test_the_card_says_what_comes_next_and_when_to_leave(made):
    _, result, content = made
    contacts = result.order.contacts
    for index, card in enumerate(content.cards[:-1]):
        move = contacts[index + 1].move_before
        assert f"pass {index + 2}" in card.after
        if move is not None:
            by = clock(contacts[index + 1].start_utc_s - move.seconds_needed)
            assert by in card.after
            assert ("NOT IN TIME" in card.after) == (not move.feasible)
    assert content.cards[-1].after == "Last of the evening."


def test_a_move_that_does_not_fit_is_shouted():
    close = (replace(EVERY_KIND[0]), replace(EVERY_KIND[2], after_s=2000.0, feasible=False))
    plan, result = evening(close)
    content = sheet_content(plan, result, MADE_S)
    line = content.evening.lines[1]
    assert not line.in_time
    assert line.move.startswith("NOT IN TIME")
    assert content.cards[1].late
    assert "NOT IN TIME" in content.cards[0].after


def test_hostile_text_comes_through_as_it_is(made):
    _, _, content = made
    assert content.title.replace("\u200b", "") == HOSTILE_TITLE
    assert '#let x = $y$ *b* _i_ @a <l> [c] "q" \\n // ä' in [
        c.satellite.replace("\u200b", "") for c in content.cards
    ]


def test_set_up_card_gives_both_numbers_of_the_hole(made):
    _, _, content = made
    card = content.set_up
    assert "offset -30 deg" in card.hole_words
    assert "drilled 30 deg clockwise" in card.hole_words
    assert "offset -30, drilled 30" in content.seat
    assert (card.keyway_true_deg, card.keyway_magnetic_deg) == ("143.0", "139.6")
    assert [stop.true_deg for stop in card.stops] == ["113.0", "203.0"]
    assert [stop.dial.text for stop in card.stops] == ["0 (1st)", "90 (2nd)"]
    assert "3.4 deg east, ±0.4" in card.declination
    assert "47.20000 deg north, 9.10000 deg east" in card.position
    assert "JN47ne" in card.position


def test_south_and_west_are_named():
    plan, result = evening(EVERY_KIND[:1])
    site = plan.site.model_copy(update={"latitude_deg": -33.9, "longitude_deg": -70.5})
    content = sheet_content(plan.model_copy(update={"site": site}), result, MADE_S)
    assert "33.90000 deg south, 70.50000 deg west" in content.set_up.position


@given(
    scale=st.sampled_from([1.0, -1.0, 0.5, 2.0]),
    stop=st.floats(-180.0, 360.0),
    intended=st.floats(0.0, 360.0),
    error=st.floats(-90.0, 90.0),
    m=st.floats(3.0, 447.0),
)
def test_the_corrected_dial_looks_where_the_printed_one_was_meant_to(scale, stop, intended, error, m):
    axis = AzimuthAxis(dial_at_stop_deg=stop, dial_scale=scale)
    mount = Mount(keyway_bearing_deg=intended, azimuth=axis, datum_to_stop_deg=40.0)
    actual = (intended + error) % 360.0
    printed = stop + scale * m
    corrected = printed + correction_to_add(axis, intended, actual)
    there = mount.model_copy(update={"keyway_bearing_deg": actual})
    looks_at = zeta_deg(there) + (corrected - stop) / scale
    assert wrap_180(looks_at - (zeta_deg(mount) + m)) == pytest.approx(0.0, abs=1e-6)


def test_the_rule_and_its_table_agree(made):
    _, _, content = made
    card = content.set_up
    assert "(intended - actual)" in card.rule
    assert "(143.0 - 146.0) = -3" in card.example
    assert [(c.keyway_deg, c.add) for c in card.corrections_above][:3] == [
        ("144", "-1"),
        ("145", "-2"),
        ("146", "-3"),
    ]
    assert [(c.keyway_deg, c.add) for c in card.corrections_below][-1] == ("133", "+10")


def test_a_backward_dial_turns_the_correction_round():
    axis = MOUNT.azimuth.model_copy(
        update={"dial_scale": -1.0, "dial_wraps_at_deg": None, "dial_wraps_to_deg": None}
    )
    plan, result = evening(EVERY_KIND[:2], MOUNT.model_copy(update={"azimuth": axis}))
    card = sheet_content(plan, result, MADE_S).set_up
    assert "-1 times (intended - actual)" in card.rule
    assert (card.corrections_above[0].keyway_deg, card.corrections_above[0].add) == ("144", "+1")
    assert "falls by 1" in card.dial_words[0]


def test_the_room_for_the_keyway_ends_where_a_clear_pass_meets_a_guard():
    wanted = (Wanted("upright", "ONE", 900.0, 36.0, 20.0), Wanted("upright", "TWO", 2900.0, 50.0, 200.0))
    plan, result = evening(wanted)
    text = sheet_content(plan, result, MADE_S).set_up.place_within
    back, ahead = (float(part.strip("+")) for part in text.split("(")[1].split(" deg")[0].split(" / "))
    ways = [contact.check.chosen for contact in result.order.contacts]
    axis = plan.mount.azimuth
    # Told to a tenth, on the safe side.
    assert min(way.m_min_deg for way in ways) - ahead == pytest.approx(axis.guard_deg + 0.05, abs=0.0501)
    assert max(way.m_max_deg for way in ways) - back == pytest.approx(
        axis.travel_deg - axis.guard_deg - 0.05, abs=0.0501
    )


def test_no_promise_about_the_keyway_without_a_clear_pass():
    plan, result = evening(EVERY_KIND[3:5])
    assert sheet_content(plan, result, MADE_S).set_up.place_within == ""


def test_corrections_tilt_and_clocking_are_told():
    mount = MOUNT.model_copy(
        update={
            "sighting_correction": SightingCorrection(deg=1.5, keyway_bearing_deg=143.0, index_hole="B"),
            "tilt": Tilt(angle_deg=1.2, toward_deg=230.0),
            "datum_to_stop_deg": 12.0,
        }
    )
    plan, result = evening(EVERY_KIND[:1], mount)
    told = " ".join(sheet_content(plan, result, MADE_S).set_up.steerings)
    assert "Sighting correction +1.5 deg, in the dials here (upright and over the top)" in told
    assert "leans 1.2 deg toward 230.0 true" in told
    nothing = SightingCorrection(deg=0.0, keyway_bearing_deg=143.0, index_hole="B")
    held = mount.model_copy(update={"sighting_correction": nothing})
    plan, result = evening(EVERY_KIND[:1], held)
    told = " ".join(sheet_content(plan, result, MADE_S).set_up.steerings)
    assert "0 deg, in the dials here (upright and over the top)" in told
    moved = mount.model_copy(update={"keyway_bearing_deg": 150.0})
    plan, result = evening(EVERY_KIND[:1], moved)
    assert "void" in " ".join(sheet_content(plan, result, MADE_S).set_up.steerings)


def test_how_the_dials_read_is_said_in_words():
    wraps = azimuth_words(MOUNT.azimuth)
    assert "0 on the counter-clockwise stop, rises by 1" in wraps
    assert "at 360 it starts again from 0" in wraps
    assert "runs on without wrapping" in azimuth_words(AzimuthAxis(dial_at_stop_deg=180.0))
    assert "180 on the counter" in azimuth_words(AzimuthAxis(dial_at_stop_deg=180.0))
    assert "from 0 to 90" in elevation_words(ElevationAxis(maximum_deg=90.0))
    assert "180 level again" in elevation_words(ElevationAxis())
    assert "2 level, 92 straight up" in elevation_words(ElevationAxis(dial_offset_deg=2.0))


def test_old_elements_and_a_changing_clock_are_warned_of(made):
    _, _, content = made
    assert any("more than 14 days old" in text and "BRIAR-2" in text for text in content.set_up.warnings)
    plan, result = evening(EVERY_KIND[:1], hours=("2024-10-26T22:00:00Z", "2024-10-27T03:00:00Z"))
    warnings = sheet_content(plan, result, MADE_S).set_up.warnings
    assert any("local clock changes at 01:00:00 UTC" in text for text in warnings)


def test_a_pass_cut_by_the_hours_is_marked_in_the_evening_and_on_its_card():
    evening_hours = {"start": "2024-11-01T17:15:00Z", "end": "2024-11-01T17:45:00Z"}
    plan = plan_of(short_plan_data(), evening=evening_hours, shortest_contact_s=0.0)
    content = sheet_content(plan, evaluate(plan), MADE_S)
    line, card = content.evening.lines[0], content.cards[0]
    assert line.peak.endswith("cut at the start of the hours")
    assert card.peak.endswith(", cut at the start of the hours")


def test_what_is_left_out_or_refused_is_told(made):
    plan, result, plainly = made
    assert plainly.evening.left_out == ()
    assert "2 passes left out; the list is printed where asked for." in plainly.evening.told
    content = sheet_content(plan, result, MADE_S, wishes=SheetWishes(left_out=True))
    assert [line.satellite for line in content.evening.left_out] == ["HAZEL-4", "OSIER-1"]
    assert any("matches no pass" in text for text in content.evening.told)
    assert any("OLD BIRD" in text for text in content.evening.told)


def test_what_may_be_missing_to_the_best_order_is_told(made):
    plan, result, plainly = made
    order = replace(result.order, worth=replace(result.order.worth, short_s=63.2))
    content = sheet_content(plan, replace(result, order=order), MADE_S)
    words = "64 s at most below the best order: too many long passes overlap."
    assert words in content.evening.told
    assert words not in plainly.evening.told


def test_out_of_reach_is_left_out_with_the_reason_of_the_verdict():
    plan, result = evening(left_out=0)
    check = result.checks[5]
    left = replace(result, order=replace(result.order, left_out=((check, "out of reach"),)))
    line = sheet_content(plan, left, MADE_S, wishes=SheetWishes(left_out=True)).evening.left_out[0]
    assert line.verdict == "out of reach"
    assert line.why == result.reasons[5].text


def _marks(check):
    return [MARK_OF[kind].value for kind, _, _ in drawn_pass(check, MOUNT).runs()]


def test_postures_and_marks_follow_the_verdict():
    check = check_of(EVERY_KIND[2], pass_of(EVERY_KIND[2], 1), MOUNT)
    assert postures_of(check) == ("over the top", "over the top")
    assert _marks(check) == ["hatched"]
    split = check_of(EVERY_KIND[3], pass_of(EVERY_KIND[3], 1), MOUNT)
    assert _marks(split) == ["filled", "gap", "filled"]
    part = check_of(EVERY_KIND[4], pass_of(EVERY_KIND[4], 1), MOUNT)
    assert _marks(part) == ["filled", "hidden", "filled", "outlined"]
    out = check_of(EVERY_KIND[5], pass_of(EVERY_KIND[5], 1), MOUNT)
    assert _marks(out) == ["outlined"]


@given(st.lists(st.floats(5.0, 90.0), min_size=1, max_size=4), st.booleans())
def test_swings_are_told_one_by_one(sizes, clockwise_first):
    wanted = EVERY_KIND[0]
    check = check_of(wanted, pass_of(wanted, 1), MOUNT)
    n = check.pointing.utc_s.size
    signs = [(1.0 if (i % 2 == 0) == clockwise_first else -1.0) for i in range(len(sizes))]
    corners = np.concatenate([[200.0], 200.0 + np.cumsum([s * d for s, d in zip(signs, sizes, strict=True)])])
    m = np.interp(np.linspace(0.0, len(sizes), n), np.arange(len(sizes) + 1), corners)
    m = m + 0.2 * np.sin(np.arange(n))  # play that must not be told
    told = swings(drawn_pass(replace(check, pointing=replace(check.pointing, m_deg=m)), MOUNT), check)
    assert len(told) == len(sizes)
    for (degrees, _), size, sign in zip(told, sizes, signs, strict=True):
        assert degrees == pytest.approx(sign * size, abs=1.0)


def test_an_evening_without_passes_has_its_set_up_card():
    plan, result = evening((), left_out=0)
    content = sheet_content(plan, result, MADE_S)
    assert content.cards == ()
    assert content.evening.strip is None
    assert content.elements == "no elements"


def test_a_satellite_that_stands_still_has_its_card():
    plan, result = evening(EVERY_KIND[:1], left_out=0)
    contact = result.order.contacts[0]
    pass_, pointing = contact.check.pass_, contact.check.pointing
    hours = 4 * 3600.0
    utc_s = np.linspace(START_S, START_S + hours, pass_.utc_s.size)
    flat = np.full(utc_s.size, 30.0)
    ends = [replace(pass_.aos, utc_s=float(t), azimuth_deg=30.0, elevation_deg=30.0) for t in utc_s[[0, -1]]]
    place = 36_000.0 * np.array([math.sqrt(3.0), 3.0, 2.0]) / 4.0
    states = np.tile(place, (2, 1)), np.zeros((2, 3))
    stay = stay_through(pass_.satellite, pass_.norad_id, utc_s[[0, -1]], states, (ends[0], ends[0]), "both")
    still = Pass(stay, *ends, ((float(utc_s[0]), float(utc_s[-1])),), "both")
    check = replace(
        contact.check, pass_=still, pointing=replace(pointing, utc_s=utc_s, m_deg=flat + 200.0, e_deg=flat)
    )
    contacts = (replace(contact, check=check, start_utc_s=float(utc_s[0]), end_utc_s=float(utc_s[-1])),)
    content = sheet_content(plan, replace(result, order=replace(result.order, contacts=contacts)), MADE_S)
    card = content.cards[0]
    assert [line.note for line in card.lines] == ["already up, stay at 230 until 21:00:00", "evening ends"]
    assert card.turn == "stands still"
    assert pdf_of(content).startswith(b"%PDF")


def test_holes_with_long_names_stay_off_the_picture():
    mount = Mount(index_holes=(IndexHole(name="A"), IndexHole(name="a very long hole name", offset_deg=50.0)))
    plan, result = evening(EVERY_KIND[:1], mount)
    labels = [
        item.text for item in sheet_content(plan, result, MADE_S).set_up.picture.items if item.kind == "label"
    ]
    assert "a very long hole name" not in labels


def test_a_contact_begins_at_one_second_wherever_its_card_tells_it():
    """What begins at 17:13:43.2 begins at 17:13:44: the card's head, its first line, and who comes late."""
    plan = evening_plan(site={"latitude_deg": 47.2, "longitude_deg": 10.0})
    card = sheet_content(plan, result_of(plan), MADE_S).cards[0]
    begins = card.lines[0].utc
    assert card.utc.startswith(begins)
    assert any(text.startswith(f"If late: at {begins} still at idle") for text in card.below)
