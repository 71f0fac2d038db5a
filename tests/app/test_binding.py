"""The Qt binding imported: what is kept of it for the next start, and what is put back."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys

import pytest

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
