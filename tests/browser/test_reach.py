"""Whether the page can be read, touched and told aloud, on every phone, and what it asks of a network."""

from __future__ import annotations

import base64
import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from core.base.times import clock, format_iso
from core.sheet.set_up.advice import DEFER
from tests.browser.phone import SCHEMES, SIZES, VIEWS
from tests.core.export.pocket.pages import HOSTILE

_MEASURES = (Path(__file__).parent / "measures.js").read_text(encoding="utf-8")
_CONTROLS = frozenset({"button", "textbox", "slider", "radio", "combobox", "link", "checkbox", "searchbox"})
#: Waiting, in a contact, held with a long figure, in a move, over, another day.
_MOMENTS = (
    "2024-11-01T17:05:00Z",
    "2024-11-01T18:24:30Z",
    "2024-11-01T18:05:05Z",
    "2024-11-01T18:30:00Z",
    "2024-11-01T20:59:00Z",
    "2024-11-05T20:59:00Z",
)


def measured(page, what):
    """What a measure of the page as it is shown gives."""
    return page.run(_MEASURES, what)


def every_state(page):
    """The page in every view, and the present at every kind of moment; by the clock and in a rehearsal."""
    for moment in _MOMENTS:
        page.view("now")
        page.rehearse(moment)
        yield f"now, {moment}"
    page.click("#to-clock")
    for view in VIEWS:
        page.view(view)
        page.unfold()
        yield view


@pytest.mark.parametrize("scheme", SCHEMES)
def test_every_text_stands_out_from_its_ground(page, scheme):
    page.open()
    page.scheme(scheme)
    for state in every_state(page):
        assert measured(page, "pale") == [], state


def test_at_dusk_nothing_is_bright(page):
    page.open()
    page.scheme("dusk")
    for state in every_state(page):
        assert measured(page, "brightest") <= 164, state


def test_the_scheme_is_kept(page):
    page.open()
    page.scheme("dusk")
    page.reopen()
    assert page.run("return document.documentElement.dataset.scheme") == "dusk"


@pytest.mark.parametrize("size", SIZES)
def test_nothing_runs_over_the_edge_and_all_can_be_touched(page, hostile, size):
    for one in (page, hostile):
        one.open(size)
        for state in every_state(one):
            assert measured(one, "beyond") == [], (state, size)
            assert measured(one, "outside") == [], (state, size)
            assert measured(one, "small") == [], (state, size)


def test_the_dial_figures_are_the_largest_by_far(page):
    for size in SIZES[:3]:
        page.open(size)
        for moment in _MOMENTS[:4]:
            page.rehearse(moment)
            sizes = measured(page, "sizes")
            dials = min(sizes.pop("az"), sizes.pop("el"))
            assert dials >= 64.0
            assert dials >= 2.0 * max(sizes.values())


def test_the_present_is_seen_without_scrolling(page, content):
    line = content.cards[0].lines[2]
    page.open((360, 620), clock=format_iso(line.utc_s))
    rail = page.run("return document.getElementById('rail').getBoundingClientRect().top")
    assert page.run("return document.getElementById('then').getBoundingClientRect().bottom") <= rail


def test_every_control_has_a_name(page):
    page.open()
    seen = set()
    for state in every_state(page):
        for role, name in page.nodes():
            if role in _CONTROLS:
                assert name, (state, role)
                seen.add(role)
    assert {"button", "textbox", "radio", "combobox"} <= seen


def test_nothing_is_asked_of_a_network_and_nothing_is_complained_of(page, hostile):
    page.requests(), page.complaints()
    for one in (page, hostile):
        one.open()
        for _ in every_state(one):
            pass
        asked = {address.split("#")[0] for address in one.requests()}
        assert asked - {"about:blank", "data:,"} == {one.url}
        assert one.complaints() == []


def test_the_policy_stops_what_is_not_its_own(page):
    page.open()
    page.complaints()
    page.run(
        "const s = document.createElement('script'); s.textContent = 'window.taken = 1';"
        "const i = document.createElement('img'); i.src = 'https://example.invalid/x.png';"
        "document.body.append(s, i);"
    )
    assert page.run("return window.taken") is None
    assert any("Content Security Policy" in words for words in page.complaints())


def test_a_hostile_plan_runs_nothing_and_reads_as_it_is_written(hostile):
    hostile.open(clock="2024-11-01T17:12:00Z")
    assert hostile.run("return document.title") == hostile.content.title
    assert hostile.run("return document.images.length + document.scripts.length") == 2
    where = hostile.text("where").replace("\u200b", "")
    assert where.endswith(HOSTILE[0])
    hostile.view("log")
    option = hostile.run("return document.getElementById('log-contact').options[1].text")
    assert HOSTILE[1][:20] in option.replace("\u200b", "")


def test_without_a_script_all_tables_are_there(page, content):
    page.scripts(False)
    try:
        page.reopen()
        seen = page.driver.find_element("tag name", "body").text
    finally:
        page.scripts(True)
    assert "No script runs here" in seen
    assert "Log" not in seen
    for card in content.cards:
        for line in card.lines:
            assert clock(line.utc_s) in seen


@pytest.mark.parametrize("scheme", SCHEMES)
def test_paper_is_black_on_white(page, scheme):
    page.open(address="at=2024-11-01T18:24:30Z")
    page.scheme(scheme)
    page.media("print")
    try:
        colours = page.run(
            "const b = getComputedStyle(document.body), r = getComputedStyle(document.documentElement);"
            "return [b.color, r.backgroundColor]"
        )
        assert colours == ["rgb(0, 0, 0)", "rgb(255, 255, 255)"]
        assert measured(page, "pale") == []
    finally:
        page.media("")


def test_printed_all_lines_are_on_the_paper_and_each_page_names_the_plan(page, content):
    page.open(address="at=2024-11-01T18:24:30Z")
    paper = PdfReader(io.BytesIO(base64.b64decode(page.pdf())))
    text = "\n".join(sheet.extract_text() for sheet in paper.pages)
    for sheet in paper.pages:
        assert f"Plan {content.identity}, made {content.made}" in sheet.extract_text()
        assert content.time_zone in sheet.extract_text()
    assert "REHEARSAL" not in text
    assert DEFER in " ".join(text.split())
    words = set(text.split())
    for card in content.cards:
        assert f"{card.number} of {card.of}:" in text
        for line in card.lines:
            assert clock(line.utc_s) in text
            assert not line.azimuth.figure or line.azimuth.figure in words
            assert not line.elevation.figure or line.elevation.figure in words
