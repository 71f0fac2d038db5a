"""The evening as one line on the dial: unbroken, lighter than its strokes, and read at every moment."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter, QPixmap

from app.window.look.scheme import LIGHT
from app.window.pages.evening.dial.dial_names import paint_name_tag
from app.window.pages.evening.list import WRAP
from core.mount.dial.readings import azimuth_dial
from core.mount.evening.line import wrap_deg
from core.mount.evening.results import EveningReasons
from tests.app.window.pages.evening.page_object import EveningHand
from tests.evening_plans import evening_plan


@pytest.fixture
def hand(qtbot):
    made = EveningHand(qtbot, evening_plan(evening_rules={"stow_elevation_deg": 90.0}))
    yield made
    made.close()


def _picture(hand) -> QImage:
    """The dial as it is without anything chosen or pointed at."""
    hand.state.choose(None)
    hand.state.point(None)
    return hand.page.dial.grab().toImage()


def _inked(picture: QImage, x: float, y: float, reach: int = 5) -> float:
    """How thick what is drawn there is, pixels: the area darker than any grid line over the box's side."""
    box = [
        (round(x) + dx, round(y) + dy) for dx in range(-reach, reach + 1) for dy in range(-reach, reach + 1)
    ]
    dark = sum(picture.pixelColor(*place).lightness() < 170 for place in box)
    return dark / (2 * reach + 1)


def _middle(hand, leg):
    x, y = hand.page.dial.frame.points(leg.utc_s, leg.m_deg).mean(axis=0).tolist()
    return x, y


def _pick(hand, *indices):
    """Pick passes by their indices."""
    for index in indices:
        hand.page.toggle_pick(index)


def test_the_line_is_unbroken_from_the_first_start_to_stow(hand):
    legs = hand.state.legs
    assert legs[0].utc_s[0] == hand.state.order.contacts[0].start_utc_s
    assert [leg.contact for leg in legs if leg.kind == "contact"] == list(
        range(len(hand.state.order.contacts))
    )
    assert legs[-1].kind == "stowed"
    for before, after in pairwise(legs):
        assert after.utc_s[0] == pytest.approx(before.utc_s[-1], abs=1e-6)
        assert after.m_deg[0] == pytest.approx(before.m_deg[-1], abs=1e-6)


def test_waits_are_drawn_and_clearly_lighter_than_strokes(hand):
    picture = _picture(hand)
    waits = [leg for leg in hand.state.legs if leg.kind == "wait" and leg.utc_s[-1] - leg.utc_s[0] > 600.0]
    assert waits
    for leg in waits:
        assert 0.8 <= _inked(picture, *_middle(hand, leg), reach=3) <= 2.0  # a stop may lie close by
    plain = [i for i in hand.state.contact_of if hand.state.check(i).verdict in {"upright", "over the top"}]
    assert plain
    for index in plain:
        place = hand.stroke_point(index)
        assert _inked(picture, place.x(), place.y()) >= 3.5


def test_no_move_is_hidden(hand):
    picture = _picture(hand)
    ground = LIGHT.color("card").rgb()
    for leg in hand.state.legs:
        if leg.kind in {"move", "stowing"}:
            points = hand.page.dial.frame.points(leg.utc_s, leg.m_deg)
            inked = sum(picture.pixelColor(round(x), round(y)).rgb() != ground for x, y in points.tolist())
            assert inked >= 0.8 * len(points)


def test_passes_that_are_not_worked_lie_thin_behind(hand):
    _pick(hand, 0, 3)
    left = [i for i in range(len(hand.state.paths)) if i not in hand.state.contact_of]
    assert left
    picture = _picture(hand)
    for index in left:
        place = hand.stroke_point(index)
        around = [picture.pixelColor(place.x() + d, place.y()) for d in range(-3, 4)]
        assert any(color.rgb() != LIGHT.color("card").rgb() for color in around)
        assert min(color.lightness() for color in around) > 120  # pale


def test_a_move_that_does_not_fit_keeps_its_cross_and_word(hand, monkeypatch):
    said: list[str] = []
    tagged = "app.window.pages.evening.dial.dial_chart.try_tag"
    monkeypatch.setattr(tagged, lambda *args: said.append(args[4]) or True)
    result = hand.context.result
    first, second, *others = result.order.contacts
    move = replace(second.move_before, feasible=False, seconds_needed=500.0, seconds_there=470.0)
    late = replace(second, picked=True, move_before=move)
    order = replace(result.order, contacts=(first, late, *others))
    hand.context.result = replace(result, order=order)
    hand.page.refresh()
    misfit = next(leg for leg in hand.state.legs if leg.kind == "misfit")
    assert (misfit.contact, misfit.utc_s[1]) == (1, second.start_utc_s)
    picture = _picture(hand)
    x, y = _middle(hand, misfit)
    accent = LIGHT.color("accent")
    near = [picture.pixelColor(round(x) + d, round(y) + d) for d in range(-3, 4)]
    assert sum(abs(c.red() - accent.red()) < 25 and abs(c.green() - accent.green()) < 25 for c in near) >= 5
    assert "30 s short" in said


