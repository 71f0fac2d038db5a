"""What is remembered between sessions: typed, in a file of its own, never a reason to fail."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QByteArray

from app.settings import Remembered, recall, remember

ROOT = Path(__file__).resolve().parents[2]
WHOLE = Remembered(
    Path("/plans/Föhre one.northkey.json"),
    "dusk",
    "Keyway",
    "letter",
    QByteArray(b"\x00\x01geo"),
    (Path("/plans/Föhre one.northkey.json"), Path("/plans/a, b.northkey.json")),
    {"evening_beside": (900, 456), "satellites_columns": (50, 200, 80)},
)


@pytest.fixture(autouse=True)
def ini(tmp_path, monkeypatch):
    path = tmp_path / "new folder" / "northkey.ini"
    monkeypatch.setenv("NORTHKEY_SETTINGS", str(path))
    return path


def test_nothing_remembered_gives_the_defaults():
    assert recall() == Remembered()
    assert recall().last_plan is None


def test_what_is_remembered_is_recalled(ini):
    remember(WHOLE)
    assert ini.exists()
    assert recall() == WHOLE


def test_it_is_recalled_with_the_right_types_in_another_process():
    remember(WHOLE)
    script = (
        "import json; from app.settings import recall; r = recall();"
        "print(json.dumps([str(r.last_plan), r.scheme, r.page, r.paper, bytes(r.geometry).hex()]))"
    )
    told = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, capture_output=True, check=True, env=os.environ.copy()
    )
    assert json.loads(told.stdout) == [str(WHOLE.last_plan), "dusk", "Keyway", "letter", b"\x00\x01geo".hex()]


def test_no_plan_is_remembered_as_none():
    remember(WHOLE)
    remember(Remembered(None, "light", "Site", "a4", QByteArray()))
    assert recall().last_plan is None


@pytest.mark.parametrize(
    "text",
    [
        "",
        "no ini file at all \x00 \xff",
        "[window]\nscheme=\npage=@Invalid()\ngeometry_1=7\n",
        "[plan]\nrecent=x\n[layout_1]\nevening_beside=[1, \nother={}\nthird=[true]\n",
        "[window]\nscheme=a, b\ngeometry_1=@ByteArray(\n",
    ],
)
def test_a_damaged_file_gives_something_to_start_with(ini, text):
    ini.parent.mkdir()
    ini.write_text(text, encoding="latin-1")
    kept = recall()
    assert isinstance(kept.scheme, str)
    assert isinstance(kept.page, str)
    assert isinstance(kept.geometry, QByteArray)
    assert (kept.recent, kept.layout) == ((), {})


def test_geometry_of_another_version_is_left_alone(ini):
    ini.parent.mkdir()
    ini.write_text("[window]\ngeometry_0=@ByteArray(old)\n")
    assert recall().geometry.isEmpty()


def test_a_place_that_cannot_be_written_is_no_reason_to_fail(monkeypatch, tmp_path):
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("NORTHKEY_SETTINGS", str(tmp_path / "file" / "northkey.ini"))
    remember(WHOLE)
    assert recall() == Remembered()
