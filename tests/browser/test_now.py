"""The view of the present: what stands there at each moment, by the phone's clock and in a rehearsal."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from core.base.times import clock, format_iso
from tests.browser.phone import PocketPage
from tests.core.export.pocket.pages import content_of
from tests.core.sheet.samples import START_S, evening

_FIGURES = ("az", "el", "az-round", "el-round", "until", "then", "note", "act", "where", "utc")


def _moments(content):
    """Fifty moments of the evening, among them the seconds at which lines begin and those before."""
    draw = random.Random(7)
    edges = [line.utc_s for card in content.cards for line in card.lines]
    free = [float(draw.randrange(int(content.start_utc_s), int(content.end_utc_s))) for _ in range(20)]
    return free + [draw.choice(edges) for _ in range(20)] + [draw.choice(edges) - 1.0 for _ in range(10)]


def _expected(content, utc_s):
    """(azimuth, elevation) dials as the sheet's lines have them, and the clock of the next line."""
    for card in reversed(content.cards):
        if card.start_utc_s <= utc_s:
            if utc_s > card.end_utc_s:
                break
            lines = card.lines
            if not lines:
                return "none", None, None, None
            begun = [line for line in lines if line.utc_s <= utc_s]
            azimuth = next(line.azimuth for line in reversed(begun) if line.azimuth.figure)
            elevation = next(line.elevation for line in reversed(begun) if line.elevation.figure)
            following = [line.utc_s for line in lines if line.utc_s > utc_s]
            return "contact", azimuth, elevation, following[0] if following else None
    ahead = [card for card in content.cards if card.start_utc_s > utc_s]
    if not ahead:
        return "over", None, None, None
    return "waiting", ahead[0].start_azimuth, ahead[0].start_elevation, ahead[0].start_utc_s


def _round(dial):
    return f"({dial.time_round})" if dial.time_round else ""


def test_at_fifty_moments_the_figures_are_the_sheets(page, content):
    page.open()
    states = set()
    for utc_s in _moments(content):
        page.rehearse(format_iso(utc_s))
        state, azimuth, elevation, following = _expected(content, utc_s)
        states.add(state)
        shown = dict(zip(_FIGURES, page.texts(*_FIGURES), strict=True))
        assert shown["utc"] == clock(utc_s)
        if azimuth is None or not azimuth.figure:
            assert (shown["az"], shown["el"]) == ("", "")
            continue
        assert (shown["az"], shown["az-round"]) == (azimuth.figure, _round(azimuth)), format_iso(utc_s)
        assert (shown["el"], shown["el-round"]) == (elevation.figure, _round(elevation)), format_iso(utc_s)
        if following is not None:
            assert clock(following) in shown["until"] + shown["then"]
    assert {"contact", "waiting"} <= states


def test_by_the_phones_clock_nothing_is_marked_a_rehearsal(page, content):
    card = content.cards[0]
    line = card.lines[3]
    page.open(clock=format_iso(line.utc_s + 2.0))
    assert page.state == "contact"
    assert page.text("az") == line.azimuth.figure
    assert page.text("rehearsal") == ""
    assert card.satellite in page.text("where")
    assert page.text("local") == "18:" + page.text("utc")[3:]


def test_the_offset_that_is_typed_is_added_to_the_phones_clock_and_kept(page, content):
    line = content.cards[0].lines[3]
    at = {"clock": format_iso(line.utc_s - 40.0)}
    page.open(**at)
    assert page.text("az") != line.azimuth.figure
    type_offset(page, "41,5")
    assert "phone + 41.5 s" in page.text("offset-told")
    page.view("now")
    assert page.text("az") == line.azimuth.figure
    page.reopen(**at)
    assert page.text("az") == line.azimuth.figure
    for words in ("soon", "86401"):
        type_offset(page, words)
        assert "no number" in page.text("offset-told")
    page.view("now")
    assert page.text("utc") == clock(line.utc_s + 1.0)


