"""How to steer the chosen pass: asked for, worked out beside the window, told as table and curves."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from app.window.look.scheme import LIGHT, SCHEMES
from core.base.errors import NorthkeyError
from core.studies import over_keyhole, study_pass
from tests.app.window.pages.evening.page_object import EveningHand
from tests.evening_plans import evening_plan

SLOW = {"mount__azimuth__rate_deg_s": 0.5}
ANTENNAS = [
    {"name": "long", "beamwidth_deg": 12.0},
    {"name": "short", "beamwidth_deg": 30.0, "frequency_hz": 145e6},
]


class SteeringHand(EveningHand):
    """The page's steerings as a hand meets them."""

    @property
    def part(self):
        return self.page.opened.steering

    def press(self) -> None:
        """The button that opens them, or closes them again."""
        self.qtbot.mouseClick(self.page.opened.steer_button, Qt.MouseButton.LeftButton)

    def open(self, index: int) -> None:
        """Choose a pass, open its steerings and wait for them."""
        self.state.choose(index)
        if not self.part.isVisible():
            self.press()
        check = self.state.check(index)
        self.qtbot.waitUntil(lambda: self.part.told is not None and self.part._asked is check, timeout=20_000)

    def table(self) -> list[list[str]]:
        """What the table says, row by row."""
        table = self.part.table
        return [
            [table.item(row, column).text() for column in range(table.columnCount())]
            for row in range(table.rowCount())
        ]


@pytest.fixture
def hand(qtbot):
    made = SteeringHand(qtbot, evening_plan(antennas=ANTENNAS, **SLOW))
    yield made
    made.close()


def _over(hand) -> int:
    context = hand.context
    return next(i for i in over_keyhole(context.plan, context.result) if hand.state.check(i).pointing)


def test_it_is_asked_for_and_told(hand):
    assert not hand.part.isVisible()
    assert hand.part.told is None
    index = _over(hand)
    hand.open(index)
    opened = hand.page.opened
    assert not opened.polar.isVisible()
    assert not opened.strips.isVisible()
    assert "over the keyhole" in hand.part.words.text()
    study = study_pass(hand.context.plan, hand.context.result, hand.state.check(index))
    assert study is not None
    rows = hand.table()
    assert [row[0] for row in rows] == [
        "led, in use" if row.name == "led" else row.name for row in study.study.runs
    ]
    for told, row in zip(rows, study.study.runs, strict=True):
        assert told[1] == f"{row.worst_off_deg:.1f}°"
        assert told[2] == f"{row.azimuth_travel_deg:.0f}° + {row.elevation_travel_deg:.0f}°"
        assert told[3:] == [f"{a.seconds_off:.0f} s, {a.worst_loss_db:.1f} dB" for a in row.antennas]
    heads = [hand.part.table.horizontalHeaderItem(n).text() for n in range(5)]
    assert heads == ["Steering", "off", "az + el", "long", "short"]
    hand.press()
    assert opened.polar.isVisible()
    assert not hand.part.isVisible()


def test_the_curves_and_half_the_beamwidth_are_drawn(hand):
    hand.open(_over(hand))
    chart = hand.part.chart
    assert chart.half_beam_deg == 6.0
    picture = chart.grab().toImage()
    y = round(float(chart.off_y(6.0)))

    def is_accent(x: int) -> bool:
        """Some pixel here has the accent's warmth, however it lies between rows."""
        colors = [picture.pixelColor(x, y + step) for step in (-1, 0, 1)]
        return any(color.red() - color.blue() > 60 for color in colors)

    box = chart.box
    inside = range(round(box.left()) + 2, round(box.right()) - 2)
    assert sum(is_accent(x) for x in inside) > 0.4 * len(inside)  # dashed
    best = hand.part.told.study.run("best path")
    signal = LIGHT.color("signal")
    places = chart.points(best.utc_s, best.off_deg).round().astype(int).tolist()
    seen = [picture.pixelColor(x, y) for x, y in places if box.top() + 3 < y < box.bottom() - 3]
    assert seen
    near = [abs(c.red() - signal.red()) < 40 and abs(c.blue() - signal.blue()) < 40 for c in seen]
    assert sum(near) > 0.5 * len(near)
    for row in hand.part.told.study.runs:
        assert f"{row.name} {row.worst_off_deg:.1f}" in chart.accessibleDescription()


def test_the_moment_is_marked_and_the_curves_are_not_painted_again(hand):
    index = _over(hand)
    hand.open(index)
    chart = hand.part.chart
    before = chart.grab().toImage()
    layers = chart.layers_painted
    hand.state.point(float(hand.state.paths[index].utc_s.mean()), index)
    assert chart.grab().toImage() != before
    assert chart.layers_painted == layers


def test_another_pass_and_another_plan_are_worked_out_afresh(hand):
    hand.open(_over(hand))
    first = hand.part.told
    other = next(i for i in range(4) if i != _over(hand) and hand.state.check(i).pointing)
    hand.open(other)
    assert hand.part.told is not first
    assert hand.part.told.study.runs[0].utc_s[0] == hand.context.result.tracks[other].utc_s[0]
    hand.open(_over(hand))
    assert hand.part.told.study.runs == first.study.runs


def test_a_pass_out_of_reach_says_so(qtbot):
    hand = SteeringHand(
        qtbot, evening_plan(mount__azimuth={"travel_deg": 40.0}, mount__elevation={"maximum_deg": 90.0})
    )
    index = next(i for i, check in enumerate(hand.context.result.checks) if check.pointing is None)
    hand.state.choose(index)
    hand.press()
    qtbot.waitUntil(lambda: "out of reach" in hand.part.words.text(), timeout=20_000)
    assert not hand.part.table.isVisible()
    hand.close()


def test_a_failure_is_not_waited_for(hand, monkeypatch, qtbot):
    def fail(*_args):
        raise NorthkeyError("no such luck")

    monkeypatch.setattr("core.studies.study_pass", fail)
    hand.state.choose(_over(hand))
    hand.press()
    qtbot.waitUntil(lambda: hand.part.words.text().startswith("Not worked out"), timeout=20_000)
    monkeypatch.undo()
    hand.press()
    hand.open(_over(hand))


@pytest.mark.parametrize("scheme", sorted(SCHEMES))
def test_every_scheme_marks_the_rows(qtbot, scheme):
    two = [{"name": "2 m crossed yagi"}, {"name": "70 cm crossed yagi", "beamwidth_deg": 12.0}]
    plan = evening_plan(antennas=two, **SLOW)
    hand = SteeringHand(qtbot, plan, SCHEMES[scheme], size=(1147, 670))
    hand.open(_over(hand))
    table = hand.part.table
    marks = [table.item(row, 0).icon().pixmap(22, 12).toImage() for row in range(table.rowCount())]
    assert all(one != other for n, one in enumerate(marks) for other in marks[:n])
    assert table.horizontalScrollBar().maximum() == 0
    assert table.verticalScrollBar().maximum() == 0
    hand.close()
