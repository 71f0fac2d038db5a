import base64
import hashlib
import re
from dataclasses import replace
from html import escape

import pytest

from core.base.times import clock
from core.export.pocket.data import dials_of, page_data
from core.export.pocket.page import pocket_page
from core.sheet.content import sheet_content
from core.sheet.dials import NO_DIAL, PrintedDial
from core.sheet.hand.line import HandLine
from core.sheet.set_up.advice import DEFER
from core.sheet.wishes import SheetWishes
from tests.core.export.pocket.pages import (
    HOSTILE,
    content_of,
    crowded_evening,
    hostile_evening,
    page_of,
    read,
)
from tests.core.sheet.samples import EVERY_KIND, MADE_S, evening

_SCRIPT = re.compile(r"<script>(.*?)</script>", re.DOTALL)
_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)


@pytest.fixture(scope="module")
def content():
    return content_of(evening())


@pytest.fixture(scope="module")
def page():
    return page_of(evening())


@pytest.fixture(scope="module")
def found(page):
    return read(page)


@pytest.fixture(scope="module")
def hostile():
    return page_of(hostile_evening())


def test_twenty_contacts_are_under_300_kb():
    page = page_of(crowded_evening(20))
    assert page.count("<section class=card") == 20
    assert len(page.encode()) < 300_000


def test_nothing_is_loaded(page, found):
    for words in ("url(", "@import", "http:", "https:", "//", "fetch(", "XMLHttpRequest", "import(", "eval("):
        code = "".join(_SCRIPT.findall(page) + _STYLE.findall(page))
        code = re.sub(r"^\s*// .*$", "", code, flags=re.MULTILINE)
        assert words not in code, words
    for tag, name, value in found.attributes():
        assert not name.startswith("on"), (tag, name)
        assert name not in {"src", "srcset", "style", "action", "data"}, (tag, name)
        if name in {"href", "xlink:href"}:
            assert value == "data:," if tag == "link" else value.startswith("#"), value


def test_only_its_own_script_and_style_may_run(page, found):
    metas = [dict(pairs) for tag, pairs in found.elements if tag == "meta"]
    (policy,) = [meta["content"] for meta in metas if meta.get("http-equiv") == "Content-Security-Policy"]
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules.pop("default-src") == "'none'"
    assert rules.pop("img-src") == "data:"
    assert {rules.pop("base-uri"), rules.pop("form-action")} == {"'none'"}
    for rule, pattern in (("script-src", _SCRIPT), ("style-src", _STYLE)):
        (text,) = pattern.findall(page)
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert rules.pop(rule) == f"'sha256-{digest}'"
    assert rules == {}
    # The policy comes before anything it rules over.
    assert page.index("Content-Security-Policy") < page.index("<style")


def test_every_line_stands_in_the_tables(content, page):
    for card in content.cards:
        section = page.split(f"<section class=card id=card-{card.number} ")[1].split("</section>")[0]
        rows = [row for row in section.split("<tr")[2:] if 'note">' not in row]
        notes = [row for row in section.split("<tr")[2:] if 'note">' in row]
        assert len(rows) == len(card.lines)
        for line, row in zip(card.lines, rows, strict=True):
            cells = [re.sub("<[^>]*>", "", cell) for cell in re.findall("<td>(.*?)</td>", row)]
            azimuth, elevation = line.azimuth, line.elevation
            assert cells[:3] == [line.utc, *(dial.figure + dial.time_round for dial in (azimuth, elevation))]
            assert line.turn in cells[3]
            said = notes.pop(0) if 'over">' in row else row
            assert escape(line.note) in said
            for one in (row, said):
                assert (line.kind in one.split(">")[0]) == (line.kind != "set")
        assert notes == []


def test_the_clock_has_the_same_lines(content, found):
    told = found.plan
    turned = noted = ""
    assert told["identity"] == content.identity
    for card, contact in zip(content.cards, told["contacts"], strict=True):
        for line, one in zip(card.lines, contact["lines"], strict=True):
            kind, after_s, until_s, *dials, turn, note = one
            assert contact["start"] + after_s == line.utc_s
            if line.kind == "hold":
                turned, noted = (turn, note) if line.azimuth.figure else (turned, noted)
                assert note.startswith(f"hold {turn} from ")
                assert (turn, note) == (turned, noted)
            else:
                assert (turn, note) == (line.turn, line.note)
            assert (line.until_s is None) == (until_s is None)
            assert until_s is None or contact["start"] + until_s == line.until_s
            assert kind == line.kind or (kind, line.kind) == ("stay", "set")
            if line.azimuth.figure:
                set_to = (line.azimuth, line.elevation)
                assert dials == [text for dial in set_to for text in (dial.figure, dial.time_round)]
    assert any(contact["lines"] for contact in told["contacts"])


def test_where_azimuth_rests_the_dials_do_not_stay():
    """Elevation goes on; what stays is a wait behind the mask, and what is said to."""
    contacts = page_data(content_of(evening()))["contacts"]
    told = {line[-1]: line[0] for contact in contacts for line in contact["lines"]}
    rests = [kind for note, kind in told.items() if " rests at " in note]
    assert rests
    assert set(rests) == {"set"}
    assert {kind for note, kind in told.items() if "behind the mask" in note} == {"stay"}


