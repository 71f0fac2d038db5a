"""What a start says before its first heavy import, each in a process of its own."""

from __future__ import annotations

import subprocess
import sys

PLUGINS = """
import sys
from app.start import without_plugins
without_plugins()
import core.evaluate
from core.place.site import Site
assert Site(latitude_deg=47.0, longitude_deg=8.0, height_m=0.0).latitude_deg == 47.0
assert "importlib.metadata" not in sys.modules
from pydantic.plugin import _loader
assert _loader.PYDANTIC_ENTRY_POINT_GROUP == "pydantic"
assert sys.modules["pydantic.plugin._loader"] is not _loader
"""


def test_no_plugin_is_looked_for_nor_what_would_look_imported(monkeypatch):
    monkeypatch.delenv("PYDANTIC_DISABLE_PLUGINS", raising=False)
    subprocess.run([sys.executable, "-c", PLUGINS], check=True, timeout=60)
