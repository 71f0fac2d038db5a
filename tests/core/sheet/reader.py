"""A reader of the sheet: knows its printed words alone, and turns a rotator by hand as they say.

Nothing of the sheet's code is asked. The rotator shows its dials; the hand turns the way it is told until the
dial shows the figure.
"""

from __future__ import annotations

import io
import math
import re
from dataclasses import dataclass, field
from html.parser import HTMLParser

import numpy as np
from pypdf import PdfReader

from core.mount.model.station import Mount

_CLOCK = r"(\d\d:\d\d:\d\d)"
_DIAL = r"(-?\d+(?:\.\d+)?)"
_ROUND = r"(?:1st|2nd|3rd|\dth)"
_SET = re.compile(rf"^{_CLOCK}(?: (cw|ccw))?(?: (?:AOS|start|already up))? {_DIAL}(?: {_ROUND})? {_DIAL}$")
_ELEVATION = re.compile(rf"^{_CLOCK} {_DIAL}$")
_MOVE = re.compile(
    rf"^{_CLOCK} MOVE (CW|CCW) \d+ deg to {_DIAL}(?: \({_ROUND}\))?, el {_DIAL}, back on at {_CLOCK}$"
)
_MOVE_NOTE = re.compile(rf"^MOVE (?:CW|CCW) .*, back on at {_CLOCK}$")
_START = re.compile(rf"^START AZ {_DIAL}(?: \(({_ROUND})\))? EL {_DIAL}")
_HEAD = re.compile(rf"{_CLOCK} to {_CLOCK} UTC$")
_HIDDEN = re.compile(rf"behind the mask until {_CLOCK}")
_OFF = re.compile(rf"off the beam {_CLOCK} to {_CLOCK}")
_BY_HAND = re.compile(r"By hand, 1 s late on every line: (?:(\d+) min )?(\d+) s more off the beam")


@dataclass
class Card:
    """What a card says: settings (second, way to turn, azimuth, elevation), and what it says is lost."""

    start: str
    end: str
    azimuth: float = 0.0
    time_round: int = 1
    elevation: float = 0.0
    settings: list[tuple[str, str, float, float]] = field(default_factory=list)
    lost: list[tuple[str, str]] = field(default_factory=list)
    by_hand_s: float = 0.0
    holds: int = 0


def read_cards(pdf: bytes) -> list[Card]:
    """The cards of a printed sheet, in order."""
    cards: list[Card] = []
    for page in PdfReader(io.BytesIO(pdf)).pages:
        prose = ""
        for line in page.extract_text().splitlines():
            text = line.strip()
            if head := _HEAD.search(text):
                cards.append(Card(head[1], head[2]))
                prose = ""
            elif cards:
                _read(cards[-1], text)
                prose = f"{prose} {text}"
                if found := _BY_HAND.search(prose):
                    cards[-1].by_hand_s = 60.0 * float(found[1] or 0) + float(found[2])
    return cards


def _read(card: Card, text: str) -> None:
    if found := _START.match(text):
        card.azimuth, card.elevation = float(found[1]), float(found[3])
        card.time_round = int(found[2][0]) if found[2] else 1
    elif found := _SET.match(text):
        card.settings.append((found[1], found[2] or "", float(found[3]), float(found[4])))
    elif found := _ELEVATION.match(text):
        card.settings.append((found[1], "", card.settings[-1][2], float(found[2])))
    elif found := _MOVE.match(text):
        card.settings.append((found[1], found[2].lower(), float(found[3]), float(found[4])))
        card.lost.append((found[1], found[5]))
    if found := _HIDDEN.search(text):
        card.lost.append((card.settings[-1][0], found[1]))
    if found := _MOVE_NOTE.match(text):
        card.lost.append((card.settings[-1][0], found[1]))
    card.lost += _OFF.findall(text)
    card.holds += text.startswith("hold ")


class Rotator:
    """Turned by hand: it has axes, of which only the dials are seen."""

    def __init__(self, mount: Mount, card: Card) -> None:
        self.mount = mount
        axis = mount.azimuth
        every = np.arange(0.0, axis.travel_deg + 1e-9, 0.01)
        shown = np.flatnonzero(self._away(every, card.azimuth) <= axis.dial_division_deg / 4.0 + 0.011)
        places = np.split(every[shown], np.flatnonzero(np.diff(shown) > 1) + 1)
        self.m_deg = float(places[card.time_round - 1 if len(places) > 1 else 0].mean())
        self.e_deg = card.elevation - mount.elevation.dial_offset_deg
        self.m_wanted, self.e_wanted = self.m_deg, self.e_deg

    def _away(self, m_deg, figure):
        """How far the dial is from a figure there."""
        axis = self.mount.azimuth
        away = axis.dial_at_stop_deg + axis.dial_scale * np.asarray(m_deg) - figure
        if axis.dial_wraps_at_deg is not None:
            span = axis.dial_wraps_at_deg - axis.dial_wraps_to_deg
            away = (away + span / 2.0) % span - span / 2.0
        return np.abs(away)

    def go(self, way: str, azimuth: float, elevation: float) -> None:
        """Turn that way until the dial shows the figure; stay where no way is told."""
        self.e_wanted = elevation - self.mount.elevation.dial_offset_deg
        if way:
            steps = np.arange(0.0, self.mount.azimuth.travel_deg, 0.01) * (1.0 if way == "cw" else -1.0)
            places = self.m_deg + steps
            there = self._away(places, azimuth) < 0.011
            assert there.any(), (way, azimuth, self.m_deg)
            self.m_wanted = float(places[np.argmax(there)])

    def wait(self, seconds: float) -> None:
        """Both motors run for so long at most."""
        for axis, now, wanted in (("azimuth", "m_deg", "m_wanted"), ("elevation", "e_deg", "e_wanted")):
            rate = getattr(self.mount, axis).rate_deg_s * seconds
            by = getattr(self, wanted) - getattr(self, now)
            setattr(self, now, getattr(self, now) + max(-rate, min(rate, by)))


