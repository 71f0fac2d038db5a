"""What is told of the plan's file and of work left behind, and what each answer does."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from PySide6.QtWidgets import QMessageBox, QWidget

from app.window.frame.keeping import Keeping, left_words
from app.window.frame.notices import Notices
from app.window.frame.plan_files import PlanFiles, is_plan_file
from app.window.state.document import Document
from core.plan.spare import Spare, read_spare, write_spare
from core.plan.storage import read_plan, write_plan
from tests.plans import plan_of, short_plan_data, write_plan_file

MINE = plan_of(short_plan_data(), title="mine")
THEIRS = plan_of(short_plan_data(), title="theirs")
NOW_S = 1_730_480_000.0


class Desk:
    """A window's document with all that keeps it, and the hands that press its buttons."""

    def __init__(self, window: QWidget, path: Path | None, folder: Path) -> None:
        self.window = window
        self.document = Document(read_plan(path) if path else plan_of(short_plan_data()), path, window)
        self.files = PlanFiles(self.document, window)
        self.notices = Notices(window)
        self.keeping = Keeping(self.document, self.files, self.notices, folder, lambda: NOW_S, window)
        self.watch, self.autosave = self.keeping.watch, self.keeping.autosave

    def look(self) -> None:
        self.watch.look_now()

    def words(self) -> str:
        return "" if self.notices.isHidden() else self.notices.words.text()

    def press(self, words: str) -> None:
        next(button for button in self.notices.buttons if button.text() == words).click()

    def box(self) -> QMessageBox:
        return self.window.findChildren(QMessageBox)[-1]

    def answer(self, words: str) -> None:
        box = self.box()
        next(one for one in box.buttons() if one.text().replace("&", "") == words).click()


@pytest.fixture
def path(tmp_path):
    return write_plan_file(tmp_path)


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "unsaved"


@pytest.fixture
def desk(qtbot, path, folder):
    window = QWidget()
    made = Desk(window, path, folder)
    qtbot.addWidget(window, before_close_func=lambda _window: made.keeping.close())
    window.show()
    return made


def test_nothing_is_told_of_a_file_that_is_as_it_was(desk):
    desk.look()
    assert (desk.words(), desk.notices.kind) == ("", "")


def test_a_change_by_others_is_told_and_taken_or_written_over(desk, path):
    desk.document.edit(MINE, "title")
    write_plan(path, THEIRS)
    desk.look()
    assert desk.words() == f"{path.name} was changed by others."
    desk.press("Take theirs")
    assert (desk.document.plan, desk.document.unsaved, desk.words()) == (THEIRS, False, "")
    desk.document.undo()
    assert desk.document.plan == MINE
    write_plan(path, plan_of(short_plan_data(), title="theirs again"))
    desk.look()
    desk.press("Keep mine")
    assert (read_plan(path), desk.document.unsaved, desk.words()) == (MINE, False, "")


@pytest.mark.parametrize(
    ("answer", "in_file", "here"),
    [("Keep mine", MINE, MINE), ("Take theirs", THEIRS, THEIRS), ("Not now", THEIRS, MINE)],
)
def test_save_asks_where_others_have_changed_the_file(desk, path, answer, in_file, here):
    desk.document.edit(MINE, "title")
    write_plan(path, THEIRS)
    followed = []
    desk.files.save(lambda: followed.append(True))
    assert read_plan(path) == THEIRS
    desk.answer(answer)
    assert (read_plan(path), desk.document.plan) == (in_file, here)
    assert followed == ([True] if answer == "Keep mine" else [])


def test_save_beside_begins_with_another_name(desk, path, monkeypatch):
    asked = []
    monkeypatch.setattr(desk.files, "ask_save", lambda then=None, name="": asked.append(name))
    write_plan(path, THEIRS)
    desk.files.save()
    desk.answer("Save beside...")
    desk.look()
    desk.press("Save beside...")
    assert asked == ["evening (mine).northkey.json"] * 2


def test_a_file_that_is_gone_is_told_and_written_again(desk, path):
    path.unlink()
    desk.look()
    assert desk.words() == f"{path.name} is no longer there: moved or deleted."
    desk.files.save()
    desk.answer("Write it again")
    assert read_plan(path) == desk.document.plan
    assert desk.words() == ""


def test_damage_by_others_is_told_without_an_offer_of_it(desk, path):
    path.write_text("{")
    desk.look()
    assert "holds no plan that can be read" in desk.words()
    assert [button.text() for button in desk.notices.buttons] == ["Keep mine", "Save beside..."]


def test_a_read_only_plan_is_not_replaced(desk, path):
    told = []
    desk.files.failed.connect(lambda _title, sentence: told.append(sentence))
    path.chmod(0o444)
    before = path.read_bytes()
    desk.document.edit(MINE, "title")
    desk.files.save()
    assert "is read-only; name another file" in told[0]
    assert path.read_bytes() == before
    assert desk.document.unsaved


def left(folder: Path, name: str, spare: Spare) -> Path:
    folder.mkdir(exist_ok=True)
    write_spare(folder / f"{name}.spare.json", spare)
    return folder / f"{name}.spare.json"


def test_work_left_behind_is_offered_the_latest_first_and_opened(desk, path, folder):
    older = left(folder, "1-a", Spare(None, MINE, NOW_S - 100.0))
    latest = left(folder, "1-b", Spare(path, THEIRS, NOW_S - 50.0))
    desk.keeping.offer_left_behind()
    assert desk.words() == left_words(Spare(path, THEIRS, NOW_S - 50.0))
    desk.press("Open it")
    assert (desk.document.plan, desk.document.path, desk.document.unsaved) == (THEIRS, path, True)
    assert (latest.exists(), read_spare(desk.autosave.file).plan) == (False, THEIRS)
    assert older.exists()
    assert desk.words() == left_words(Spare(None, MINE, NOW_S - 100.0))
    desk.press("Later")
    assert (desk.words(), older.exists()) == ("", True)
    desk.files.save()
    assert (read_plan(path), desk.document.unsaved) == (THEIRS, False)


def test_opened_work_of_no_file_is_in_no_file(desk, folder):
    left(folder, "1-a", Spare(folder / "gone.json", MINE, NOW_S))
    desk.keeping.offer_left_behind()
    desk.press("Open it")
    assert (desk.document.plan, desk.document.path, desk.document.unsaved) == (MINE, None, True)


def test_work_left_behind_is_thrown_away_when_told(desk, folder):
    file = left(folder, "1-a", Spare(None, MINE, NOW_S))
    desk.keeping.offer_left_behind()
    desk.press("Throw it away")
    assert (desk.words(), file.exists()) == ("", False)


def test_the_offer_says_what_it_holds_and_from_when():
    assert left_words(Spare(Path("/x/evening.northkey.json"), MINE, NOW_S)) == (
        "Unsaved edits of evening.northkey.json from 2024-11-01 16:53:20 UTC: “mine”, 2 satellites, 0 picks."
    )


def test_a_closed_window_leaves_no_copy_and_one_that_is_ended_does(desk, folder):
    desk.document.edit(MINE, "title")
    desk.keeping.keep_now()
    assert [read_spare(file).plan for file in folder.glob("*.spare.json")] == [MINE]
    desk.keeping.close()
    assert list(folder.glob("*.spare.json")) == []


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="has no pipes with names")
def test_a_dropped_pipe_is_no_plan_and_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.json")
    assert not is_plan_file(tmp_path / "pipe.json")
    (tmp_path / "plan.json").write_text('{"format": "northkey-plan"}')
    assert is_plan_file(tmp_path / "plan.json")
    assert not is_plan_file(tmp_path / "absent.json")
