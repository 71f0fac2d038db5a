"""What is typed about the contacts: kept on the phone, saved as a file."""

from __future__ import annotations

import json

from core.base.times import format_iso
from core.log.pocket_file import read_pocket_log
from tests.browser.phone import PocketPage
from tests.browser.test_now import until
from tests.core.export.pocket.pages import content_of
from tests.core.sheet.samples import evening

_HOSTILE_NOTE = '</script><b>"QSB"</b>, \u202e 5/9 \\ \n second  line'
_NOTE_IN_FILE = '</script><b>"QSB"</b>, 5/9 \\ second line'


def fill(page, name, text):
    field = page.element(name)
    field.clear()
    field.send_keys(text)


def choose(page, index):
    from selenium.webdriver.support.ui import Select

    Select(page.element("log-contact")).select_by_index(index)


def worked(page, value):
    page.click(f"label:has(input[name=worked][value='{value}'])")


def saved(page):
    """The file that the page saves, which Northkey reads back."""
    folder = page.driver.downloads
    for old in folder.iterdir():
        old.unlink()
    page.click("#save")
    path = folder / f"northkey-log-{page.content.identity}.json"
    until(page, path.exists)
    data = json.loads(path.read_text(encoding="utf-8"))
    read = read_pocket_log(path)
    assert read.identity == page.content.identity
    assert len(read.log) == len(data["log"]), "what is saved is what Northkey reads back"
    return data


def test_what_is_typed_is_in_the_file(page, content):
    card = content.cards[1]
    line = content.cards[0].lines[5]
    page.open(clock=format_iso(line.utc_s))
    page.click("#log-this")
    worked(page, "true")
    fill(page, "log-az", "123,5")
    fill(page, "log-el", "-2")
    page.click("#best-now")
    page.click("#heard-now")
    fill(page, "log-note", _HOSTILE_NOTE)
    choose(page, 1)
    worked(page, "false")
    fill(page, "log-last", "17:41")
    peaks = [format_iso(one.peak_utc_s) for one in content.cards]
    assert saved(page) == {
        "format": "northkey-log",
        "version": 1,
        "identity": content.identity,
        "title": content.title.replace("\u200b", ""),
        "log": [
            {
                "norad_id": int(content.cards[0].norad_id),
                "near": peaks[0],
                "worked": True,
                "azimuth_dial_deg": 123.5,
                "elevation_dial_deg": -2,
                "time": format_iso(line.utc_s),
                "last_heard": format_iso(line.utc_s),
                "note": _NOTE_IN_FILE,
            },
            {
                "norad_id": int(card.norad_id),
                "near": peaks[1],
                "worked": False,
                "azimuth_dial_deg": None,
                "elevation_dial_deg": None,
                "time": None,
                "last_heard": "2024-11-01T17:41:00.000Z",
                "note": "",
            },
        ],
    }
    assert json.loads(page.run("return document.getElementById('log-text').value")) == saved(page)


def test_the_file_is_read_back_by_northkey(driver, tmp_path):
    made = content_of(evening(title="W" * 70))
    page = PocketPage.of(driver, made, tmp_path)
    page.open()
    page.view("log")
    worked(page, "true")
    fill(page, "log-az", "3600")
    fill(page, "log-time", "17:15:10")
    fill(page, "log-note", "x" * 2050)
    saved(page)
    log = read_pocket_log(driver.downloads / "northkey-log-3f9a1c2e.json")
    (entry,) = log.entries
    assert (log.identity, log.title) == ("3f9a1c2e", "W" * 70)
    assert (entry.norad_id, entry.worked, entry.azimuth_dial_deg) == (44001, True, 3600.0)
    assert (entry.near, entry.time) == (format_iso(made.cards[0].peak_utc_s), "2024-11-01T17:15:10.000Z")
    assert entry.note == "x" * 2000
    fill(page, "log-az", "3601")
    assert "a number" in page.text("log-trouble")


def test_it_is_kept_when_the_page_is_opened_again(page):
    page.open()
    page.view("log")
    choose(page, 2)
    fill(page, "log-note", "heard the beacon")
    assert page.text("log-kept") == "Kept on this phone."
    page.reopen()
    page.view("log")
    choose(page, 2)
    assert page.element("log-note").get_attribute("value") == "heard the beacon"
    assert [one["note"] for one in saved(page)["log"]] == ["heard the beacon"]


def test_what_is_kept_damaged_is_no_log(page):
    page.open()
    page.run("localStorage.setItem('northkey-log-' + arguments[0], '[1, {')", page.content.identity)
    page.reopen()
    page.complaints()
    page.view("log")
    fill(page, "log-note", "on")
    assert [one["note"] for one in saved(page)["log"]] == ["on"]
    assert page.complaints() == []


def test_what_is_no_number_or_time_is_told_and_left_out(page):
    page.open()
    page.view("log")
    fill(page, "log-az", "north")
    fill(page, "log-time", "25:61")
    trouble = page.text("log-trouble")
    assert "Azimuth dial: a number" in trouble
    assert "Best signal: a time in UTC" in trouble
    (one,) = saved(page)["log"]
    assert (one["azimuth_dial_deg"], one["time"], one["worked"]) == (None, None, None)
    fill(page, "log-az", "7")
    fill(page, "log-time", "172233")
    assert page.text("log-trouble") == ""
    assert saved(page)["log"][0]["time"] == "2024-11-01T17:22:33.000Z"


def test_a_phone_that_keeps_nothing_says_so_and_saves_all_the_same(page):
    page.open()
    page.run("Storage.prototype.setItem = () => { throw new Error('full'); };")
    page.view("log")
    fill(page, "log-note", "no room")
    assert "save the file" in page.text("log-kept")
    assert [one["note"] for one in saved(page)["log"]] == ["no room"]


def test_the_log_of_a_contact_that_is_just_over_opens_with_it(page, content):

    page.open(clock=format_iso(content.cards[1].end_utc_s + 30.0))
    assert page.text("log-this") == "Log the last contact"
    page.click("#log-this")
    assert page.element("log-contact").get_attribute("value") == "1"