def test_where_nothing_is_set_the_dials_that_stand_are_shown():
    set_line = HandLine(
        "set", 10.0, "00:00:00", None, PrintedDial("20", "2nd"), PrintedDial("5"), "cw", "AOS", True
    )
    told = HandLine("word", 20.0, "00:00:00", None, NO_DIAL, NO_DIAL, "", "stay until 17:21:10", False)
    later = HandLine("set", 30.0, "00:00:00", None, PrintedDial("30"), PrintedDial("9"), "cw", "", False)
    assert dials_of((set_line, told, later)) == [set_line, set_line, later]
    assert dials_of((told, later)) == [told, later]


def test_in_the_middle_of_a_hold_azimuth_is_still_what_is_held_for():
    hold = HandLine(
        "hold", 10.0, "00:00:10", 50.0, PrintedDial("200"), PrintedDial("60"), "cw", "hold cw", True
    )
    inside = HandLine("hold", 20.0, "00:00:20", 50.0, NO_DIAL, PrintedDial("65"), "", "", False)
    end = HandLine("word", 60.0, "00:01:00", None, NO_DIAL, NO_DIAL, "", "LOS", True)
    shown = dials_of((hold, inside, end))
    assert [(one.azimuth.figure, one.elevation.figure) for one in shown] == [
        ("200", "60"),
        ("200", "65"),
        ("200", "65"),
    ]


def test_a_contact_begins_with_its_first_line_and_is_left_for_the_next_as_the_sheet_says(content):
    for line, contact in zip(content.evening.lines, page_data(content)["contacts"], strict=True):
        by = contact["move_by"]
        assert ("" if by is None else clock(by)) == line.start_moving_by
        if contact["lines"]:
            assert contact["lines"][0][1] == 0
            assert contact["end"] == contact["start"] + contact["lines"][-1][1]


def test_a_move_that_does_not_fit_is_late_on_the_clock_too():
    """The script frames what it says of such a contact; it is asked by the name that the script looks up."""
    close = (EVERY_KIND[0], replace(EVERY_KIND[2], after_s=2000.0, feasible=False))
    contacts = page_data(content_of(evening(close)))["contacts"]
    assert [contact["late"] for contact in contacts] == [False, True]


def test_the_script_asks_a_contact_for_nothing_that_is_not_there(page, found):
    (code,) = _SCRIPT.findall(page)
    told = set(found.plan["contacts"][0])
    assert set(re.findall(r"\bcontact\.(\w+)", code)) <= told


def test_plan_and_making_time_are_on_it_as_on_the_sheet(content, found):
    foot = " ".join(found.of("p") + found.of("b"))
    for text in (content.identity, content.made, content.elements, content.time_zone, content.seat):
        assert text in foot
    for what, words in content.set_up.cautions:
        assert any(what in text for text in found.of("b"))
        assert any(words in text for text in found.of("li"))
    assert content.set_up.defer in found.of("b")


def test_hostile_words_stand_there_as_words(hostile):
    found = read(hostile)
    assert [tag for tag, _ in found.elements].count("script") == 2
    assert {"img", "iframe", "object"} & {tag for tag, _ in found.elements} == set()
    assert not [one for one in found.attributes() if one[1].startswith("on")]
    assert "taken" not in "".join(_SCRIPT.findall(hostile))
    head = "".join(found.of("h3"))
    assert HOSTILE[0].replace("\u200b", "") in head.replace("\u200b", "")
    assert hostile.count("<section class=card") == len(HOSTILE)


def test_a_plan_can_end_no_string_of_the_style():
    content = replace(content_of(evening((), left_out=0)), time_zone='";} * {display:none} /* </style>\\')
    (style,) = _STYLE.findall(pocket_page(content))
    foot = style[style.index("@page") :]
    assert foot.count('"') == 4
    assert "</" not in foot
    assert "*" not in foot
    assert set(re.findall(r"\\(.)", foot)) <= set("0123456789abcdef")


def test_data_can_end_no_element_and_no_line(hostile):
    data = hostile.split('id="plan">')[1].split("</script>")[0]
    assert not set("<>&\u2028\u2029\n") & set(data)
    told = read(hostile).plan
    assert told["contacts"][0]["satellite"].replace("\u200b", "").startswith("</script><script>")


def test_the_same_content_is_the_same_page():
    assert page_of(evening()) == page_of(evening())
    assert content_of(evening()).made_utc_s == MADE_S


def test_an_evening_without_contacts_is_a_page_all_the_same():
    page = page_of(evening((), left_out=0))
    assert "No contacts this evening." in page
    assert read(page).plan["contacts"] == []


def test_an_evening_planned_again_says_where_its_set_up_is():
    content = sheet_content(*evening(), MADE_S, wishes=SheetWishes(set_up=False))
    told = read(pocket_page(content))
    assert content.set_up_elsewhere in told.of("p")
    assert DEFER in told.of("b")


def test_local_time_follows_the_clock_where_it_is_put_back():
    made = evening(hours=("2024-10-26T22:00:00Z", "2024-10-27T03:00:00Z"))
    assert page_data(content_of(made))["local_offsets"] == ((1729980000.0, 7200.0), (1729990800.0, 3600.0))
