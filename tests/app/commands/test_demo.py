"""`northkey demo`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.commands.demo import PLAN_NAME, SHEET_NAME
from core.plan.storage import read_plan
from tests.app.commands.runner import Answer, refused, run

NAMES = {PLAN_NAME, SHEET_NAME, ".northkey-demo.json"}


@pytest.fixture(scope="module")
def written(tmp_path_factory) -> tuple[Path, Answer]:
    folder = tmp_path_factory.mktemp("demo") / "deep" / "folder"
    return folder, run("demo", folder)


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_it_writes_its_plan_and_sheet_and_prints_the_evening(written):
    folder, answer = written
    assert (answer.code, answer.err) == (0, "")
    assert set(contents(folder)) == NAMES
    assert contents(folder)[SHEET_NAME].startswith(b"%PDF-")
    for words in [
        "move before",
        "Best seat by the passes alone: keyway at ",
        str(folder / PLAN_NAME),
        str(folder / SHEET_NAME),
    ]:
        assert words in answer.out


def test_its_plan_is_a_plan_that_every_command_answers(written):
    folder, _ = written
    plan = read_plan(folder / PLAN_NAME)
    assert len(plan.satellites) >= 2
    for command in ("check", "orient", "evening"):
        quick = ["--passes-alone"] if command == "orient" else []
        answer = run(command, folder / PLAN_NAME, "--json", *quick)
        assert (answer.code, answer.err) == (0, "")
        assert answer.json


def test_a_second_run_replaces_only_its_own(written):
    folder, _ = written
    (folder / "mine.txt").write_text("mine")
    assert run("demo", folder).code == 0
    assert set(contents(folder)) == NAMES | {"mine.txt"}
    assert (folder / "mine.txt").read_text() == "mine"
    (folder / "mine.txt").unlink()


@pytest.mark.parametrize("name", [PLAN_NAME, SHEET_NAME])
def test_a_file_that_was_changed_is_not_replaced(written, name):
    folder, _ = written
    kept = contents(folder)
    (folder / name).write_bytes(kept[name] + b" ")
    changed = contents(folder)
    line = refused("demo", folder)
    assert str(folder / name) in line
    assert "is not the demo's own; name another folder" in line
    assert contents(folder) == changed
    (folder / name).write_bytes(kept[name])


@pytest.mark.parametrize(
    "record", [b"", b"[]", b"\xff", b"null", b"[" * 100_000, json.dumps({PLAN_NAME: 3}).encode()]
)
def test_a_damaged_record_makes_nothing_the_demo_s_own(tmp_path, record):
    (tmp_path / PLAN_NAME).write_text("mine")
    (tmp_path / ".northkey-demo.json").write_bytes(record)
    assert "is not the demo's own" in refused("demo", tmp_path)
    assert (tmp_path / PLAN_NAME).read_text() == "mine"


def test_a_folder_that_cannot_be_made_is_told(tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("mine")
    for folder in (blocked, blocked / "below", "a\0b"):
        assert "cannot be made a folder" in refused("demo", folder)
    assert blocked.read_text() == "mine"
