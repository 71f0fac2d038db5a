"""A fault in a picture is told; it does not end the program."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QWidget

from app.window.views.painting import painting

ROOT = Path(__file__).resolve().parents[4]
#: A window whose picture fails at its third painting, in a process of its own.
FAULTY = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget
from app.window.views.painting import painting

class Picture(QWidget):
    times = 0
    def paintEvent(self, event):
        with painting(self) as painter:
            painter.drawLine(0, 0, 10, 10)
            Picture.times += 1
            if Picture.times >= 3:
                raise ValueError("a fault in a picture")

told = []
sys.excepthook = lambda *fault: told.append(fault)  # keeps the traceback, as a report does
application = QApplication([])
application.setQuitOnLastWindowClosed(False)
left, kept = 15, []

def once_more():
    global left
    left -= 1
    if not left:
        application.quit()
        return
    outside = QWidget()
    Picture(outside)
    kept.append(outside)
    outside.show()
    QTimer.singleShot(25, outside.deleteLater)
    QTimer.singleShot(30, once_more)

QTimer.singleShot(0, once_more)
application.exec()
print(len(told) > 3)
"""


def test_a_fault_in_a_picture_does_not_end_the_program():
    done = subprocess.run(
        [sys.executable, "-c", FAULTY], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False
    )
    assert (done.returncode, done.stdout.strip()) == (0, "True"), done.stderr[-2000:]
    for words in ("active painter", "being painted"):  # what Qt says before it falls
        assert words not in done.stderr


def test_a_painter_is_ended_by_a_fault(qtbot):
    picture = QPixmap(20, 20)
    with pytest.raises(ValueError, match="fault"), painting(picture) as painter:
        raise ValueError("fault")
    assert not painter.isActive()
    assert not picture.paintingActive()


def test_every_picture_of_the_window_is_painted_so():
    """A painter made by hand stays at work where its picture fails (a printer's is ended by hand)."""
    own = {"app/window/views/painting.py", "app/window/pages/sheet/printing.py"}
    made = re.compile(r"(?<!class )\bQPainter\(")
    files = sorted((ROOT / "app").rglob("*.py"))
    found = {str(file.relative_to(ROOT)) for file in files if made.search(file.read_text(encoding="utf-8"))}
    assert found == own


def test_a_widget_is_painted_on(qtbot):
    class Filled(QWidget):
        def paintEvent(self, _event: object) -> None:  # noqa: N802
            with painting(self) as painter:
                painter.fillRect(self.rect(), "#123456")

    widget = Filled()
    qtbot.addWidget(widget)
    widget.resize(10, 10)
    assert widget.grab().toImage().pixelColor(5, 5).name() == "#123456"
