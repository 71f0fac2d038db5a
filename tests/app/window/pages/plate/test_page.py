"""The Plate page: every number and choice, what follows, and the files for the shop."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLineEdit

from app.window.pages.plate import numbers
from app.window.widgets.typed.values import Value
from core.base.edits import default_at, is_given, value_at
from core.plan.part_edits import with_bolts
from core.plan.quantities import QUANTITIES
from core.plate.part import plate_part
from core.plate.shop.files import writers
from tests.app.window.pages.plate.page_object import PlateBench
from tests.plans import plan_of, plate_data, short_plan_data

VALUES: tuple[Value, ...] = (
    *(*numbers.BODY, *numbers.STEP, *numbers.PIN, *numbers.KEYWAY, *numbers.CIRCLE, *numbers.BOLTS),
    *(*numbers.CLAMP, *numbers.LOADS),
)
CHOICES = (
    *(*numbers.BODY_CHOICES, *numbers.PIN_CHOICES, *numbers.KEYWAY_CHOICES, *numbers.BOLT_CHOICES),
    *(numbers.CENTRE, *numbers.CLAMP_CHOICES, *numbers.LOAD_CHOICES),
)
HOLES = [{"name": "A", "offset_deg": 0.0}, {"name": "B", "offset_deg": -30.0}]


def plan_with(**changes):
    data = short_plan_data() | {"plate": plate_data() | changes}
    return plan_of(data, mount__index_holes=HOLES, mount__index_hole="B")


@pytest.fixture
def bench(qtbot):
    made: list[PlateBench] = []

    def make(plan=None) -> PlateBench:
        made.append(PlateBench(qtbot, plan_with() if plan is None else plan))
        return made[-1]

    yield make
    for one in made:
        one.close()


def test_every_number_is_typed_reset_and_undone(bench):
    here = bench()
    for value in VALUES:
        before = here.plan
        old = value_at(before, value.path)
        step = 1.0 if value.path.endswith("count") else 0.25
        wanted = max(5.0, QUANTITIES[value.path].low + 1.0) if old is None else old + step
        here.type_into(here.number(value.path), f"{wanted:g}")
        assert value_at(here.plan, value.path) == pytest.approx(wanted), value.path
        here.document.undo()
        assert here.plan == before
        assert here.number(value.path).wrong == ""
        # One that is set to what would be assumed stays so: leaving it out changes no value.
        if is_given(before, value.path) and not value.needed and old != default_at(before, value.path):
            here.empty(here.number(value.path))
            assert not is_given(here.plan, value.path), value.path
            here.document.undo()


def test_every_choice_is_one_step_of_undo(bench):
    here = bench()
    before = here.plan
    for choice in CHOICES:
        old = value_at(before, choice.path)
        value, words = next((value, words) for value, words in choice.options if value != old)
        here.choose(choice.path, words)
        assert value_at(here.plan, choice.path) == value, choice.path
        assert here.shown(choice.path) == words
        here.document.undo()
        assert here.plan == before


def test_what_is_out_of_range_or_does_not_fit_is_refused_at_its_field(bench):
    here = bench()
    before = here.plan
    for path, text in (
        ("plate.thickness_mm", "2"),
        ("plate.step.outer_diameter_mm", "39"),
        ("plate.bolts.count", "4.5"),
        ("plate.keyway.width_mm", "abc"),
    ):
        field = here.number(path)
        here.type_into(field, text)
        assert field.wrong, path
        assert "_mm" not in field.wrong
        field.take_back()
    assert here.plan == before


def test_an_empty_page_starts_a_usual_plate_with_one_button(bench):
    here = bench(plan_of(short_plan_data()))
    assert here.page.nothing.isVisible()
    assert here.page.count() == 0
    here.click(here.page.start_button)
    assert here.page.filled.isVisible()
    assert here.page.sentence.text().endswith("all hold.")
    here.page.leaves.open("Files")
    here.click(here.page.end_button)
    assert here.plan.plate is None


def test_picture_checks_and_holes_follow_what_is_typed(bench):
    here = bench()
    part = plate_part(here.plan.plate, here.plan.mount, here.plan.clearance)
    here.type_into(here.number("plate.keyway.width_mm"), "14")
    now = plate_part(here.plan.plate, here.plan.mount, here.plan.clearance)
    failed = [check.name for check in now.checks if not check.holds]
    assert failed
    assert here.page.count() == len(failed)
    assert here.page.sentence.property("rank") == "alarm"
    first = here.page.checks.checks[0]
    assert not first.holds
    here.page.checks.table.selectRow(0)
    assert f"Change: {first.advice}" in here.page.checks.why.text()
    assert len(here.page.holes.model.lines) == len(part.features)
    cells = next(line for line in here.page.holes.model.lines if line[0] == "index B")
    assert cells[8:10] == ("30.0", "-30")
    spoken = here.page.picture.accessibleDescription()
    assert "hole B at 30.0 deg clockwise on the paper" in spoken.partition("below")[0]
    assert "hole B at 330.0 deg" in spoken.partition("below")[2]


def test_a_check_stays_chosen_while_numbers_change(bench):
    here = bench()
    checks = here.page.checks
    checks.table.selectRow(7)
    name = checks.chosen.name
    here.type_into(here.number("plate.thickness_mm"), "23")
    assert checks.chosen.name == name
    assert checks.why.text().startswith(checks.chosen.formula)


def test_step_and_bolts_ask_only_for_what_they_have(bench):
    here = bench()
    groups = here.page.form.groups
    here.choose("step", "none")
    assert here.plan.plate.step is None
    assert not groups["The step's measures"].isVisibleTo(here.page)
    here.choose("bolts", "in a rectangle")
    assert groups["Bolts in a rectangle"].isVisibleTo(here.page)
    here.type_into(here.page.form.sides[0], "66")
    assert here.plan.plate.bolts.rectangle_mm[0] == 66.0
    here.choose("bolts", "at free places")
    places = here.page.form.places
    here.type_into(places.fields[1][1], "-20.5")
    assert here.plan.plate.bolts.points_mm[1][1] == -20.5
    places.add.click()
    assert len(here.plan.plate.bolts.points_mm) == 5 == len(places.fields)
    places.removers[0].click()
    assert len(here.plan.plate.bolts.points_mm) == 4 == len(places.fields)
    here.choose("bolts", "nowhere: no bolts")
    assert here.plan.plate.bolts is None
    assert not groups["Every bolt"].isVisibleTo(here.page)


def test_a_step_that_does_not_fit_is_told_and_the_box_shows_what_is_there(bench):
    here = bench(plan_with(step=None, outside_diameter_mm=45.0))
    here.choose("step", "below, the tripod's side")
    assert here.plan.plate.step is None
    assert here.problems[0][0] == "Plate not changed"
    assert here.shown("step") == "none"


def test_the_form_is_no_wider_than_its_room(bench):
    here = bench(with_bolts(plan_with(), "points"))
    form = here.page.form
    assert form.widget().minimumSizeHint().width() <= form.viewport().width()


def test_files_are_saved_in_the_background_and_replaced_only_after_asking(bench, qtbot, tmp_path):
    here = bench()
    here.page.leaves.open("Files")
    files = here.page.files
    with qtbot.waitSignal(files.saved):
        files.save(tmp_path)
    names = [name for name, _content in writers()]
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(names)
    assert here.page.part.identity in files.state.text()
    kept = {name: (tmp_path / name).read_bytes() for name in names}
    here.type_into(here.number("plate.thickness_mm"), "24")
    assert "another one now" in files.state.text()

    files.save(tmp_path)
    qtbot.waitUntil(lambda: here.question is not None)
    here.answer("Leave them")
    assert {name: (tmp_path / name).read_bytes() for name in names} == kept
    files.save(tmp_path)
    qtbot.waitUntil(lambda: here.question is not None)
    with qtbot.waitSignal(files.saved):
        here.answer("Replace them")
    identity = here.page.part.identity
    assert identity.encode() in (tmp_path / "hole_table.csv").read_bytes()


def test_a_folder_that_cannot_be_written_to_is_told(bench, qtbot, tmp_path):
    here = bench()
    with qtbot.waitSignal(here.runner.failed):
        here.page.files.save(tmp_path / "absent")
    assert here.page.files.state.text() == "The shop's files were not saved."


def test_the_holes_are_typed_on_the_mount_page(bench, qtbot):
    here = bench()
    with qtbot.waitSignal(here.page.go) as asked:
        here.page.form.holes_button.click()
    assert asked.args == ["Mount"]


def test_every_field_has_a_name_of_its_own(bench):
    here = bench()
    names = [field.accessibleName() for field in here.page.form.findChildren(QLineEdit)]
    assert all(names)
    assert sorted(set(names)) == sorted(names)
