"""The Stand page: what is typed, what follows, and all wishes together."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from app.window.pages.stand import numbers
from core.base.edits import changed, is_given, value_at
from core.plan.part_edits import with_usual_stand
from core.plan.quantities import QUANTITIES
from core.stand.answer import stand_answer
from core.stand.words import advice_sentence, cautions, fall_sentence
from core.wishes.words import wished_sentence
from tests.app.window.pages.stand.page_object import StandBench
from tests.plans import plan_of, short_plan_data

VALUES = (*numbers.WIND, *numbers.TRIPOD, *numbers.WISHES)
NEAR = [
    {"name": "footpath", "bearing_deg": 80.0, "distance_m": 2.0},
    {"name": "power line", "bearing_deg": 300.0, "distance_m": 40.0, "height_m": 8.0},
]


def stand_plan(**changes):
    plan = with_usual_stand(plan_of(short_plan_data(), **changes))
    return changed(plan, "stand.near", NEAR)


@pytest.fixture
def bench(qtbot):
    made: list[StandBench] = []

    def make(plan=None, with_result: bool = False) -> StandBench:
        made.append(StandBench(qtbot, stand_plan() if plan is None else plan, with_result))
        return made[-1]

    yield make
    for one in made:
        one.close()


def answer_of(here: StandBench):
    plan = here.plan
    return stand_answer(plan.stand, plan.clearance, plan.mount.keyway_bearing_deg)


def test_every_number_is_typed_reset_and_undone(bench):
    here = bench()
    for value in VALUES:
        before, quantity = here.plan, QUANTITIES[value.path]
        old = value_at(before, value.path)
        wanted = 7.0 if old is None else old + 0.25
        here.type_into(here.number(value.path), f"{wanted:g}")
        assert value_at(here.plan, value.path) == pytest.approx(wanted), value.path
        here.empty(here.number(value.path))
        assert not is_given(here.plan, value.path), value.path
        here.document.undo()
        here.document.undo()
        assert here.plan == before
        if not quantity.bearing and value in numbers.TRIPOD:
            here.type_into(here.number(value.path), f"{quantity.high * 2.0 + 1.0:g}")
            assert here.number(value.path).wrong, value.path
            here.number(value.path).take_back()
    assert here.plan == before


def test_what_is_told_follows_what_is_typed(bench):
    here = bench()
    assert here.page.advice.text() == advice_sentence(answer_of(here))
    here.type_into(here.page.form.gust, "30")
    assert here.plan.stand.forecast.gust_m_s == 30.0
    assert answer_of(here).advice == "take down"
    assert here.page.advice.text().startswith("Take down")
    assert here.page.advice.property("rank") == "alarm"
    here.type_into(here.page.form.mean, "31")
    assert "at least" in here.page.form.mean.wrong
    here.page.form.mean.take_back()
    here.empty(here.page.form.gust)
    assert here.plan.stand.forecast is None
    assert here.document.undo_label == "forecast gusts left out"


def test_what_it_could_fall_on_is_told_drawn_and_counted(bench):
    here = bench()
    assert fall_sentence(answer_of(here)) in here.told
    assert "footpath 2 m, reached" in here.page.ground.accessibleDescription()
    assert "power line 40 m, not known: no boom is typed" in here.page.ground.accessibleDescription()
    before = here.page.count()
    near = here.page.form.near
    here.type_into(near.numbers[0]["distance_m"], "60")
    assert here.plan.stand.near[0].distance_m == 60.0
    assert here.page.count() == before - 1
    here.type_into(near.names[0], "power line")
    assert near.names[0].wrong
    near.names[0].take_back()
    here.type_into(near.names[0], "track")
    assert here.plan.stand.near[0].name == "track"


def test_cautions_stand_without_keys_of_the_file(bench):
    plan = stand_plan()
    plan = changed(plan, "stand.guys", [{"from_keyway_deg": angle} for angle in (0.0, 120.0, 240.0)])
    here = bench(plan)
    told = here.page.cautions.text()
    assert any("(holds_n)" in caution for caution in cautions(answer_of(here)))
    assert "structural certificate" in told
    assert "power lines" in told
    assert "holds_n" not in told


def test_rows_come_and_go_and_ticks_are_kept(bench):
    here = bench()
    here.page.leaves.open("Masses, areas")
    form = here.page.form
    for table in form.tables:
        rows = len(getattr(here.plan.stand, table.name))
        table.add.click()
        assert len(getattr(here.plan.stand, table.name)) == rows + 1 == len(table.numbers)
        table.removers[rows].click()
        assert len(getattr(here.plan.stand, table.name)) == rows == len(table.numbers)
    assert here.plan.stand == stand_plan().stand
    form.masses.boxes[1]["turns"].click()
    assert here.plan.stand.masses[1].turns
    here.type_into(form.masses.numbers[1]["mass_kg"], "5.5 kg")
    assert here.plan.stand.masses[1].mass_kg == 5.5


def test_an_empty_page_starts_a_usual_station_with_one_button(bench):
    here = bench(plan_of(short_plan_data()))
    assert here.page.nothing.isVisible()
    assert here.page.count() == 0
    here.click(here.page.start_button)
    assert here.page.filled.isVisible()
    assert here.page.answer is not None
    here.page.end_button.click()
    assert here.plan.stand is None


def test_a_stand_of_which_too_little_is_said_tells_what_is_missing(bench):
    here = bench(changed(stand_plan(), "stand.areas", ()))
    assert "area" in here.page.advice.text()
    assert not here.page.pictures.isVisible()
    here.page.form.areas.add.click()
    assert here.page.pictures.isVisible()


def test_the_form_is_no_wider_than_its_room(bench):
    here = bench()
    form = here.page.form
    assert form.widget().minimumSizeHint().width() <= form.viewport().width()


def test_every_field_has_a_name_of_its_own(bench):
    here = bench(changed(stand_plan(), "stand.guys", [{"from_keyway_deg": 0.0}]))
    names = [field.accessibleName() for field in here.page.findChildren(QLineEdit)]
    assert all(names)
    assert sorted(set(names)) == sorted(names)


def test_the_list_of_seats_turns_the_keyway_in_one_step_of_undo(bench):
    here = bench(with_result=True)
    here.type_into(here.number("stand.wishes.downhill_deg"), "77")
    here.rank()
    wishes = here.page.wishes
    wished = wishes.now.wished
    assert wishes.sentence.text() == wished_sentence(wished)
    assert len(wishes.model.lines) == len(wished.seats)
    before = here.plan
    wishes.table.selectRow(1)
    seat = wished.seats[1]
    assert wishes.chosen == seat
    here.click(wishes.turn_button)
    mount = here.plan.mount
    assert (mount.keyway_bearing_deg, mount.index_hole) == (seat.keyway_bearing_deg, seat.index_hole)
    here.document.undo()
    assert here.plan == before


def test_turning_asks_before_a_correction_is_void(bench):
    plan = stand_plan()
    mount = plan.mount
    fitted = {"deg": 1.5, "keyway_bearing_deg": mount.keyway_bearing_deg, "index_hole": mount.index_hole}
    plan = changed(plan, "mount.sighting_correction", fitted)
    here = bench(plan, with_result=True)
    here.rank()
    wishes = here.page.wishes
    place = next(
        k
        for k, seat in enumerate(wishes.now.wished.seats)
        if seat.keyway_bearing_deg != mount.keyway_bearing_deg
    )
    wishes.table.selectRow(place)
    here.click(wishes.turn_button)
    here.answer("Leave it")
    assert here.plan == plan
    here.click(wishes.turn_button)
    here.answer("Turn the keyway")
    assert here.plan.mount.keyway_bearing_deg == wishes.now._latest[1].seats[place].keyway_bearing_deg


def test_without_satellites_the_list_says_what_to_do(bench):
    here = bench(changed(stand_plan(), "satellites", ()), with_result=False)
    here.page.leaves.open("All wishes together")
    assert here.page.wishes.sentence.text().startswith("No satellites yet")
    assert not here.page.wishes.turn_button.isEnabled()


def test_the_wheel_and_keys_reach_the_list(bench):
    here = bench(with_result=True)
    here.rank()
    here.press(here.page.wishes.table, "Down")
    assert here.page.wishes.table.currentIndex().row() == 1
    assert here.page.wishes.table.focusPolicy() & Qt.FocusPolicy.TabFocus


def test_the_stand_is_saved_as_a_page(bench, qtbot, tmp_path):
    here = bench(stand_plan())
    page = tmp_path / "stand.pdf"
    here.page.save_page(page)
    qtbot.waitUntil(lambda: here.page.saved.text() == "Saved as stand.pdf.", timeout=20_000)
    assert page.read_bytes().startswith(b"%PDF")
