"""What the Evening page tells at first sight: its marks, named where they are drawn."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from app.window.look.scheme import LIGHT
from app.window.pages.evening.dial import dial_tags
from app.window.pages.evening.list import SATELLITE, VERDICT
from app.window.pages.evening.opened.polar import minute_marks
from core.mount.evening.drawn import Kind
from core.mount.evening.moment import KIND_WORDS
from tests.app.window.pages.evening.page_object import EveningHand
from tests.evening_plans import evening_plan

START = 1_730_476_800.0


@pytest.fixture
def hand(qtbot):
    made = EveningHand(qtbot, evening_plan())
    yield made
    made.close()


@pytest.fixture
def said(monkeypatch):
    """The words of all tags that were tried on the dial."""
    told: list[str] = []

    def listen(name, place):
        real = getattr(dial_tags, name)

        def listening(*args):
            done = real(*args)
            if done:
                told.append(args[place])
            return done

        monkeypatch.setattr(dial_tags, name, listening)

    listen("try_tag", 4)
    listen("paint_tag", 3)
    return told


def test_the_legend_has_the_marks_that_are_drawn_and_no_other(hand):
    words = [entry.words for entry in hand.page.legend.entries]
    kinds = {Kind(int(kind)) for index in hand.state.contact_of for kind in hand.state.paths[index].kind}
    for kind in Kind:
        assert (KIND_WORDS[kind] in words) == (kind in kinds), kind
    assert ("not worked" in words) == (len(hand.state.contact_of) < len(hand.state.paths))
    assert ("moves, waits" in words) == any(leg.kind in {"move", "wait"} for leg in hand.state.legs)
    assert hand.page.legend.accessibleDescription() == ", ".join(words)


def test_every_mark_of_the_legend_is_painted_before_its_word(hand):
    legend = hand.page.legend
    picture = legend.grab().toImage()
    ground = picture.pixelColor(1, 1).rgb()
    inked = [
        any(picture.pixelColor(x, y).rgb() != ground for y in range(picture.height()))
        for x in range(picture.width())
    ]
    begins = [x for x in range(1, len(inked)) if inked[x] and not any(inked[max(x - 8, 0) : x])]
    assert len(begins) == len(legend.entries)


def test_both_ends_of_the_cable_a_move_and_what_is_let_go_are_named(hand, said):
    hand.settle()
    assert said.count("cable end") == 2
    moves = [dial_tags.move_words(leg) for leg in hand.state.legs if leg.kind == "move"]
    assert sum(words in moves for words in said) == 1
    assert said.count("let go") <= 1


def test_the_chosen_pass_keeps_its_colour_inside_a_halo(hand):
    index = next(iter(hand.state.contact_of))
    hand.state.choose(None)
    hand.settle()
    place = hand.stroke_point(index)
    plain = hand.page.dial.grab().toImage()
    hand.state.choose(index)
    chosen = hand.page.dial.grab().toImage()
    ink = LIGHT.color("ink").rgb()
    assert all(
        chosen.pixelColor(place.x() + dx, place.y() + dy).rgb() != ink
        for dx in range(-2, 3)
        for dy in range(-2, 3)
    )
    around = [(place.x() + dx, place.y() + dy) for dx in range(-12, 13) for dy in range(-12, 13)]
    changed = sum(plain.pixelColor(*at).rgb() != chosen.pixelColor(*at).rgb() for at in around)
    assert changed > 60


def test_nothing_is_seen_of_the_reading_until_it_is_used_and_nothing_moves_then(hand):
    strip = hand.page.reading
    hand.state.point(None)
    blank, place = strip.grab().toImage(), strip.geometry()
    assert len({blank.pixelColor(x, y).rgb() for x in range(0, 400, 7) for y in range(0, 40, 3)}) == 1
    hand.state.point(float(hand.state.paths[0].utc_s[0]), 0)
    assert strip.geometry() == place
    assert strip.grab().toImage() != blank


def test_the_name_stands_before_the_verdict(hand):
    header = hand.page.table.horizontalHeader()
    assert header.visualIndex(SATELLITE) < header.visualIndex(VERDICT)


@pytest.mark.parametrize(("hours", "length_px"), [(0.15, 240.0), (1.0, 200.0), (6.0, 120.0), (12.0, 30.0)])
def test_minute_marks_stand_apart_on_every_track(hours, length_px):
    minutes = START + 60.0 * np.arange(round(60 * hours))

    def track_at(utc_s):
        share = (utc_s - START) / (3600.0 * hours)
        return np.column_stack([length_px * share, np.zeros(share.size)])

    marks = minute_marks(minutes, track_at)
    assert len(marks) >= 2
    assert all(there.place[0] - here.place[0] >= 4.0 for here, there in pairwise(marks))
    named = [mark for mark in marks if mark.named]
    assert len(named) <= 7
    assert all(there.place[0] - here.place[0] >= 20.0 for here, there in pairwise(named))
    assert all(mark.aside == pytest.approx((0.0, 1.0)) for mark in marks)
