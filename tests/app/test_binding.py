"""The Qt binding imported: what is kept of it for the next start, and what is put back."""

from __future__ import annotations

import importlib.util
import marshal
import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.binding import KeptCode

IMPORTED = """
import builtins
plain, compile_, asked = builtins.__import__, builtins.compile, []
def counted(source, filename, *rest, **named):
    if str(filename).startswith("shibokensupport/"):
        asked.append(filename)
    return compile_(source, filename, *rest, **named)
builtins.compile = counted
from app.binding import import_binding
import_binding()
from PySide6.QtCore import QObject
assert builtins.__import__ is plain and builtins.compile is counted
assert QObject.__module__ == "PySide6.QtCore"
try:
    QObject().setObjectName([])
except TypeError as error:
    assert "Supported signatures" in str(error) and "name: str" in str(error), error
else:
    raise AssertionError("a name that is a list")
print(len(asked))
"""
SOURCE = b"answer = 6 * 7"


@pytest.mark.skipif(importlib.util.find_spec("PySide6") is None, reason="without the window's extra")
def test_only_the_first_start_compiles_the_binding_and_python_goes_on_as_before(tmp_path):
    environment = os.environ | {"PYTHONPYCACHEPREFIX": str(tmp_path)}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    starts = []
    for _ in range(2):
        done = subprocess.run(
            [sys.executable, "-c", IMPORTED],
            env=environment,
            capture_output=True,
            text=True,
            check=False,
            timeout=60,
        )
        assert (done.returncode, done.stderr) == (0, "")
        starts.append(int(done.stdout))
    assert starts[0] > 5
    assert starts[1] == 0
    assert len(list(tmp_path.rglob("binding.*.parts"))) == 1


@pytest.fixture
def may_keep(monkeypatch):
    monkeypatch.setattr(sys, "dont_write_bytecode", False)


def answer(kept, source=SOURCE):
    names = {}
    exec(kept.compile(source, "part.py", "exec"), names)
    return names["answer"]


def kept_in(file: Path) -> KeptCode:
    kept = KeptCode(file)
    assert answer(kept) == 42
    kept.write()
    return kept


def test_code_is_kept_by_its_text(tmp_path, may_keep):
    kept_in(tmp_path / "kept")
    again = KeptCode(tmp_path / "kept")
    before = (tmp_path / "kept").stat()
    assert again.compile(SOURCE, "part.py", "exec") is again.compile(SOURCE, "part.py", "exec")
    again.write()
    assert (tmp_path / "kept").stat() == before
    assert answer(again, b"answer = 41") == 41
    with pytest.raises(SyntaxError):
        again.compile(b"answer =", "part.py", "exec")
    assert eval(again.compile("6 * 7", "part.py", "eval")) == 42  # no module: as the built-in does


@pytest.mark.parametrize("content", [b"", b"torn", marshal.dumps((b"another Python", {})), marshal.dumps(7)])
def test_a_file_that_says_nothing_is_written_anew(tmp_path, may_keep, content):
    kept_in(tmp_path / "kept")
    good = (tmp_path / "kept").read_bytes()
    (tmp_path / "kept").write_bytes(content)
    kept_in(tmp_path / "kept")
    assert (tmp_path / "kept").read_bytes() == good


def test_nothing_is_kept_where_python_keeps_nothing(tmp_path, monkeypatch, may_keep):
    (tmp_path / "file").write_bytes(b"")
    kept_in(tmp_path / "file" / "kept")  # a folder that cannot be made
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    kept_in(tmp_path / "kept")
    assert [path.name for path in tmp_path.iterdir()] == ["file"]
