"""The document: a stack of plan values, and the file."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.window.state.document import Document
from core.base.edits import changed
from core.base.errors import FileProblem, PlanError
from core.plan.storage import read_plan
from tests.plans import plan_of, short_plan_data, write_plan_file

PLAN = plan_of(short_plan_data())


def titled(title: str):
    return changed(PLAN, "title", title)


@pytest.fixture
def document(qapp):
    return Document(PLAN)


def test_an_edit_is_told_and_can_be_undone_and_redone(document, qtbot):
    with qtbot.waitSignals([document.plan_changed, document.state_changed]):
        document.edit(titled("one"), "title one")
    assert (document.plan.title, document.undo_label, document.redo_label) == ("one", "title one", "")
    document.undo()
    assert (document.plan, document.undo_label, document.redo_label) == (PLAN, "", "title one")
    document.redo()
    assert document.plan.title == "one"


def test_an_equal_value_is_no_edit(document, qtbot):
    with qtbot.assertNotEmitted(document.plan_changed):
        document.edit(changed(PLAN, "title", PLAN.title), "same")
    assert document.undo_label == ""


def test_edits_in_a_row_with_one_key_are_one_step(document):
    for number in range(5):
        document.edit(titled(f"drag {number}"), f"to {number}", merge="drag")
    document.end_merge()
    document.edit(titled("later"), "later", merge="drag")
    document.undo()
    assert document.plan.title == "drag 4"
    document.undo()
    assert document.plan == PLAN


def test_undo_ends_a_merge(document):
    document.edit(titled("a"), "a", merge="k")
    document.undo()
    document.edit(titled("b"), "b", merge="k")
    assert (document.undo_label, document.redo_label) == ("b", "")
    document.undo()
    assert document.plan == PLAN


def test_unsaved_is_what_is_in_no_file(document, tmp_path):
    assert not document.unsaved
    document.edit(titled("one"), "one")
    assert document.unsaved
    document.save(tmp_path / "p.northkey.json")
    assert not document.unsaved
    document.undo()
    assert document.unsaved
    document.redo()
    assert not document.unsaved
    assert read_plan(tmp_path / "p.northkey.json") == document.plan


def test_a_file_that_cannot_be_written_leaves_the_document_unsaved(document, tmp_path):
    document.edit(titled("one"), "one")
    with pytest.raises(FileProblem):
        document.save(tmp_path / "missing" / "p.northkey.json")
    assert document.unsaved
    assert document.path is None


def test_opening_begins_afresh_and_a_bad_file_changes_nothing(document, tmp_path, qtbot):
    document.edit(titled("one"), "one")
    bad = tmp_path / "bad.northkey.json"
    bad.write_text("{}")
    with pytest.raises(PlanError), qtbot.assertNotEmitted(document.plan_changed):
        document.open(bad)
    assert (document.plan.title, document.undo_label) == ("one", "one")
    good = write_plan_file(tmp_path, title="from the file")
    document.open(good)
    assert (document.plan.title, document.path, document.undo_label) == ("from the file", good, "")
    assert not document.unsaved


def test_more_than_two_hundred_steps_lose_the_oldest(document):
    for number in range(260):
        document.edit(titled(str(number)), str(number))
    for _ in range(300):
        document.undo()
    assert int(document.plan.title) >= 55
    assert document.undo_label == ""


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    st.lists(
        st.one_of(
            st.tuples(st.just("edit"), st.text("abc", max_size=2), st.sampled_from([None, "x", "y"])),
            st.just(("undo", "", None)),
            st.just(("redo", "", None)),
        ),
        max_size=30,
    )
)
def test_any_walk_agrees_with_a_plain_list(qapp, walk):
    """Against a list of values and a place in it, merging left to the same rule written another way."""
    document = Document(PLAN)
    values, at, open_key = [PLAN.title], 0, None
    for what, text, key in walk:
        if what == "edit":
            document.edit(titled(text), text, merge=key)
            if text != values[at]:
                merged = key is not None and key == open_key and at > 0
                values = [*values[: at if merged else at + 1], text]
                at, open_key = len(values) - 1, key
        elif what == "undo":
            document.undo()
            at, open_key = max(0, at - 1), None
        else:
            document.redo()
            at, open_key = min(len(values) - 1, at + 1), None
        assert document.plan.title == values[at]