def test_between_passes_the_dials_and_the_wrap_are_read_off_the_line(hand):
    leg = next(leg for leg in hand.state.legs if leg.kind == "wait")
    hand.state.choose(None)
    hand.state.point(float(leg.utc_s.mean()))
    figures = {figure.word: figure.value for figure in hand.page.reading.figures()}
    mount, m_deg = hand.state.mount, float(leg.m_deg[0])
    assert figures["dial az"] == azimuth_dial(m_deg, mount.azimuth).short
    assert figures["wrap"] == f"{wrap_deg(m_deg, mount):+.0f}"
    assert hand.page.reading.words().count("waits at the next start") == 1
    stowed = hand.state.legs[-1]
    hand.state.point(float(stowed.utc_s[-1]) - 1.0)
    assert "stowed" in hand.page.reading.words()


def test_the_running_wrap_stands_beside_every_contact(hand):
    _pick(hand, 0, 1)
    model = hand.page.table.model_
    told = {row: model.index(row, WRAP).data() for row in range(model.rowCount())}
    for row, words in told.items():
        contact = hand.state.contact_of.get(row)
        assert words == ("" if contact is None else f"{contact.wrap_after_deg:+.0f}°")
    assert sum(bool(words) for words in told.values()) == 2
    hand.state.choose(0)
    first = hand.state.contact_of[0]
    wrap = f"Cable wrap {first.wrap_before_deg:+.0f} to {first.wrap_after_deg:+.0f} deg"
    assert wrap in hand.page.opened.after.text()
    assert "cable wrap" in model.spoken(0)


def test_the_line_is_part_of_the_fixed_layer(full):
    full.settle()
    layers = full.page.dial.layers_painted
    for share in range(20):
        full.state.point(full.state.full_s[0] + 600.0 * share)
        full.page.dial.grab()
    assert full.page.dial.layers_painted == layers


def test_the_idle_place_is_drawn_and_named(qtbot, monkeypatch):
    said: list[str] = []
    tagged = "app.window.pages.evening.dial.dial_chart.try_tag"
    monkeypatch.setattr(tagged, lambda *args: said.append(args[4]) or True)
    hand = EveningHand(qtbot, evening_plan(evening_rules={"idle_m_deg": 300.0}))
    idle = [leg for leg in hand.state.legs if leg.kind == "idle"]
    picture = _picture(hand)
    places = [_middle(hand, leg) for leg in idle]
    hand.state.point(float(idle[0].utc_s.mean()))
    words = hand.page.reading.words()
    hand.close()
    assert idle
    assert {float(leg.m_deg[0]) for leg in idle} == {300.0}
    assert all(0.8 <= _inked(picture, *place) <= 2.0 for place in places)
    assert said.count("idle") == len(idle)
    assert "idle; next" in words
    assert hand.state.legs[-1].kind == "left"


def test_why_it_is_worked_so_stands_beside_the_reason(hand):
    order = hand.context.result.order
    words = "Upright from dial 385. Upright from dial 25, the shorter turn, is worth 84 s less."
    told = [words, *("" for _ in order.contacts[1:])]
    index = next(i for i, contact in hand.state.contact_of.items() if contact is order.contacts[0])
    hand.context.reasons = None
    hand.page.refresh()
    hand.state.choose(index)
    assert not hand.page.opened.why_so.isVisible()
    hand.context.reasons = EveningReasons(tuple(told), tuple(why for _, why in order.left_out))
    hand.page.refresh()
    assert hand.page.opened.why_so.text() == words
    assert hand.page.opened.why_so.isVisible()
    without = next(i for i in hand.state.contact_of if i != index)
    hand.state.choose(without)
    assert not hand.page.opened.why_so.isVisible()


def test_the_name_of_the_chosen_pass_covers_no_other_where_there_is_room(hand):
    picture = QPixmap(hand.page.dial.size())
    painter = QPainter(picture)
    frame = hand.page.dial.frame
    points = hand.page.dial.points_of(0)
    high = points[int(points[:, 1].argmin())]
    free = paint_name_tag(painter, frame, LIGHT, "ALDER", points, [])
    taken = QRectF(high[0] - 300.0, high[1] - 30.0, 600.0, 40.0)
    other = paint_name_tag(painter, frame, LIGHT, "ALDER", points, [taken])
    painter.end()
    assert free.intersects(taken)
    assert not other.intersects(taken)
    assert frame.box.contains(other)
