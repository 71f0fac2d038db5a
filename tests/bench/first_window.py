"""The first window with the demo worked out against a bare one.

Both are timed in fresh processes, one after the other in turn, from the moment the process is started to the
moment it says that it has painted.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter

RUNS = 7
_ROOT = Path(__file__).resolve().parents[2]

BARE = """
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow
class Window(QMainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        print("painted", flush=True)
        application.quit()
application = QApplication([])
window = Window()
window.setCentralWidget(QLabel("bare"))
window.resize(1360, 860)
window.show()
application.exec()
"""
DEMO = """
import app.main
from app.start import without_algebra_threads, without_plugins
without_algebra_threads()
without_plugins()
from contextlib import ExitStack
from app.kept_code import code_kept
start = ExitStack()
kept = start.enter_context(code_kept())
from app.window.state.collector import defer_collection
defer_collection()
from app.ahead import fork_ahead
ahead = fork_ahead(kept)
from app.opening import opening
first = opening(None, ahead)
from app.window.launch import make_application, make_window, show_first
application = make_application()
window = make_window(first)
dial, before = window.page("Evening").dial, []
window.runner.finished.connect(lambda *_: before.append(dial.layers_painted))
show_first(window, first)
from PySide6.QtCore import QEventLoop
while not (before and dial.layers_painted > before[0] and dial.isVisible()):
    application.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
print("painted", flush=True)
window.close()
start.close()
"""


def seconds_to_paint(script: str, settings: Path) -> float:
    """From starting a process to its word that it has painted."""
    environment = os.environ | {"NORTHKEY_SETTINGS": str(settings)}
    environment |= {
        "PYTHONPYCACHEPREFIX": str(settings.parent)
    }  # compiled in the first run, as when installed
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    environment.setdefault("QT_QPA_PLATFORM", "offscreen")
    start = perf_counter()
    with subprocess.Popen(
        [sys.executable, "-c", script],
        cwd=_ROOT,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as process:
        assert process.stdout is not None
        word = process.stdout.readline().strip()
        taken = perf_counter() - start
    if word != "painted":
        raise RuntimeError(f"the process ended with {process.returncode} before it painted")
    return taken


def race() -> tuple[list[float], list[float]]:
    """Seconds of each run: the bare window's, and the demo's."""
    with tempfile.TemporaryDirectory() as folder:
        settings = Path(folder) / "settings.ini"
        for script in (BARE, DEMO):  # once for the disk
            seconds_to_paint(script, settings)
        times: dict[str, list[float]] = {BARE: [], DEMO: []}
        for _ in range(RUNS):
            for script, taken in times.items():
                settings.unlink(missing_ok=True)
                taken.append(seconds_to_paint(script, settings))
    return times[BARE], times[DEMO]
