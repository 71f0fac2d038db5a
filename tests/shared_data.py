"""Finds the real data that lies beside the project; a test that needs it skips where it is absent."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

_ROOT = Path(os.environ.get("NORTHKEY_SHARED", Path(__file__).resolve().parents[2] / "shared"))


def shared_file(relative: str) -> Path:
    """The path of one shared file, e.g. ``"data/amateur_20241101.csv"``; skips the test without it."""
    path = _ROOT / relative
    if not path.exists():
        pytest.skip(f"real data not at hand: {relative} (set NORTHKEY_SHARED to its folder)")
    return path
