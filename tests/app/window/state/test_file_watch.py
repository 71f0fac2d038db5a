"""What others do to the plan's file is seen, and what is as it was is not told."""

from __future__ import annotations

import os

import pytest

from app.window.state.document import Document
from app.window.state.file_watch import FileState, FileWatch, Found, look_at
from core.base.whole_files import stamp_of
from core.plan.storage import read_plan, write_plan
from tests.plans import plan_of, short_plan_data, write_plan_file

SAME = Found(FileState.SAME)


@pytest.fixture
def path(tmp_path):
    return write_plan_file(tmp_path)


@pytest.fixture
def watch(path, qtbot):
    document = Document(read_plan(path), path)
    made = FileWatch(document)
    yield made
    made.close()


def theirs():
    return plan_of(short_plan_data(), title="theirs")


def test_a_file_as_it_was_read_is_the_same(path):
    assert look_at(path, stamp_of(path), read_plan(path), SAME).state is FileState.SAME


def test_the_same_plan_written_anew_is_the_same(path):
    stamp, saved = stamp_of(path), read_plan(path)
    write_plan(path, saved)
    assert stamp_of(path) != stamp
    assert look_at(path, stamp, saved, SAME).state is FileState.SAME


def test_another_plan_is_handed_on(path):
    stamp, saved = stamp_of(path), read_plan(path)
    write_plan(path, theirs())
    found = look_at(path, stamp, saved, SAME)
    assert (found.state, found.theirs) == (FileState.CHANGED, theirs())
    assert look_at(path, stamp, saved, found) is found


def test_damage_is_a_change_without_a_plan(path):
    stamp, saved = stamp_of(path), read_plan(path)
    path.write_text("{")
    assert look_at(path, stamp, saved, SAME) == Found(FileState.CHANGED, path, stamp_of(path))


def test_a_file_that_is_gone_and_one_that_is_open_elsewhere(path):
    stamp, saved = stamp_of(path), read_plan(path)
    assert look_at(path, stamp, saved, SAME, lambda _path: True).state is FileState.OPEN_ELSEWHERE
    path.unlink()
    assert look_at(path, stamp, saved, SAME, lambda _path: True).state is FileState.GONE


def test_the_watch_tells_each_change_once_and_the_end_of_it(watch, path, qtbot):
    document = watch._document
    with qtbot.waitSignal(watch.changed, timeout=10_000):
        write_plan(path, theirs())
        watch.look()
    assert watch.found.state is FileState.CHANGED
    with qtbot.waitSignal(watch.changed, timeout=10_000):
        document.take(watch.found.theirs, watch.found.stamp)
    assert watch.found.state is FileState.SAME
    assert (document.plan, document.unsaved) == (theirs(), False)
    document.undo()
    assert document.unsaved


def test_saving_here_is_no_change_of_others(watch, path, qtbot):
    told = []
    watch.changed.connect(lambda: told.append(watch.found))
    watch._document.edit(theirs(), "title")
    watch._document.save(path)
    qtbot.waitUntil(lambda: not watch._beside.open_jobs)
    assert watch.look_now().state is FileState.SAME
    assert told == []


def test_a_look_that_a_save_here_overtook_tells_nothing(watch, path, qtbot):
    document, before = watch._document, watch._document.stamp
    saved = document.saved
    document.edit(theirs(), "title")
    document.save(path)
    late = look_at(path, before, saved, SAME)
    assert late.state is FileState.CHANGED
    watch._show(late, before)
    assert (watch.found.state, document.stamp) == (FileState.SAME, stamp_of(path))


def test_a_look_before_a_save_sees_what_was_written_a_moment_ago(watch, path):
    write_plan(path, theirs())
    assert watch.look_now().state is FileState.CHANGED
    os.unlink(path)
    assert watch.look_now().state is FileState.GONE
