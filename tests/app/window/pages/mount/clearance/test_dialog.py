"""The clearance window: lengths typed as steps of undo, the map and what is nearest in words."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from app.window.pages.mount.clearance.dialog import ClearanceDialog
from core.base.edits import changed
from core.mount.check.cable import cable_words
from core.mount.check.clear_map import map_sentence, nearest_words
from core.mount.clearance.lengths import Clearance
from tests.app.window.test_accessible_names import letters, nameless
from tests.app.window.test_text_is_text import rich
from tests.core.mount.clearance.samples import TWO_YAGIS
from tests.plans import plan_of, short_plan_data

PLAIN = plan_of(short_plan_data(), antennas=[{"name": "long"}, {"name": "short"}])
GIVEN = changed(PLAIN, "clearance", TWO_YAGIS | {"cable": {}})


class ClearanceHand:
    """The clearance window and the hands on it."""

    def __init__(self, window, qtbot) -> None:
        self.window, self.qtbot = window, qtbot
        window.open_page("Mount")
        self.page = window.page("Mount")
        self.page.clearance_button.click()
        (self.dialog,) = self.page.findChildren(ClearanceDialog)

    @property
    def lengths(self) -> Clearance:
        found = self.window.document.plan.clearance
        assert found is not None
        return found

    def mapped(self) -> None:
        self.qtbot.waitUntil(lambda: not self.dialog.now.stale, timeout=30_000)

    def type_into(self, field, text: str) -> None:
        field.setFocus()
        field.selectAll()
        self.qtbot.keyClicks(field, text)
        self.qtbot.keyClick(field, Qt.Key.Key_Return)


@pytest.fixture
def hand(window_of, qtbot):
    return lambda plan: ClearanceHand(window_of(plan, whole=False), qtbot)


def test_nothing_is_checked_until_lengths_are_given_and_undo_takes_them_back(hand):
    here = hand(PLAIN)
    assert here.dialog.nothing.isVisible()
    assert not here.dialog.filled.isVisible()
    here.dialog.start_button.click()
    assert [boom.name for boom in here.lengths.booms] == ["long", "short"]
    assert len(here.lengths.legs) == 3
    assert here.dialog.filled.isVisible()
    here.dialog.end_button.click()
    assert here.window.document.plan.clearance is None
    here.window.document.undo()
    here.window.document.undo()
    assert here.window.document.plan == PLAIN


def test_every_length_is_typed_and_a_wrong_one_is_refused(hand):
    here = hand(GIVEN)
    dialog = here.dialog
    here.type_into(dialog.lengths.fields["clearance.axis_height_mm"], "1620")
    assert here.lengths.axis_height_mm == 1620.0
    here.type_into(dialog.booms.numbers[0]["tail_mm"], "815")
    assert here.lengths.booms[0].tail_mm == 815.0
    here.type_into(dialog.legs.numbers[2]["radius_mm"], "910")
    assert here.lengths.legs[2].radius_mm == 910.0
    here.type_into(dialog.guys.numbers[0]["from_keyway_deg"], "-40")
    assert here.lengths.guys[0].from_keyway_deg == -40.0
    here.type_into(dialog.guys.numbers[0]["peg_radius_mm"], "99999")
    assert dialog.guys.numbers[0]["peg_radius_mm"].wrong
    assert here.lengths.guys[0].peg_radius_mm == 1500.0
    here.type_into(dialog.booms.names[1], "70 cm yagi")
    assert "same name" in dialog.booms.names[1].wrong
    assert len(here.lengths.booms) == 2
    dialog.booms.add.click()
    assert len(dialog.booms.names) == 3
    dialog.booms.laid.emit(1, "horizontal")
    assert here.lengths.booms[1].elements == "horizontal"


def test_rows_come_and_go(hand):
    here = hand(GIVEN)
    for table, rows in ((here.dialog.booms, 2), (here.dialog.legs, 3), (here.dialog.guys, 1)):
        table.add.click()
        assert len(getattr(here.lengths, table.name)) == len(table.numbers) == rows + 1
        table.removers[0].click()
        assert len(getattr(here.lengths, table.name)) == len(table.numbers) == rows
    here.dialog.column_there.click()
    assert here.lengths.column is not None
    assert here.dialog.column.isVisible()
    here.dialog.cable_there.click()
    assert here.lengths.cable is None
    assert here.dialog.wound.text() == ""


def test_the_map_and_the_place_asked_about_are_told_in_words(hand):
    here = hand(GIVEN)
    dialog = here.dialog
    here.mapped()
    assert dialog.told.text() == map_sentence(dialog.now.map)
    assert here.lengths.cable is not None
    assert dialog.wound.text() == cable_words(here.lengths.cable, GIVEN.mount.azimuth.travel_deg)
    here.type_into(dialog.boom, "100")
    here.type_into(dialog.elevation, "80")
    assert dialog.nearest.text() == nearest_words(here.lengths, 100.0, 80.0)
    assert dialog.view.accessibleDescription() == dialog.nearest.text()
    dialog.view.setFocus()
    here.qtbot.keyClick(dialog.view, Qt.Key.Key_Left)
    here.qtbot.keyClick(dialog.view, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert dialog.view.place == (99.0, 90.0)
    at = dialog.view.at(-90.0, 45.0).toPoint()
    here.qtbot.mouseClick(dialog.view, Qt.MouseButton.LeftButton, pos=at)
    assert dialog.view.place == pytest.approx((-90.0, 45.0), abs=1.0)


def test_forbidden_cells_are_painted_by_tone_and_hatch(hand):
    here = hand(GIVEN)
    here.mapped()
    view = here.dialog.view
    image = view.grab().toImage()

    def tones(boom_deg: float, e_deg: float) -> set[str]:
        at = view.at(boom_deg, e_deg).toPoint()
        return {image.pixelColor(at.x() + x, at.y() + y).name() for x in range(5) for y in range(-4, 5)}

    scheme = here.window.context.scheme
    struck = tones(124.0, 55.0)
    assert scheme.accent_soft in struck
    assert len(struck) > 1
    assert tones(20.0, 5.0) != struck


def test_everything_has_a_name_and_a_key_of_its_own(hand):
    here = hand(GIVEN)
    here.mapped()
    assert nameless(here.dialog) == []
    assert {k: v for k, v in letters(here.dialog).items() if len(v) > 1} == {}
    assert list(rich(here.dialog)) == []
