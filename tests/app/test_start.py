"""What a start says before its first heavy import, each in a process of its own."""

from __future__ import annotations

import importlib.util
import subprocess
import sys

import pytest

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


#: All that the first picture needs; each of the unwanted takes from one to a hundred milliseconds.
FIRST = """
import sys
from app.start import without_plugins
without_plugins()
import core.evaluate, app.ahead
from app.opening import opening
first = opening(None)
import app.window.launch, app.window.pages.evening.page
unwanted = {
    "app.commands.parser", "app.window.frame.error_dialog", "core.export",
    "core.mount.check.verdict", "core.mount.evening.evening", "core.sheet", "core.studies", "csv",
    "difflib", "email", "geographiclib", "html", "importlib.metadata", "matplotlib",
    "numpy.ma", "pygeomag", "sgp4", "skyfield", "subprocess", "tzfpy",
}
assert not unwanted & set(sys.modules), unwanted & set(sys.modules)
pages = {name.split(".")[3] for name in sys.modules if name.startswith("app.window.pages.")}
assert pages == {"evening"}, pages
"""


@pytest.mark.skipif(importlib.util.find_spec("PySide6") is None, reason="without the window's extra")
def test_nothing_is_imported_that_the_first_picture_does_not_need(tmp_path, monkeypatch):
    monkeypatch.setenv("NORTHKEY_SETTINGS", str(tmp_path / "settings.ini"))
    subprocess.run([sys.executable, "-c", FIRST], check=True, timeout=60)


def test_no_plugin_is_looked_for_nor_what_would_look_imported(monkeypatch):
    monkeypatch.delenv("PYDANTIC_DISABLE_PLUGINS", raising=False)
    subprocess.run([sys.executable, "-c", PLUGINS], check=True, timeout=60)