def steered(card: Card, mount: Mount, late_s: float = 1.0, every_s: float = 0.5):
    """(N,) seconds of the day, mechanical azimuth and elevation axis while a hand works through a card."""
    rotator, found = Rotator(mount, card), []
    todo = sorted((seconds_of(when) + late_s, way, az, el) for when, way, az, el in card.settings)
    now, end = seconds_of(card.start), seconds_of(card.end)
    while now <= end + 1e-9:
        while todo and todo[0][0] <= now + 1e-9:
            rotator.go(*todo.pop(0)[1:])
        found.append((now, rotator.m_deg, rotator.e_deg))
        rotator.wait(every_s)
        now += every_s
    return np.array(found).T


def seconds_of(text: str) -> float:
    """Of the day; the small hours count as the night's end."""
    hours, minutes, seconds = (int(part) for part in text.split(":"))
    return 3600.0 * (hours + 24 * (hours < 12)) + 60.0 * minutes + seconds


def apart_deg(m_a, e_a, m_b, e_b):
    """Angle between two pointings given as azimuth and elevation (above 90: over the top), by vectors."""
    looks = []
    for azimuth, elevation in ((m_a, e_a), (m_b, e_b)):
        az, el = np.radians(azimuth), np.radians(elevation)
        looks.append(np.stack([np.cos(el) * np.sin(az), np.cos(el) * np.cos(az), np.sin(el)]))
    return np.degrees(np.arccos(np.clip(np.sum(looks[0] * looks[1], axis=0), -1.0, 1.0)))


def midnight_s(utc_s: float) -> float:
    """POSIX seconds of the midnight that `seconds_of` counts from."""
    return math.floor((utc_s - 12 * 3600.0) / 86400.0) * 86400.0


def read_pocket(page: str) -> list[Card]:
    """The cards of a pocket page, from the tables that stand in it without its script."""
    found = _PocketReader()
    found.feed(page)
    cards: list[Card] = []
    for texts in found.sections:
        whole = " ".join(texts)
        start, end = re.findall(rf"{_CLOCK} to {_CLOCK} UTC", whole)[0]
        card = Card(start, end)
        for text in texts:
            _read(card, text.replace("start AZ", "START AZ"))
        if by_hand := _BY_HAND.search(whole):
            card.by_hand_s = 60.0 * float(by_hand[1] or 0) + float(by_hand[2])
        if card.settings:
            cards.append(card)
    return cards


class _PocketReader(HTMLParser):
    """Paragraphs and rows of each card, a row's cells in the order of the paper: time, turn, dials."""

    def __init__(self) -> None:
        super().__init__()
        self.sections: list[list[str]] = []
        self._inside = False
        self._cells: list[str] | None = None
        self._text = ""

    def handle_starttag(self, tag, attrs):
        if tag == "section":
            self._inside = ("class", "card") in attrs
            if self._inside:
                self.sections.append([])
        elif tag == "tr":
            self._cells = []
        elif tag in {"td", "p", "h3"}:
            self._text = ""
        elif tag in {"i", "br", "b", "small"}:
            self._text += " "

    def handle_data(self, data):
        self._text += data

    def handle_endtag(self, tag):
        if not self._inside:
            return
        text = " ".join(self._text.split())
        if tag == "td" and self._cells is not None:
            self._cells.append(text)
        elif tag == "tr" and self._cells:
            self.sections[-1] += _row_texts(self._cells)
        elif tag in {"p", "h3"}:
            self.sections[-1].append(text)
        elif tag == "section":
            self._inside = False


def _row_texts(cells: list[str]) -> list[str]:
    if len(cells) == 1:
        return cells
    when, azimuth, elevation, turn = cells
    way, _, note = turn.partition(", ")
    told = [way if way in {"cw", "ccw"} else "", azimuth, elevation]
    return [" ".join([when, *(part for part in told if part)]), note or ("" if told[0] else way)]
