"""The Satellites page: sets in and out, ages, refusals, wanted and worth."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import shiboken6
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtWidgets import QFileDialog, QLineEdit

from app.window.pages.satellites.chooser import Chooser
from app.window.pages.satellites.page import SatellitesPage
from app.window.pages.satellites.roster_model import COLUMN_KEYS, COLUMNS, SHARE_ROLE
from app.window.pages.satellites.traffic import MANY
from app.window.state.context import Context
from core.base.edits import changed
from core.elements.files import read_element_files
from core.plan.document import Plan
from tests.app.window.conftest import work_out
from tests.app.window.page_object_base import Hand
from tests.plans import elements_data, plan_of, short_plan_data, write_elements_file
from tests.shared_data import shared_file

PLAN = plan_of(short_plan_data())
ALDER, BIRCH = 70001, 70002


class SatellitesHand(Hand):
    """The page alone, worked out at once after each edit."""

    def __init__(self, qtbot, context: Context) -> None:
        super().__init__(qtbot)
        self.context = context
        self.page = SatellitesPage(context)
        self.problems: list[str] = []
        self.counts: list[int] = []
        self.page.failed.connect(lambda _title, sentence, _details: self.problems.append(sentence))
        self.page.count_changed.connect(self.counts.append)
        context.document.plan_changed.connect(self.work_out)
        qtbot.addWidget(self.page)
        self.page.resize(1150, 700)
        self.page.show()
        self.page.refresh()

    def work_out(self, *_plan) -> None:
        work_out(self.context)
        self.page.refresh()

    @property
    def plan(self) -> Plan:
        return self.context.plan

    def index(self, norad_id: int, key: str) -> QModelIndex:
        model = self.page.model
        row = next(row for row in range(model.rowCount()) if model.number_at(row) == norad_id)
        return self.page.rows.place_of(row, COLUMN_KEYS.index(key))

    def select(self, norad_id: int) -> None:
        self.page.table.selectRow(self.index(norad_id, "name").row())

    def text(self, norad_id: int, key: str) -> str:
        return self.index(norad_id, key).data()

    def want(self, norad_id: int) -> None:
        self.click_cell(self.page.table, self.index(norad_id, "wanted"))

    def edit(self, norad_id: int, key: str, text: str) -> None:
        """Type into a cell as F2 opens it."""
        index = self.index(norad_id, key)
        self.page.table.setFocus()
        self.page.table.setCurrentIndex(index)
        self.press(self.page.table, "F2")
        editor = next(e for e in self.page.table.findChildren(QLineEdit) if e.isVisible())
        self.type_into(editor, text)
        self.qtbot.waitUntil(lambda: not shiboken6.isValid(editor) or not editor.isVisible())

    def take(self, *files: Path) -> None:
        """Import files and wait until they are read."""
        with self.qtbot.waitSignal(self.context.runner.finished, timeout=20_000):
            self.page.take_files(list(files))

    @property
    def refusals(self) -> list[tuple[str, str, str, str]]:
        return self.page.refusals.model.lines

    @property
    def chooser(self) -> Chooser:
        return next(c for c in self.page.findChildren(Chooser) if c.isVisible())


@pytest.fixture
def hand_on(qtbot, context_of):
    return lambda plan=PLAN, worked_out=True: SatellitesHand(qtbot, context_of(plan, worked_out))


@pytest.fixture
def hand(hand_on):
    return hand_on()


# --- rows -------------------------------------------------------------------------------------------------


def test_a_row_says_what_there_is_to_know(hand):
    told = {key: hand.text(ALDER, key) for key in COLUMN_KEYS}
    passes = sum(pass_.norad_id == ALDER for pass_ in hand.context.result.passes)
    assert passes > 0
    assert told == {
        "wanted": "",
        "name": "Alder",
        "number": "70001",
        "passes": str(passes),
        "picked": "-",
        "worth": "-",
        "age": "11 hours old",
        "epoch": "2024-11-01 06:28",
        "height": "622",
        "inclination": "97.5",
        "period": "97.2",
    }
    assert hand.page.model.index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole) == "Alder, not wanted"
    assert all(hand.page.model.headerData(i, Qt.Orientation.Horizontal) for i in range(len(COLUMNS)))


def test_passes_are_not_told_before_they_are_known(hand_on):
    hand = hand_on(worked_out=False)
    assert hand.text(ALDER, "passes") == "..."
    assert "being worked out" in hand.page.summary.text()


def test_an_empty_plan_says_what_to_do_first(hand_on):
    hand = hand_on(plan_of(short_plan_data(), satellites=[]))
    assert hand.page.empty.isVisible()
    assert "Import an element file" in hand.page.empty.text()
    assert not hand.page.table.isVisible()


@pytest.mark.parametrize(
    ("epoch", "words", "count"),
    [
        ("2024-10-31T17:00:00", "1.0 days old", 0),
        ("2024-10-28T17:00:00", "4.0 days old, ageing", 0),
        ("2024-10-20T17:00:00", "12.0 days old, old", 0),
        ("2024-10-01T17:00:00", "31.0 days old, too old to trust", 1),
        ("2024-12-01T17:00:00", "epoch 30.0 days ahead, too old to trust", 1),
    ],
)
def test_ages_are_graded_and_what_cannot_be_trusted_is_counted(hand_on, epoch, words, count):
    record = {"name": "Old", "elements": elements_data(70003, EPOCH=epoch)}
    hand = hand_on(plan_of(short_plan_data(), satellites=[record]))
    assert hand.text(70003, "age") == words
    assert hand.page.count() == count


def test_a_set_that_cannot_be_propagated_is_told_in_the_row_and_in_the_list(hand_on):
    record = {"name": "Sunk", "elements": elements_data(70003, MEAN_MOTION=17.9)}
    hand = hand_on(plan_of(short_plan_data(), satellites=[*short_plan_data()["satellites"], record]))
    assert hand.text(70003, "passes") == "refused"
    assert [line[:2] for line in hand.refusals] == [("this plan", "Sunk")]
    assert not hand.page.refusals.dismiss.isEnabled()
    assert hand.page.count() == 1
    hand.select(70003)
    hand.click(hand.page.remove_button)
    assert hand.refusals == []
    assert hand.page.count() == 0


def test_sets_that_are_refused_for_their_age_can_be_asked_for(hand_on):
    record = {"name": "Old", "elements": elements_data(70003, EPOCH="2024-08-20T17:00:00")}
    hand = hand_on(plan_of(short_plan_data(), satellites=[record]))
    assert hand.page.oldest.text() == "60"
    assert "more than the 60 allowed" in hand.refusals[0][3]
    hand.type_into(hand.page.oldest, "90")
    assert hand.plan.maximum_element_age_days == 90.0
    assert hand.refusals == []
    hand.type_into(hand.page.oldest, "0")
    assert hand.plan.maximum_element_age_days == 90.0
    assert hand.page.oldest.wrong


# --- wanted and worth -------------------------------------------------------------------------------------


def test_wanting_picks_every_pass_and_again_drops_them(hand):
    hand.want(ALDER)
    passes = [pass_ for pass_ in hand.context.result.passes if pass_.norad_id == ALDER]
    assert len(hand.plan.picks) == len(passes)
    assert {pick.norad_id for pick in hand.plan.picks} == {ALDER}
    assert hand.text(ALDER, "picked") == f"{len(passes)} of {len(passes)}"
    assert hand.index(ALDER, "wanted").data(SHARE_ROLE) == 2
    assert hand.context.document.undo_label == "want Alder"
    hand.want(ALDER)
    assert hand.plan.picks == ()


def test_a_satellite_wanted_in_part_shows_it_and_a_click_wants_the_rest(hand):
    hand.want(ALDER)
    few = hand.plan.picks[:1]
    hand.context.document.edit(changed(hand.plan, "picks", few), "one")
    assert hand.index(ALDER, "wanted").data(SHARE_ROLE) == 1
    hand.want(ALDER)
    assert few[0] in hand.plan.picks
    assert hand.index(ALDER, "wanted").data(SHARE_ROLE) == 2


def test_space_wants_the_current_row(hand):
    hand.page.table.setFocus()
    hand.page.table.setCurrentIndex(hand.index(BIRCH, "name"))
    hand.press(hand.page.table, "Space")
    assert {pick.norad_id for pick in hand.plan.picks} == {BIRCH}


def test_the_rows_selected_are_wanted_together_and_no_more(hand):
    hand.page.table.selectAll()
    hand.click(hand.page.want_button)
    assert {pick.norad_id for pick in hand.plan.picks} == {ALDER, BIRCH}
    assert hand.context.document.undo_label == "want 2 satellites"
    hand.click(hand.page.unwant_button)
    assert hand.plan.picks == ()


def test_worth_is_typed_for_all_picks_of_a_satellite(hand):
    hand.want(ALDER)
    hand.want(BIRCH)
    hand.edit(ALDER, "worth", "2,5")
    worths = {pick.norad_id: pick.worth for pick in hand.plan.picks}
    assert worths == {ALDER: 2.5, BIRCH: 1.0}
    assert hand.text(ALDER, "worth") == "2.5"


def test_a_worth_for_what_is_not_wanted_wants_it(hand):
    hand.edit(BIRCH, "worth", "3")
    assert {(pick.norad_id, pick.worth) for pick in hand.plan.picks} == {(BIRCH, 3.0)}


@pytest.mark.parametrize("typed", ["much", "-1", "1001", "nan", ""])
def test_a_worth_that_is_none_is_refused(hand, typed):
    hand.want(ALDER)
    before = hand.plan
    hand.edit(ALDER, "worth", typed or " ")
    assert hand.plan == before
    assert hand.page.note.isVisible()
    assert hand.page.note.text().endswith("Must be 0 to 1000")
    hand.edit(ALDER, "worth", "2")
    assert not hand.page.note.isVisible()
    assert hand.problems == []


def test_wanting_waits_for_the_passes(hand_on):
    hand = hand_on(worked_out=False)
    hand.want(ALDER)
    assert hand.plan.picks == ()
    assert "not worked out" in hand.page.news.text()


def test_wanting_what_has_no_pass_tonight_says_so(hand_on):
    record = {"name": "Away", "elements": elements_data(70003, INCLINATION=3.0)}
    hand = hand_on(plan_of(short_plan_data(), satellites=[record]))
    hand.want(70003)
    assert hand.plan.picks == ()
    assert hand.page.news.text() == "Away: no pass tonight that could be picked."


# --- names, removal, finding ------------------------------------------------------------------------------


def test_a_name_is_typed_and_an_empty_one_refused(hand):
    hand.edit(ALDER, "name", "Tall alder")
    assert hand.plan.satellites[0].name == "Tall alder"
    hand.edit(ALDER, "name", "  ")
    assert hand.plan.satellites[0].name == "Tall alder"
    assert hand.page.note.isVisible()
    assert "at least 1 character" in hand.page.note.text()


def test_delete_removes_satellites_with_their_picks_and_undo_brings_them_back(hand):
    hand.want(ALDER)
    before = hand.plan
    hand.select(ALDER)
    hand.page.table.setFocus()
    hand.press(hand.page.table, "Delete")
    assert [s.name for s in hand.plan.satellites] == ["Birch"]
    assert hand.plan.picks == ()
    hand.context.document.undo()
    assert hand.plan == before


def test_seek_selects_by_name_or_number(hand):
    hand.page.seek("irc")
    assert hand.page.selected() == [BIRCH]
    hand.page.seek(str(ALDER))
    assert hand.page.selected() == [ALDER]
    hand.page.seek("nothing of the kind")
    assert hand.page.selected() == [ALDER]


# --- import -----------------------------------------------------------------------------------------------


def test_new_sets_are_added_and_older_ones_renewed_under_the_operators_names(hand, tmp_path):
    newer = elements_data(ALDER, name="CATALOGUE NAME", EPOCH="2024-11-01T12:00:00")
    older = elements_data(BIRCH, EPOCH="2024-10-01T12:00:00")
    hand.take(write_elements_file(tmp_path, newer, older, elements_data(70003, name="NEW ONE")))
    names = {s.elements.norad_id: (s.name, s.elements.epoch) for s in hand.plan.satellites}
    assert names == {
        ALDER: ("Alder", "2024-11-01T12:00:00"),
        BIRCH: ("Birch", "2024-11-01T06:28:48.432"),
        70003: ("NEW ONE", "2024-11-01T06:28:48.432"),
    }
    assert hand.page.news.text() == (
        "1 added, 1 renewed by a newer set (Alder), 1 left as it is, being newer than the file's (Birch)."
    )
    assert hand.context.document.undo_label == "import of 2 element sets"


def test_refusals_name_file_place_field_and_reason_until_they_are_dismissed(hand, tmp_path):
    path = write_elements_file(tmp_path, elements_data(70003), elements_data(70004, ECCENTRICITY=1.5))
    hand.take(path)
    assert len(hand.plan.satellites) == 3
    ((file, place, field, reason),) = hand.refusals
    assert (file, place, field) == ("elements.json", "record 2", "ECCENTRICITY")
    assert reason
    assert hand.page.count() == 1
    assert hand.counts[-1] == 1
    hand.take(tmp_path / "absent.csv")
    assert [line[0] for line in hand.refusals] == ["elements.json", "absent.csv"]
    assert hand.page.refusals.isVisible()
    hand.click(hand.page.refusals.dismiss)
    assert hand.refusals == []
    assert not hand.page.refusals.isVisible()
    assert hand.counts[-1] == 0


def test_nothing_usable_says_so(hand, tmp_path):
    path = tmp_path / "words.txt"
    path.write_text("no elements here")
    hand.take(path)
    assert hand.page.news.text().startswith("Nothing was taken in")
    hand.click(hand.page.news_close)
    assert hand.page.news.text() == ""
    assert not hand.page.news_close.isVisible()


def test_dropped_keywords_are_told(hand, tmp_path):
    record = elements_data(70003) | {"COLOUR": "green"}
    hand.take(write_elements_file(tmp_path, record))
    assert "dropped keywords COLOUR" in hand.page.news.text()


def test_files_are_asked_for_in_a_dialog(hand, tmp_path):
    path = write_elements_file(tmp_path, elements_data(70003))
    hand.click(hand.page.import_button)
    dialog = next(d for d in hand.page.findChildren(QFileDialog) if d.isVisible())
    dialog.selectFile(str(path))
    with hand.qtbot.waitSignal(hand.context.runner.finished):
        dialog.accept()
    assert len(hand.plan.satellites) == 3


def many_records():
    return [elements_data(71000 + number, name=f"GROVE {number}") for number in range(MANY + 1)]


def test_a_large_file_is_chosen_from(hand, tmp_path):
    hand.take(
        write_elements_file(tmp_path, elements_data(ALDER, EPOCH="2024-11-01T13:00:00"), *many_records())
    )
    chooser = hand.chooser
    assert chooser.words.text() == f"1 chosen, {MANY + 2} of {MANY + 2} shown"  # what the plan has is chosen
    hand.type_into(chooser.find_field, "GROVE 4", end=None)
    shown = [chooser.model.index(row, 1).data() for row in range(chooser.model.rowCount())]
    assert shown == [f"GROVE {number}" for number in range(MANY + 1) if "4" in str(number)]
    hand.click_cell(chooser.table, chooser.table.model().index(0, 0))
    chooser.table.setFocus()
    chooser.table.setCurrentIndex(chooser.table.model().index(2, 1))
    hand.press(chooser.table, "Space")
    assert chooser.take.text() == "Take 3 in"
    hand.click(chooser.take)
    assert {s.elements.norad_id for s in hand.plan.satellites} == {ALDER, BIRCH, 71004, 71024}
    assert hand.plan.satellites[0].elements.epoch == "2024-11-01T13:00:00"


def test_all_shown_or_none_of_it_can_be_chosen(hand, tmp_path):
    hand.take(write_elements_file(tmp_path, *many_records()))
    chooser = hand.chooser
    hand.type_into(chooser.find_field, "5", end=None)
    hand.click(chooser.all_shown)
    with_a_five = sum("5" in str(number) for number in range(MANY + 1))
    assert chooser.words.text().startswith(f"{with_a_five} chosen")
    assert chooser.take.isEnabled()
    hand.click(chooser.none_shown)
    assert not chooser.take.isEnabled()
    chooser.reject()
    assert len(hand.plan.satellites) == 2


def test_the_whole_catalogue_is_read_and_one_of_it_taken(hand):
    hand.take(shared_file("data/gp_20241101.csv"))
    chooser = hand.chooser
    assert "26,834 element sets" in next(
        w.text() for w in chooser.children() if hasattr(w, "text") and "sets" in w.text()
    )
    hand.type_into(chooser.find_field, "25544", end=None)
    hand.click(chooser.all_shown)
    hand.click(chooser.take)
    assert 25544 in {s.elements.norad_id for s in hand.plan.satellites}


# --- export -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("suffix", ["json", "csv", "kvn", "xml", "odd"])
def test_sets_are_written_as_omm_in_every_form_and_read_back_equal(hand, tmp_path, suffix):
    path = tmp_path / f"out.{suffix}"
    with hand.qtbot.waitSignal(hand.context.runner.finished):
        hand.page.write_elements(path)
    reading = read_element_files([path])
    assert [s.name for s in reading.sets] == ["Alder", "Birch"]
    assert [s.model_copy(update={"name": "x"}) for s in reading.sets] == [
        s.elements.model_copy(update={"name": "x"}) for s in hand.plan.satellites
    ]
    assert hand.page.news.text() == f"2 element sets written to out.{suffix}."


def test_sets_never_replace_the_plan_they_are_of(hand, tmp_path):
    path = tmp_path / "mine.northkey.json"
    hand.context.document.save(path)
    with hand.qtbot.waitSignal(hand.context.runner.failed) as told:
        hand.page.write_elements(path)
    assert "name another" in str(told.args[1])
    assert "northkey-plan" in path.read_text()


def test_the_form_is_chosen_in_the_dialog(hand, tmp_path):
    hand.click(hand.page.export_button)
    dialog = next(d for d in hand.page.findChildren(QFileDialog) if d.isVisible())
    dialog.selectNameFilter(next(f for f in dialog.nameFilters() if "XML" in f))
    dialog.filterSelected.emit(dialog.selectedNameFilter())
    dialog.selectFile(str(tmp_path / "chosen"))
    with hand.qtbot.waitSignal(hand.context.runner.finished):
        dialog.accept()
    assert "<ndm>" in (tmp_path / "chosen.xml").read_text()


def test_json_says_who_made_it_and_when(hand, tmp_path):
    with hand.qtbot.waitSignal(hand.context.runner.finished):
        hand.page.write_elements(tmp_path / "out.json")
    record = json.loads((tmp_path / "out.json").read_text())[0]
    assert record["ORIGINATOR"] == "NORTHKEY"
    assert record["CREATION_DATE"].startswith("2024-11-01T17:42:08")


def test_a_head_orders_the_rows_and_the_selection_stays_with_its_satellites(hand):
    table, number = hand.page.table, COLUMN_KEYS.index("number")
    hand.select(BIRCH)
    for falling in (True, False):
        table.sortByColumn(number, Qt.SortOrder(int(falling)))
        shown = [int(hand.page.rows.index(row, number).data()) for row in range(hand.page.rows.rowCount())]
        assert shown == sorted(shown, reverse=falling)
        assert hand.page.selected() == [BIRCH]
    hand.page.table.sortByColumn(number, Qt.SortOrder.DescendingOrder)
    hand.want(ALDER)
    assert {pick.norad_id for pick in hand.plan.picks} == {ALDER}
    hand.page.seek("alder")
    assert hand.page.selected() == [ALDER]