def type_offset(page, words):
    """Seconds to add to the phone's clock, typed and left."""
    from selenium.webdriver.common.keys import Keys

    page.view("plan-view")
    field = page.element("offset")
    field.send_keys(Keys.CONTROL, "a")
    field.send_keys(words, Keys.TAB)


@pytest.mark.parametrize(
    ("at", "state", "words"),
    [
        ("2024-10-30T18:00:00Z", "early", "By this clock it is 2024-10-30 now: the evening begins in"),
        ("2024-11-02T18:00:00Z", "late", "By this clock it is 2024-11-02 now: that evening is over."),
        ("2024-11-01T20:59:00Z", "over", "The last contact ended"),
    ],
)
def test_on_another_day_and_after_the_last_it_says_so(page, at, state, words):
    page.open(clock=at)
    assert page.state == state
    assert words in page.text("note")
    assert page.texts("az", "el", "until", "then") == ["", "", "", ""]


def test_before_the_first_it_counts_down_to_the_start_with_its_dials(page, content):
    first = content.cards[0]
    page.open(clock=format_iso(START_S))
    left = first.start_utc_s - START_S
    assert f"in {left // 60:.0f}:{left % 60:02.0f}" in page.text("until")
    assert clock(first.start_utc_s) in page.text("until")
    assert page.text("az") == first.start_azimuth.figure
    assert first.before in page.text("words")


def test_between_contacts_it_says_which_way_how_far_and_by_when(page, content):
    first, line = content.cards[0], content.evening.lines[1]
    page.open(clock=format_iso(first.end_utc_s + 20.0))
    assert page.state == "waiting"
    assert first.after in page.text("words")
    assert f"start moving by {line.start_moving_by}, in " in page.text("until")
    assert clock(content.cards[1].start_utc_s) in page.text("then")
    page.reopen(clock=format_iso(line.start_moving_utc_s + 3.0))
    assert page.text("then") == f"BE MOVING: latest start was {line.start_moving_by}"


def test_the_bar_shrinks_to_the_next_line(page, content):
    here, there = content.cards[0].lines[4:6]
    page.open(clock=format_iso(here.utc_s))
    share = (
        "const inner = document.getElementById('bar').clientWidth;"
        "return document.getElementById('left').getBoundingClientRect().width / inner;"
    )
    assert page.run(share) == pytest.approx(1.0)
    gap_s = there.utc_s - here.utc_s
    for gone in (0.25, 0.9):
        page.run("window.standing_ms = arguments[0]", (here.utc_s + gone * gap_s) * 1000.0)
        until(page, lambda left=1.0 - gone: page.run(share) == pytest.approx(left, abs=0.01))
    assert page.text("until").startswith(f"READY {clock(there.utc_s)} in 0:0")


def until(page, holds):
    """Wait on a condition."""
    from selenium.webdriver.support.ui import WebDriverWait

    WebDriverWait(page.driver, 20, poll_frequency=0.05).until(lambda _: holds())


def test_a_move_is_told_by_its_word_and_its_frame(page, content):
    card = content.cards[3]
    move = next(line for line in card.lines if line.kind == "move")
    page.open(clock=format_iso(move.utc_s + 1.0))
    assert page.text("act") == f"MOVE until {clock(move.until_s)}"
    assert page.text("note") == move.note
    frame = "return getComputedStyle(document.getElementById('hand')).borderTopStyle"
    assert page.run(frame) == "dashed"
    page.reopen(clock=format_iso(move.utc_s - 1.0))
    assert page.run(frame) == "solid"
    assert page.text("then").startswith(f"Then MOVE to AZ {move.azimuth.figure}")


