"""Every module can be the first to be imported, and none of core's brings a window with it."""

from __future__ import annotations

import os
import subprocess
import sys
from functools import cache
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


#: Imports each module where nothing of ours is loaded but what its own import lines bring; every module is
#: run once in all. They go in the order of their import lines, which must have no circle, so that what a
#: module imports has been tried before it. Then only what those left behind is put back: their modules,
#: each with the names that it had then, without those that others set in it later. Import lines stand at
#: the head of a file (E402 of ruff), so a module that is the first to be imported finds just this below its
#: own.
EACH_FIRST = """
import ast, graphlib, importlib, importlib.util, sys, traceback
from pathlib import Path

def family(name):
    parts = name.split(".")
    return {".".join(parts[:end]) for end in range(1, len(parts) + 1)}

def import_lines(name):
    found, spec = set(), importlib.util.find_spec(name)
    for line in ast.parse(Path(spec.origin).read_text("utf-8") if spec else "").body:
        if isinstance(line, ast.Import):
            found.update(*(family(alias.name) for alias in line.names))
        elif isinstance(line, ast.ImportFrom) and line.level == 0:
            found.update(family(line.module), (f"{line.module}.{alias.name}" for alias in line.names))
    return found

def ours():
    return {known for known in sys.modules if known.split(".")[0] in ("core", "app")}

names, failures, left_behind = sys.argv[1:], [], {}
uses = {name: (import_lines(name) | family(name)) & set(names) - {name} for name in names}
for name in graphlib.TopologicalSorter(uses).static_order():
    for known in ours():
        del sys.modules[known]
    for used in sorted(uses[name]):
        for known, (module, its_names) in left_behind.get(used, {}).items():
            if known not in sys.modules:
                sys.modules[known] = module
                vars(module).clear()
            vars(module).update(its_names)
    try:
        importlib.import_module(name)
    except BaseException:
        failures.append(name)
        print(name, traceback.format_exc())
    left_behind[name] = {known: (sys.modules[known], dict(vars(sys.modules[known]))) for known in ours()}
sys.exit(bool(failures))
"""


@cache
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


def test_each_module_can_be_the_first_to_be_imported():
    """No module leans on another having been imported before it, and no import lines go round in a circle."""
    assert in_a_fresh_process(EACH_FIRST, *CORE, *APP) == ""


@pytest.mark.parametrize("unwanted", WINDOW)
def test_all_of_core_and_the_commands_leave_the_window_alone(unwanted):
    names = [*CORE, *(name for name in APP if not name.startswith(QT_FRONT))]
    loaded = in_a_fresh_process(f"import sys, {', '.join(names)}\nprint(*sys.modules)").split()
    assert "core.evaluate" in loaded
    assert [name for name in loaded if name.split(".")[0] == unwanted] == []


@pytest.mark.parametrize("unwanted", ["ezdxf", "OCP", "typst"])
def test_what_only_some_files_need_is_imported_when_they_are_written(unwanted):
    loaded = in_a_fresh_process(
        "import sys, core.plate.shop.files, app.commands.plate\nprint(*sys.modules)"
    ).split()
    assert "core.plate.shop.solid" in loaded
    assert [name for name in loaded if name.split(".")[0] == unwanted] == []


def planted(folder: Path, **modules: str) -> str:
    """What is told of a package ``core`` that has these modules."""
    (folder / "core").mkdir()
    for name, text in {"__init__": "", **modules}.items():
        (folder / "core" / f"{name}.py").write_text(text)
    code = f"import sys\nsys.path.insert(0, {str(folder)!r})\n{EACH_FIRST}"
    return in_a_fresh_process(code, "core", *(f"core.{name}" for name in modules))


FIRST = "import core\ncore.ready = True\n"


@pytest.mark.parametrize(
    ("modules", "told"),
    [
        ({"first": FIRST}, ""),
        ({"first": FIRST, "leaning": "import core\ncore.ready\n"}, "core.leaning"),
        ({"first": FIRST, "honest": "import core.first\ncore.ready\n"}, ""),
        ({"leaning": "import core\ncore.under.NAME\n", "under": "NAME = 1\n"}, "core.leaning"),
        ({"leaning": "import core\ncore.above.NAME\n", "above": "NAME = 1\n"}, "core.leaning"),
        ({"honest": "from core import under\nunder.NAME\n", "under": "NAME = 1\n"}, ""),
        ({"one": "import core.other\n", "other": "import core.one\n"}, "core.one"),
        ({"broken": "1 / 0\n"}, "core.broken"),
    ],
)
def test_a_module_that_leans_on_another_would_be_seen(tmp_path, modules, told):
    answer = planted(tmp_path, **modules)
    assert told in answer if told else answer == ""


def test_a_module_that_does_not_exist_would_be_seen():
    assert "ModuleNotFoundError" in in_a_fresh_process(EACH_FIRST, "core.no_such_module")
