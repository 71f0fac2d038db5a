"""Every module can be the first to be imported, and none of core's brings a window with it."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
WINDOW = ("PySide6", "shiboken6", "matplotlib")


def modules_of(package: str) -> list[str]:
    paths = sorted((ROOT / package).rglob("*.py"))
    names = [".".join(path.relative_to(ROOT).with_suffix("").parts) for path in paths]
    return [name.removesuffix(".__init__") for name in names]


CORE = modules_of("core")
QT_FRONT = ("app.window", "app.settings")
APP = [name for name in modules_of("app") if find_spec("PySide6") or not name.startswith(QT_FRONT)]


#: Imports each module with none of ours imported before it; other people's libraries stay, as re-importing
#: those hundreds of times would take minutes.
EACH_FIRST = """
import importlib, sys, traceback
failures = 0
for name in sys.argv[1:]:
    for known in [known for known in sys.modules if known.split(".")[0] in ("core", "app")]:
        del sys.modules[known]
    try:
        importlib.import_module(name)
    except BaseException:
        failures += 1
        print(name, traceback.format_exc())
sys.exit(failures != 0)
"""


def in_a_fresh_process(code: str, *words: str) -> str:
    """What a process prints, and its traceback where it fails."""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", code, *words],
        cwd=ROOT,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=False,
    )
    return done.stdout + (done.stderr if done.returncode else "")


def test_there_are_modules_to_import():
    assert {"core", "core.evaluate", "core.mount.seat.study", "core.elements.readers.tle"} <= set(CORE)
    assert {"app.main", "app.commands.check"} <= set(APP)


@pytest.mark.parametrize("package", ["core", "app"])
def test_each_module_can_be_the_first_to_be_imported(package):
    """No module leans on another having been imported before it; no circle depends on its entrance."""
    assert in_a_fresh_process(EACH_FIRST, *{"core": CORE, "app": APP}[package]) == ""


@pytest.mark.parametrize("unwanted", WINDOW)
def test_all_of_core_and_the_commands_leave_the_window_alone(unwanted):
    names = [*CORE, *(name for name in APP if not name.startswith(QT_FRONT))]
    code = (
        f"import sys, {', '.join(names)}\nprint(*(m for m in sys.modules if m.split('.')[0] == {unwanted!r}))"
    )
    assert in_a_fresh_process(code).strip() == ""


def test_a_module_that_leans_on_another_would_be_seen(tmp_path):
    """A planted package: its second module only imports once the first has been."""
    (tmp_path / "core").mkdir()
    (tmp_path / "core" / "__init__.py").write_text("")
    (tmp_path / "core" / "first.py").write_text("import core\ncore.ready = True\n")
    (tmp_path / "core" / "leaning.py").write_text("import core\ncore.ready\n")
    code = f"import sys\nsys.path.insert(0, {str(tmp_path)!r})\n{EACH_FIRST}"
    assert in_a_fresh_process(code, "core.first") == ""
    assert "AttributeError" in in_a_fresh_process(code, "core.first", "core.leaning")
    assert "ModuleNotFoundError" in in_a_fresh_process(EACH_FIRST, "core.no_such_module")
