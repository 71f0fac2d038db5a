"""The Evening page: one moment in all views, picks through the document, keys, words, empty states."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QStyle

from app.window.look.scheme import SCHEMES
from app.window.pages.evening.dial import dial_chart
from app.window.pages.evening.list import CELL_MARGIN_PX, LENGTH
from app.window.pages.evening.page import EveningPage
from app.window.state.context import Context, PassKey
from app.window.state.document import Document
from app.window.state.runner import Runner
from core.base.edits import changed
from core.plan.document import Pick
from core.plan.picks import picks_with
from tests.app.window.pages.evening.page_object import EveningHand
from tests.core.mount.clearance.samples import TWO_YAGIS
from tests.evening_plans import evening_plan, full_evening_plan
from tests.lasting import result_of

NARROW = {"mount__azimuth": {"travel_deg": 360.0}, "mount__elevation": {"maximum_deg": 90.0}}


@pytest.fixture
def hand(qtbot):
    made = EveningHand(qtbot, evening_plan())
    yield made
    made.close()


@pytest.fixture
def empty(qtbot):
    """A page with a plan that is never evaluated by itself."""
    runners = []

    def page_of(plan, result=None):
        runners.append(Runner())
        context = Context(Document(plan), runners[-1], result=result, result_plan=plan)
        page = EveningPage(context)
        qtbot.addWidget(page)
        page.show()
        page.refresh()
        return page

    yield page_of
    for runner in runners:
        runner.close()


# --- one moment in every view -----------------------------------------------------------------------------


def test_a_stroke_marks_its_moment(hand):
    hand.settle()
    hand.hover(hand.page.dial, hand.stroke_point(1))
    path = hand.state.paths[1]
    assert hand.state.read_index == 1
    assert path.utc_s[0] <= hand.context.pointer.moment_s <= path.utc_s[-1]
    assert hand.state.check(1).pass_.satellite in hand.page.reading.words()


def test_a_hill_marks_its_moment(hand):
    hand.settle()
    hand.hover(hand.page.hills, hand.hill_point(2))
    assert hand.state.read_index == 2
    peak = hand.state.check(2).pass_.peak.utc_s
    assert hand.context.pointer.moment_s == pytest.approx(peak, abs=30.0)


def test_a_row_marks_its_aos(hand):
    table = hand.page.table
    cell = table.visualRect(table.proxy.index(3, 2)).center()
    hand.hover(table.viewport(), cell)
    assert hand.context.pointer.moment_s == pytest.approx(hand.state.paths[3].utc_s[0])
    assert hand.state.read_index == 3


def test_the_sky_marks_the_nearest_moment_of_the_track(hand):
    hand.state.choose(1)
    hand.settle()
    polar, path = hand.page.opened.polar, hand.state.paths[1]
    track = polar.points(path.azimuth_deg, path.elevation_deg)
    hand.hover(polar, QPointF(*track[-1].tolist()).toPoint())
    assert hand.context.pointer.moment_s == pytest.approx(path.utc_s[-1], abs=20.0)
    hand.hover(polar, QPoint(2, 2))
    assert hand.context.pointer.moment_s is None


def test_every_view_repaints_the_moment_and_nothing_fixed(hand, qtbot):
    hand.state.choose(1)
    hand.settle()
    views = (hand.page.hills, hand.page.dial, hand.page.opened.polar, hand.page.opened.strips)
    layers = [view.layers_painted for view in views]
    blank = [view.grab().toImage() for view in views]
    path = hand.state.paths[1]
    hand.state.point(float(path.utc_s.mean()), 1)
    for view, before in zip(views, blank, strict=True):
        assert view.grab().toImage() != before
    assert [view.layers_painted for view in views] == layers


def test_the_reading_has_every_figure(hand):
    hand.state.choose(0)
    peak = hand.state.check(0).pass_.peak
    hand.state.point(peak.utc_s, 0)
    figures = {figure.word: figure.value for figure in hand.page.reading.figures()}
    assert set(figures) == {"UTC", "local", "dial az", "dial el", "wrap", "azimuth", "elevation", "range"}
    assert figures["elevation"] == f"{peak.elevation_deg:.1f}"
    assert figures["range"] == f"{peak.range_km:.0f}"
    assert figures["azimuth"] == f"{peak.azimuth_deg:.1f}"


def test_between_passes_the_next_one_is_told(hand):
    first = hand.state.order.contacts[0]
    hand.state.point(first.start_utc_s - 60.0)
    assert hand.state.reading() is None
    assert f"next {first.check.pass_.satellite}" in hand.page.reading.words()


# --- choosing ---------------------------------------------------------------------------------------------


def test_the_chosen_pass_is_one_and_the_same_everywhere(hand):
    hand.settle()
    hand.click(hand.page.dial, hand.stroke_point(2))
    key = PassKey.of(hand.context.result.passes[2])
    assert hand.context.pointer.pass_key == key
    assert hand.page.table.currentIndex().row() == 2
    name = hand.context.result.passes[2].satellite
    assert name in hand.page.opened.title.text()
    assert hand.page.opened.reason.text() == hand.state.reason(2).text
    hand.page.table.selectRow(0)
    assert hand.state.chosen == 0
    assert hand.page.opened.reason.text() == hand.state.reason(0).text


def test_every_way_is_drawn(hand):
    for index in range(len(hand.state.paths)):
        hand.state.choose(index)
        hand.settle()
        assert [c.way for c in hand.page.opened.strips.ways] == list(hand.state.check(index).ways)


def test_seek_lists_only_what_was_sought(hand):
    hand.page.seek("birch")
    assert set(hand.rows) == {"Birch"}
    hand.page.seek("")
    assert len(hand.rows) == len(hand.state.paths)


# --- keys -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("view", ["hills", "dial", "table", "polar", "strips"])
def test_keys_do_the_same_in_every_view(hand, view):
    page = hand.page
    widget = {"polar": page.opened.polar, "strips": page.opened.strips}.get(view) or getattr(page, view)
    hand.state.choose(1)
    start = float(hand.state.paths[1].utc_s[0])
    hand.key(widget, Qt.Key.Key_Right)
    assert hand.context.pointer.moment_s == pytest.approx(start)
    hand.key(widget, Qt.Key.Key_Right)
    hand.key(widget, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    hand.key(widget, Qt.Key.Key_Left, Qt.KeyboardModifier.ControlModifier)
    assert hand.context.pointer.moment_s == pytest.approx(start + 10.0 + 60.0 - 1.0)
    hand.key(widget, Qt.Key.Key_Down)
    assert hand.state.chosen == 2
    hand.key(widget, Qt.Key.Key_Up)
    assert hand.state.chosen == 1
    hand.key(widget, Qt.Key.Key_Space)
    assert hand.picked == {1}
    hand.key(widget, Qt.Key.Key_Space)
    assert hand.picked == set()


def test_enter_opens_and_escape_closes(hand):
    page = hand.page
    hand.state.choose(1)
    hand.key(page.dial, Qt.Key.Key_Escape)
    assert not page.opened.isVisible()
    hand.key(page.dial, Qt.Key.Key_Return)
    assert page.opened.isVisible()
    assert page.focusWidget() is page.opened.polar
    hand.key(page.opened.polar, Qt.Key.Key_Escape)
    assert page.focusWidget() is page.dial


def test_a_zoom_paints_again_what_lies_over_the_hours_and_no_more(hand):
    page = hand.page
    over, own = (page.hills, page.dial), (page.opened.polar, page.opened.strips)
    before = [view.layers_painted for view in (*over, *own)]
    told = []
    page.table.model_.dataChanged.connect(lambda *_cells: told.append(1))
    hand.key(page.dial, Qt.Key.Key_Plus)
    for view in (*over, *own):
        view.repaint()
    assert [view.layers_painted for view in (*over, *own)] == [before[0] + 1, before[1] + 1, *before[2:]]
    assert not told


def test_zooming_by_keys_and_back(hand):
    whole = hand.state.shown_s
    hand.key(hand.page.dial, Qt.Key.Key_Plus)
    first, last = hand.state.shown_s
    assert last - first == pytest.approx((whole[1] - whole[0]) / 1.5)
    hand.key(hand.page.dial, Qt.Key.Key_Home)
    assert hand.state.shown_s == whole


def test_everything_that_takes_focus_has_a_name_and_painted_views_words(hand):
    from PySide6.QtWidgets import QWidget

    page = hand.page
    for widget in (page.hills, page.dial, page.opened.polar, page.opened.strips, page.table, page.reading):
        assert widget.accessibleName()
    takes_focus = [w for w in page.findChildren(QWidget) if w.focusPolicy() & Qt.FocusPolicy.TabFocus]
    assert len(takes_focus) >= 9
    for widget in takes_focus:
        assert widget.accessibleName() or widget.property("text"), widget
    hand.state.choose(1)
    page.dial.setFocus()
    hand.state.point(float(hand.state.paths[1].utc_s.mean()), 1)
    assert "4 contacts" in page.dial.describe()
    assert "dial" in page.dial.accessibleDescription()
    assert "deg true" in page.opened.polar.describe()
    assert "Ways that fit" in page.opened.strips.describe()
    assert "dark" in page.hills.describe()


# --- picks ------------------------------------------------------------------------------------------------


def test_a_click_on_the_box_picks_and_undo_unpicks(hand):
    hand.tick_box(2)
    pass_ = hand.context.result.passes[2]
    pick = hand.context.plan.picks[0]
    assert pick.norad_id == pass_.norad_id
    assert hand.picked == {2}
    assert [c.check.pass_.norad_id for c in hand.state.order.contacts] == [pass_.norad_id]
    assert hand.context.document.undo_label.startswith("pick ")
    hand.context.document.undo()
    assert hand.picked == set()


def test_unpicking_takes_the_matching_pick_only(hand):
    for index in (0, 2, 3):
        hand.page.toggle_pick(index)
    hand.page.toggle_pick(2)
    assert hand.picked == {0, 3}
    assert len(hand.context.plan.picks) == 2


def test_worth_is_typed(hand, qtbot):
    hand.page.toggle_pick(1)
    hand.state.choose(1)
    worth = hand.page.worth
    assert worth.isEnabled()
    worth.setFocus()
    worth.selectAll()
    qtbot.keyClicks(worth, "2.5")
    hand.key(worth, Qt.Key.Key_Return)
    assert hand.context.plan.picks[0].worth == 2.5
    worth.selectAll()
    qtbot.keyClicks(worth, "-3")
    hand.key(worth, Qt.Key.Key_Return)
    assert hand.context.plan.picks[0].worth == 2.5
    assert worth.property("wrong")


def test_worth_is_shut_without_a_pick(hand):
    hand.state.choose(1)
    assert not hand.page.worth.isEnabled()


def test_unpick_all(hand):
    hand.page.toggle_pick(0)
    hand.page.toggle_pick(1)
    hand.page.clear_button.click()
    assert hand.context.plan.picks == ()
    assert not hand.page.clear_button.isEnabled()


def test_the_model_keeps_qts_rules(hand):
    tester = QAbstractItemModelTester(
        hand.page.table.model_, QAbstractItemModelTester.FailureReportingMode.Fatal
    )
    hand.page.toggle_pick(0)
    hand.context.document.edit(full_evening_plan(8), "another plan")
    assert tester.model() is hand.page.table.model_
    assert len(hand.rows) == len(hand.context.result.passes)


# --- what is to be decided --------------------------------------------------------------------------------


def crowded_plan():
    """All passes of an evening picked that cannot all be worked."""
    plan = full_evening_plan(12)
    picks = ()
    for pass_ in result_of(plan).passes:
        picks = picks_with(picks, pass_)
    return changed(plan, "picks", picks)


def test_count_is_picks_that_are_left_out_or_match_nothing(qtbot):
    plan = crowded_plan()
    stranger = Pick(norad_id=99, near="2024-11-01T18:00:00Z")
    hand = EveningHand(qtbot, changed(plan, "picks", (*plan.picks, stranger)))
    left = len(hand.context.result.order.left_out)
    assert left > 1
    told = (hand.page.count(), hand.page.alarm.text())
    lines = [action.text() for action in hand.page.alarm.lines.actions()]
    worked = len(hand.context.result.order.contacts)
    sentence = hand.page.sentence.text()
    hand.close()
    assert told == (left + 1, f"{left} picks left out, 1 pick to look at")
    assert sum("left out: " in line for line in lines) == left
    assert any("not among the satellites" in line for line in lines)
    assert sentence.startswith(f"{worked} of {worked + left} picks worked: ")


def test_a_move_that_does_not_fit_is_counted_too(hand):
    hand.page.toggle_pick(0)
    hand.page.toggle_pick(1)
    result = hand.context.result
    first, second = result.order.contacts
    late = replace(second, move_before=replace(second.move_before, feasible=False, seconds_needed=1e5))
    hand.context.result = replace(result, order=replace(result.order, contacts=(first, late)))
    hand.page.refresh()
    assert hand.page.count() == 1
    assert hand.page.alarm.text() == "1 move does not fit"
    assert "s short" in hand.page.alarm.lines.actions()[0].text()


def test_the_alarm_leads_to_the_pass(qtbot):
    hand = EveningHand(qtbot, crowded_plan())
    action = hand.page.alarm.lines.actions()[0]
    action.trigger()
    chosen = hand.state.chosen
    told = hand.page.opened.after.text()
    hand.close()
    assert chosen is not None
    assert action.text().startswith(hand.state.check(chosen).pass_.satellite)
    assert chosen not in hand.state.contact_of
    assert hand.state.why_left[chosen] in told


def test_a_picked_pass_that_is_left_out_is_not_called_unpicked(qtbot, monkeypatch):
    names = []
    monkeypatch.setattr(dial_chart, "paint_name_tag", lambda *paint: names.append(paint[3]))
    plan = crowded_plan()
    hand = EveningHand(qtbot, plan.model_copy(update={"picks": plan.picks[1:]}))
    reach = [i for i, path in enumerate(hand.state.paths) if path.in_reach]
    absent = [i for i in reach if i not in hand.state.contact_of]
    left, unpicked = ([i for i in absent if (i in hand.state.pick_of) == picked] for picked in (True, False))
    assert left
    assert unpicked
    for index, words, tail in (
        (left[0], "left out", "picked, left out,"),
        (unpicked[0], "not picked", "not picked,"),
    ):
        hand.state.choose(index)
        names.clear()
        hand.page.dial.grab()
        assert any(name.endswith(f", {words}") for name in names)
        assert tail in hand.page.table.model_.spoken(index)
        told = hand.page.opened.after.text()
        assert ("not picked" in told) == (words == "not picked")
    hand.close()


def test_a_pass_cut_by_the_evening_is_marked(qtbot):
    evening = {"start": "2024-11-01T17:15:00Z", "end": "2024-11-01T17:45:00Z"}
    hand = EveningHand(qtbot, evening_plan(evening=evening))
    model = hand.page.table.model_
    cuts = [hand.state.check(row).pass_.cut for row in range(model.rowCount())]
    assert "start" in cuts
    for row, cut in enumerate(cuts):
        assert model.text(row, LENGTH).endswith(" cut") == (cut is not None)
        assert (f"cut at the {cut} of the evening" in model.spoken(row)) == (cut is not None)
        hand.state.choose(row)
        assert (f"Cut at the {cut} of the evening." in hand.page.opened.facts.text()) == (cut is not None)
    hand.close()


def test_without_picks_there_is_nothing_to_decide(full):
    assert full.page.count() == 0
    worked = len(full.state.contact_of)
    assert full.page.sentence.text().startswith(
        f"{worked} of {len(full.state.paths)} passes worked, none picked"
    )
    assert not full.page.alarm.isVisible()


# --- a full evening stays readable ------------------------------------------------------------------------


def test_names_cover_neither_each_other_nor_leave_the_picture(full):
    full.settle()
    places = [spot.rect for spot in full.page.dial.name_places.values()]
    assert 10 < len(places) <= len(full.state.contact_of)
    for index, rect in enumerate(places):
        assert full.page.dial.frame.box.contains(rect)
        assert not any(rect.intersects(other) for other in places[index + 1 :])


@pytest.mark.parametrize("scheme", SCHEMES)
def test_every_scheme_and_dial_paints(qtbot, scheme):
    azimuth = {
        "travel_deg": 540.0,
        "dial_at_stop_deg": 180.0,
        "dial_wraps_at_deg": 360.0,
        "dial_wraps_to_deg": 0.0,
        "dial_scale": -1.0 if scheme == "dark" else 1.0,
    }
    hand = EveningHand(qtbot, full_evening_plan(10, mount__azimuth=azimuth), SCHEMES[scheme])
    image = hand.page.grab().toImage()
    colors = {image.pixelColor(x, y).rgb() for x in range(0, image.width(), 7) for y in range(0, 700, 7)}
    assert len(colors) > 6
    hand.close()


def test_a_narrow_mount_shows_splits(qtbot):
    hand = EveningHand(qtbot, evening_plan(**NARROW))
    split = next(i for i in hand.state.contact_of if hand.state.check(i).verdict == "split")
    hand.state.choose(split)
    hand.settle()
    assert hand.page.opened.verdict.text() == "split"
    assert "Split by a full turn" in hand.page.opened.reason.text()
    hand.close()


# --- empty pages ------------------------------------------------------------------------------------------


def test_without_satellites_it_says_what_to_do_first(empty, qtbot):
    page = empty(evening_plan(satellites=[]))
    assert "Import element sets first" in page.nothing_text.text()
    with qtbot.waitSignal(page.go) as caught:
        page.nothing_button.click()
    assert caught.args == ["Satellites"]
    assert page.count() == 0


def test_while_it_is_worked_out_it_says_so(empty):
    page = empty(evening_plan())
    assert page.nothing_title.text() == "Working out the passes"
    assert not page.nothing_button.isVisible()


def test_without_passes_it_says_why(empty, qtbot):
    plan = evening_plan(site__minimum_elevation_deg=89.0)
    page = empty(plan, result_of(plan))
    assert "None of 2 satellites comes over 89 deg" in page.nothing_text.text()
    with qtbot.waitSignal(page.go) as caught:
        page.nothing_button.click()
    assert caught.args == ["Site"]


def test_a_pick_that_is_left_out_moves_nothing_below_its_button(full):
    page = full.page
    before = page.below.geometry()
    page.alarm.setText("1 pick left out")
    page.alarm.setVisible(True)
    page.full.layout().activate()
    assert page.below.geometry() == before


def test_a_head_orders_the_passes_and_the_chosen_one_stays_chosen(full):
    table, state = full.page.table, full.page.state
    state.choose(7)
    for column in range(table.proxy.columnCount()):
        for falling in (False, True):
            table.sortByColumn(column, Qt.SortOrder(int(falling)))
            keys = [
                table.model_.sort_key(table.proxy.row_of(table.proxy.index(row, 0)), column)
                for row in range(table.proxy.rowCount())
            ]
            assert keys == sorted(keys, reverse=falling)
            assert state.chosen == 7
            assert table.proxy.row_of(table.currentIndex()) == 7
    table.sortByColumn(-1, Qt.SortOrder.AscendingOrder)
    assert [table.proxy.row_of(table.proxy.index(row, 0)) for row in range(5)] == [0, 1, 2, 3, 4]


def test_cells_of_words_keep_the_margin_that_the_style_gives_others(hand):
    style = hand.page.table.style()
    assert style.pixelMetric(QStyle.PixelMetric.PM_FocusFrameHMargin) + 1 == CELL_MARGIN_PX


def test_moves_that_strike_are_told_without_picks_too(qtbot):
    plan = full_evening_plan(
        14, clearance=TWO_YAGIS, mount__keyway_bearing_deg=20.0, mount__elevation__maximum_deg=180.0
    )
    hand = EveningHand(qtbot, plan)
    cautions = hand.context.result.order.cautions
    told = hand.page.count(), hand.page.alarm.text(), hand.page.alarm.isHidden()
    lines = [action.text() for action in hand.page.alarm.lines.actions()]
    hand.close()
    assert cautions
    assert told == (
        len(cautions),
        f"{len(cautions)} move{'s strike' if len(cautions) > 1 else ' strikes'}",
        False,
    )
    assert cautions[0].text in lines