def test_a_hold_is_told_until_it_is_over_though_elevation_is_set_meanwhile(page, content):
    lines = content.cards[2].lines
    place = next(i for i, line in enumerate(lines) if line.kind == "hold")
    hold, meanwhile = lines[place], lines[place + 1]
    assert meanwhile.elevation.figure
    assert not meanwhile.azimuth.figure
    page.open(clock=format_iso(hold.utc_s))
    words = f"HOLD until {clock(hold.until_s)}"
    assert page.texts("act", "az", "note") == [words, hold.azimuth.figure, hold.note]
    assert page.text("then") == f"Then EL {meanwhile.elevation.figure}, still held"
    page.reopen(clock=format_iso(meanwhile.utc_s))
    assert page.texts("act", "az", "el") == [words, hold.azimuth.figure, meanwhile.elevation.figure]
    page.reopen(clock=format_iso(hold.until_s))
    assert page.text("act") == "LET GO"


def test_what_was_noted_stays_in_sight_while_it_holds(driver, content, tmp_path):
    card = content.cards[0]
    first, second, third, fourth = card.lines[:4]
    end_s = third.utc_s + 5.0
    note = f"AOS, off the beam {first.utc} to {clock(end_s)}"
    changed = replace(card, lines=(replace(first, note=note), *card.lines[1:]))
    page = PocketPage.of(driver, replace(content, cards=(changed, *content.cards[1:])), tmp_path)
    page.open(clock=format_iso(first.utc_s))
    assert page.texts("note", "earlier") == [note, ""]
    for utc_s in (second.utc_s, end_s - 1.0):
        page.reopen(clock=format_iso(utc_s))
        assert page.texts("note", "earlier") == ["", f"Noted at {first.utc}: {note}"]
    page.reopen(clock=format_iso(end_s))
    assert page.text("earlier") == ""
    assert fourth.utc_s > end_s


def test_a_rehearsal_is_marked_in_every_view_and_left_by_one_touch(page, content):
    page.open(clock=format_iso(START_S))
    page.view("plan-view")
    page.click("#rehearse")
    for view in ("log", "cards", "plan-view", "now"):
        page.view(view)
        assert "REHEARSAL" in page.text("rehearsal")
    page.click("#line-on")
    first = content.cards[0].lines[0]
    assert page.text("utc") == clock(first.utc_s)
    page.click("#line-on")
    page.click("#line-back")
    assert page.text("az") == first.azimuth.figure
    page.run(
        "const s = document.getElementById('at');"
        "s.value = arguments[0]; s.dispatchEvent(new Event('input'));",
        first.utc_s + 100.0,
    )
    assert page.text("utc") == clock(first.utc_s + 100.0)
    page.click("#run")
    page.run("window.standing_ms += 60000;")
    until(page, lambda: page.text("utc") == clock(first.utc_s + 160.0))
    page.click("#to-clock")
    assert page.text("rehearsal") == ""
    assert page.text("utc") == clock(START_S + 60.0)


def test_the_screen_is_kept_on_while_that_is_wanted(page):
    page.open()
    page.view("plan-view")
    page.run(
        "window.asked = []; navigator.wakeLock.request = async (what) => {"
        "window.asked.push(what); return {release: async () => window.asked.push('released')}; };"
    )
    pressed = "return document.getElementById('awake').getAttribute('aria-pressed')"
    page.click("#awake")
    until(page, lambda: page.run("return window.asked.length") == 1)
    assert page.run(pressed) == "true"
    page.click("#awake")
    until(page, lambda: page.run("return window.asked") == ["screen", "released"])
    assert page.run(pressed) == "false"
    page.run("navigator.wakeLock.request = async () => { throw new Error('no'); };")
    page.click("#awake")
    until(page, lambda: "does not allow it" in page.text("awake-told"))
    assert page.run(pressed) == "false"


def test_an_evening_without_contacts_says_so_and_has_no_log(driver, tmp_path):
    page = PocketPage.of(driver, content_of(evening((), left_out=0)), tmp_path)
    page.open(clock=format_iso(START_S))
    assert page.texts("act", "note", "az") == ["NO CONTACTS", "This evening has no contacts.", ""]
    assert page.text("rail").split() == ["Now", "Cards", "Plan"]
    page.view("cards")
    assert "No contacts this evening." in page.text("cards")
    page.view("plan-view")
    page.click("#rehearse")
    page.click("#line-on")
    assert page.complaints() == []
