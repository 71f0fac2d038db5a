"""Edits that are in no file are kept beside the settings, and found again when their window is gone."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.window.state.autosave import Autosave
from app.window.state.document import Document
from core.base.errors import PlanError
from core.plan.spare import Spare, file_of_spare, read_spare, write_spare
from tests.plans import plan_of, short_plan_data, write_plan_file

PLAN = plan_of(short_plan_data())
EDITED = plan_of(short_plan_data(), title="edited")
NOW_S = 1_730_480_000.25


@pytest.fixture
def folder(tmp_path) -> Path:
    return tmp_path / "unsaved"


@pytest.fixture
def make(folder, qtbot):
    made = []

    def autosave(document: Document) -> Autosave:
        made.append(Autosave(document, folder, lambda: NOW_S))
        return made[-1]

    yield autosave
    for one in made:
        one.end()


def settled(autosave: Autosave, qtbot) -> Spare:
    """What is in the copy once nothing waits."""
    autosave._timer.setInterval(0)
    if autosave._timer.isActive():
        autosave._timer.start()
    qtbot.waitUntil(lambda: not autosave.is_waiting)
    return read_spare(autosave.file)


def test_an_edit_is_kept_within_ten_seconds_and_goes_with_its_undo(make, qtbot):
    document = Document(PLAN)
    autosave = make(document)
    assert settled(autosave, qtbot) == Spare(None, None, NOW_S)
    document.edit(EDITED, "title")
    assert autosave._timer.isActive()
    assert autosave._timer.remainingTime() <= 10_000
    assert settled(autosave, qtbot) == Spare(None, EDITED, NOW_S)
    document.undo()
    assert settled(autosave, qtbot).plan is None


def test_later_edits_do_not_put_it_off(make, monkeypatch):
    document = Document(PLAN)
    autosave = make(document)
    document.edit(EDITED, "title")
    started = []
    monkeypatch.setattr(autosave._timer, "start", lambda: started.append(True))
    document.edit(plan_of(short_plan_data(), title="again"), "title")
    assert not started


def test_a_saved_plan_is_in_no_copy(make, qtbot, tmp_path):
    path = write_plan_file(tmp_path)
    document = Document(PLAN, path)
    autosave = make(document)
    document.edit(EDITED, "title")
    assert settled(autosave, qtbot) == Spare(path, EDITED, NOW_S)
    document.save(path)
    assert settled(autosave, qtbot) == Spare(path, None, NOW_S)


def test_the_end_of_the_program_keeps_at_once(make):
    document = Document(PLAN)
    autosave = make(document)
    document.edit(EDITED, "title")
    autosave.keep_now()
    assert read_spare(autosave.file).plan == EDITED


def test_a_folder_that_cannot_be_written_to_is_told_once(qtbot, tmp_path):
    (tmp_path / "file").write_text("")
    document = Document(PLAN)
    autosave = Autosave(document, tmp_path / "file" / "unsaved", lambda: NOW_S)
    told = []
    autosave.failed.connect(told.append)
    qtbot.waitUntil(lambda: bool(told))
    autosave.keep()
    qtbot.waitUntil(lambda: not autosave.is_waiting)
    assert len(told) == 1
    autosave.end()


#: Another window, which says that it is ready and is then ended without being asked.
_OTHER = """
import sys
from pathlib import Path
from PySide6.QtCore import QCoreApplication
from app.window.state.autosave import Autosave
from app.window.state.document import Document
from core.plan.storage import read_plan
from tests.plans import plan_of, short_plan_data
application = QCoreApplication([])
path = Path(sys.argv[2])
document = Document(read_plan(path), path)
autosave = Autosave(document, Path(sys.argv[1]), lambda: 1e9)
document.edit(plan_of(short_plan_data(), title="left behind"), "title")
autosave.keep_now()
print("ready", flush=True)
sys.stdin.read()
"""


def test_what_a_killed_window_left_is_found_and_a_running_ones_is_not(make, folder, tmp_path):
    path = write_plan_file(tmp_path)
    autosave = make(Document(PLAN))
    words = [sys.executable, "-c", _OTHER, str(folder), str(path)]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout.readline() == "ready\n"
        assert autosave.left_behind() == ()
        assert autosave.is_open_elsewhere(path)
        assert not autosave.is_open_elsewhere(tmp_path / "another.json")
        other.kill()
        other.wait()
    assert not autosave.is_open_elsewhere(path)
    ((file, spare),) = autosave.left_behind()
    assert (spare.file, spare.plan.title, spare.kept_utc_s) == (path, "left behind", 1e9)
    autosave.throw_away(file)
    assert autosave.left_behind() == ()


def test_a_copy_that_does_not_read_stays_where_it_is(make, folder):
    autosave = make(Document(PLAN))
    odd = folder / "1-abc.spare.json"
    odd.write_text('{"format": "northkey-spare", "plan": "{}"}')
    assert autosave.left_behind() == ()
    assert odd.exists()


@given(
    name=st.one_of(st.none(), st.text(st.characters(exclude_characters="\0"), min_size=1)),
    when=st.floats(0, 4e9),
)
def test_a_copy_reads_back(tmp_path_factory, name, when):
    path = tmp_path_factory.mktemp("spare") / "copy.json"
    write_spare(path, Spare(None if name is None else Path(name), EDITED, when))
    read = read_spare(path)
    assert (read.file, read.plan) == (None if name is None else Path(name), EDITED)
    assert read.kept_utc_s == pytest.approx(when, abs=1e-3)
    assert file_of_spare(path) == read.file
    write_spare(path, Spare(read.file, None, when))
    assert file_of_spare(path) == read.file


@pytest.mark.parametrize("content", ["", "[]", "{}", "1", "é", '{"format": "northkey-plan"}'])
def test_what_is_no_copy_is_refused(tmp_path, content):
    path = tmp_path / "copy.json"
    path.write_text(content)
    with pytest.raises(PlanError, match="is no spare copy"):
        read_spare(path)
