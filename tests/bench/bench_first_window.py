"""The first window with the demo worked out against a bare one: python -m tests.bench.bench_first_window.

Both are timed in fresh processes, one after the other in turn, from the moment the process is started to the
moment it says that it has painted. Wall time; the medians are compared. Exit code 1 above the limit.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

RUNS = 7
#: The demo has to be on the screen within so many times a bare window's time.
LIMIT = 6.0
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
from app.window.state.collector import defer_collection
defer_collection()
from app.window.launch import make_application, make_window
application = make_application()
window = make_window(None)
window.show()
def painted(kind, _answer):
    if kind == "evaluate":
        window.repaint()
        print("painted", flush=True)
        window.close()
window.runner.finished.connect(painted)
application.exec()
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


def main() -> int:
    """Race and report."""
    with tempfile.TemporaryDirectory() as folder:
        settings = Path(folder) / "settings.ini"
        for script in (BARE, DEMO):  # once for the disk
            seconds_to_paint(script, settings)
        times: dict[str, list[float]] = {BARE: [], DEMO: []}
        for _ in range(RUNS):
            for script, taken in times.items():
                settings.unlink(missing_ok=True)
                taken.append(seconds_to_paint(script, settings))
    bare, demo = median(times[BARE]), median(times[DEMO])
    print(f"bare window           {bare:.3f} s  ({min(times[BARE]):.3f} to {max(times[BARE]):.3f})")
    print(f"demo, worked out      {demo:.3f} s  ({min(times[DEMO]):.3f} to {max(times[DEMO]):.3f})")
    print(f"ratio                 {demo / bare:.2f}, limit {LIMIT:g}")
    return int(demo > LIMIT * bare)


if __name__ == "__main__":
    sys.exit(main())
