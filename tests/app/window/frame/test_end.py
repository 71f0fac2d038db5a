"""The program is ended from outside: what is in no file is there at the next start."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from core.plan.spare import read_spare
from tests.plans import short_plan_data, write_plan_file

#: A window of its own that edits its plan, says so, and says what it offers of what was left behind.
_WINDOW = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from app.opening import opening
from app.window import launch
from core.base.edits import changed

started = launch.show_first
def show_first(window, first):
    started(window, first)
    def edit():
        window.keeping.offer_left_behind()
        print("offers", window.notices.words.text(), flush=True)
        window.document.edit(changed(window.document.plan, "title", "edited"), "title")
        if sys.argv[2] == "wait":
            window.keeping.autosave._timer.setInterval(0)
            window.keeping.autosave._timer.start()
            QTimer.singleShot(300, lambda: print("ready", flush=True))
        else:
            print("ready", flush=True)
    QTimer.singleShot(0, edit)
launch.show_first = show_first
sys.exit(launch.open_workbench(opening(Path(sys.argv[1]))))
"""

ENDS = {"SIGTERM": 128 + 15, "SIGHUP": 128 + 1, "SIGINT": 128 + 2, "SIGKILL": -9}


def start(path: Path, folder: Path, how: str) -> subprocess.Popen[str]:
    told = dict(os.environ, QT_QPA_PLATFORM="offscreen", NORTHKEY_SETTINGS=str(folder / "settings.ini"))
    return subprocess.Popen(
        [sys.executable, "-c", _WINDOW, str(path), how], stdout=subprocess.PIPE, text=True, env=told
    )


def offered(window: subprocess.Popen[str]) -> str:
    """What it offers; once it is ready to be ended."""
    assert window.stdout is not None
    lines = iter(window.stdout.readline, "")
    words = next(line for line in lines if line.startswith("offers"))
    assert next(line for line in lines if line.startswith("ready"))
    return words.removeprefix("offers").strip()


@pytest.mark.skipif(sys.platform == "win32", reason="signals as Unix has them")
def test_every_end_from_outside_leaves_the_edits_to_be_offered(tmp_path):
    path = write_plan_file(tmp_path, short_plan_data())
    windows = {}
    for name in ENDS:
        (tmp_path / name).mkdir()
        windows[name] = start(path, tmp_path / name, "wait" if name == "SIGKILL" else "now")
    for name, window in windows.items():
        with window:
            assert offered(window) == ""
            window.send_signal(getattr(signal, name))
            assert window.wait(timeout=60) == ENDS[name], name
        (file,) = (tmp_path / name / "unsaved").glob("*.spare.json")
        spare = read_spare(file)
        assert (spare.file, spare.plan.title) == (path, "edited"), name
    with start(path, tmp_path / "SIGTERM", "now") as again:
        assert offered(again).startswith(f"Unsaved edits of {path.name} from ")
        again.kill()
