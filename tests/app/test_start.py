"""What a start says before its first heavy import, each in a process of its own."""

from __future__ import annotations

import importlib.util
import subprocess
import sys

import pytest

PLAIN = """
import builtins
plain = builtins.__import__
from app.opening import opening
first = opening(None)
from PySide6.QtWidgets import QWidget
assert builtins.__import__ is plain
assert QWidget.__module__ == "PySide6.QtWidgets" and first.plan.satellites
"""


@pytest.mark.skipif(importlib.util.find_spec("PySide6") is None, reason="without the window's extra")
def test_modules_are_imported_as_python_does_once_there_is_qt(tmp_path, monkeypatch):
    monkeypatch.setenv("NORTHKEY_SETTINGS", str(tmp_path / "settings.ini"))
    subprocess.run([sys.executable, "-c", PLAIN], check=True, timeout=60)
