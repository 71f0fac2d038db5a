"""The main job by key and mouse, in the real program on a real display; run by test_whole_job.

    python -m tests.app.window.whole_job_driver PLAN ELEMENTS FOLDER

Starts the program on PLAN as its command does, works it as an operator would, and leaves in FOLDER the saved
plan, the sheet and ``told.json`` with what was seen on the way. Exit code 3 where a step did not come about.
"""

from __future__ import annotations

import faulthandler
import json
import os
import sys
import time
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QLineEdit, QMessageBox, QWidget

from app.main import main
from app.window.frame.main_window import MainWindow
from app.window.launch import make_application

Condition = Callable[[], bool]
_PATIENCE_S = 40.0
_LEFT = Qt.MouseButton.LeftButton


class Job:
    """One step after the other; each waits for what it needs to see."""

    def __init__(self, elements: Path, folder: Path) -> None:
        self.elements, self.folder = elements, folder
        self.told: dict[str, Any] = {"platform": QApplication.platformName()}
        self.steps = self.run()
        self.wanted: Condition = lambda: True
        self.since = time.monotonic()
        self.timer = QTimer()
        self.timer.setInterval(20)
        self.timer.timeout.connect(self.go_on)
        self.timer.start()
        # What holds up a step from inside, as a message box does, holds up its timer too: another sees it.
        self.watch = QTimer()
        self.watch.setInterval(1000)
        self.watch.timeout.connect(self.look_for_messages)
        self.watch.start()

    def look_for_messages(self) -> None:
        """End where a step is held up from inside, with the messages that wait for somebody."""
        if time.monotonic() - self.since < _PATIENCE_S + 2.0:
            return
        boxes = [w for w in QApplication.topLevelWidgets() if isinstance(w, QMessageBox) and w.isVisible()]
        print(f"messages: {[box.text() for box in boxes]}", file=sys.stderr)
        traceback.print_stack()
        print(f"after: {self.told}", file=sys.stderr, flush=True)
        os._exit(3)

    def go_on(self) -> None:
        """The next step, if what the last one waits for is there."""
        try:
            if self.wanted():
                self.since = time.monotonic()
                self.wanted = next(self.steps)
            elif time.monotonic() - self.since > _PATIENCE_S:
                raise TimeoutError("the step did not come about")
        except BaseException:
            traceback.print_exc()
            print(f"at: {self.place()}\nafter: {self.told}", file=sys.stderr, flush=True)
            os._exit(3)

    def place(self) -> str:
        """Where the job stands: the innermost step's function and line."""
        step: Any = self.steps
        while getattr(step, "gi_yieldfrom", None) is not None:
            step = step.gi_yieldfrom
        frame = getattr(step, "gi_frame", None)
        focus = QApplication.focusWidget()
        where = f"{frame.f_code.co_name}, line {frame.f_lineno}" if frame else "the end"
        texts = [
            label.text() for label in self.window.findChildren(QLabel) if label.isVisible() and label.text()
        ]
        return f"{where}; active {QApplication.activeWindow()}, focus {focus}; to be read: {texts}"

    # --- the operator's hands -----------------------------------------------------------------------------

    @property
    def window(self) -> MainWindow:
        return next(w for w in QApplication.topLevelWidgets() if isinstance(w, MainWindow))

    def keys(self, chord: str) -> Iterator[Condition]:
        """A chord to the window; without a window manager nothing but asking makes it the active one."""
        window = self.window
        window.activateWindow()
        yield window.isActiveWindow
        pressed = QKeySequence(chord)[0]
        QTest.keyClick(window, pressed.key(), pressed.keyboardModifiers())

    def click(self, widget: QWidget, place: QPoint | None = None) -> None:
        """The left button on a widget that is to be seen."""
        assert widget.isVisible()
        QTest.mouseClick(widget, _LEFT, pos=place or widget.rect().center())

    def type_into(self, field: QLineEdit, text: str) -> None:
        """Replace what stands in a field."""
        self.click(field)
        field.selectAll()
        QTest.keyClicks(field, text)
        QTest.keyClick(field, Qt.Key.Key_Return)

    def file_dialog(self) -> QFileDialog | None:
        """The file dialog that stands open."""
        return next((d for d in self.window.findChildren(QFileDialog) if d.isVisible()), None)

    def name_file(self, path: Path) -> Iterator[Condition]:
        """Put a path into the file dialog in one go, as if pasted: typed keys set its completer off.

        The dialog reads its folder meanwhile and may then put its own name back: the path has to stand.
        """
        dialog = self.file_dialog()
        assert dialog is not None
        field = dialog.findChild(QLineEdit)
        self.click(field)
        seen: list[bool] = []

        def stands() -> bool:
            seen.append(field.text() == str(path))
            if not seen[-1]:
                field.selectAll()
                field.insert(str(path))
            return len(seen) > 5 and all(seen[-5:])

        yield stands
        QTest.keyClick(field, Qt.Key.Key_Return)

    def worked_out(self) -> bool:
        """The present plan is worked out, studied and shown, and every page is built."""
        window = self.window
        current = window.context.result_plan == window.document.plan
        return current and not window.runner.waited_for and len(window.pages) == len(window.rail.items)

    # --- the job ------------------------------------------------------------------------------------------

    def run(self) -> Iterator[Condition]:
        """An evening from import to paper."""
        yield lambda: any(isinstance(w, MainWindow) and w.isVisible() for w in QApplication.topLevelWidgets())
        yield self.worked_out
        self.told["first title"] = self.window.windowTitle()
        for part in (self.import_elements, self.type_the_place, self.drag_the_keyway, self.pick_a_pass):
            yield from part()
            yield self.worked_out
        for part in (self.make_the_sheet, self.save_and_reopen):
            yield from part()
        (self.folder / "told.json").write_text(json.dumps(self.told))
        yield from self.keys("Ctrl+Q")
        yield lambda: False  # the program ends by itself

    def import_elements(self) -> Iterator[Condition]:
        """By the dialog."""
        yield from self.keys("Ctrl+I")
        yield lambda: self.file_dialog() is not None
        yield from self.name_file(self.elements)
        yield lambda: len(self.window.document.plan.satellites) == 3
        self.told["news"] = self.window.page("Satellites").news.text()

    def type_the_place(self) -> Iterator[Condition]:
        """Latitude and longitude, west negative."""
        self.click(self.window.rail.items["Site"])
        place = self.window.page("Site").place
        yield place.latitude.isVisible
        self.type_into(place.latitude, "46.5")
        yield self.worked_out
        self.type_into(place.longitude, "-8.25")

    def drag_the_keyway(self) -> Iterator[Condition]:
        """By 45 degrees, in steps of three."""
        yield from self.keys("Ctrl+7")
        station = self.window.page("Keyway").station
        yield station.isVisible
        before = self.window.document.plan.mount.keyway_bearing_deg

        def at(bearing: float) -> QPoint:
            disc = station.disc()
            point: QPoint = disc.point(bearing, disc.radius).toPoint()
            return point

        QTest.mousePress(station, _LEFT, pos=at(before))
        for step in range(1, 16):
            QTest.mouseMove(station, at(before + 3.0 * step))
            yield lambda: True
        QTest.mouseRelease(station, _LEFT, pos=at(before + 45.0))
        yield self.worked_out
        self.told["undo after the drag"] = self.window.document.undo_label

    def pick_a_pass(self) -> Iterator[Condition]:
        """The first one of the list."""
        yield from self.keys("Ctrl+6")
        table = self.window.page("Evening").table
        yield table.isVisible
        cell = table.model().index(0, 0)
        self.click(table.viewport(), table.visualRect(cell).center())
        yield lambda: len(self.window.document.plan.picks) == 1

    def make_the_sheet(self) -> Iterator[Condition]:
        """As PDF."""
        window = self.window
        self.click(window.rail.items["Sheet"])
        sheet = window.page("Sheet")
        yield lambda: sheet.pages is not None and sheet.pages.plan == window.document.plan
        self.told["pages"] = len(sheet.pages.pictures)
        self.click(sheet.save_button)
        yield lambda: self.file_dialog() is not None
        yield from self.name_file(self.folder / "sheet.pdf")
        yield lambda: (self.folder / "sheet.pdf").exists() and not window.runner.waited_for

    def save_and_reopen(self) -> Iterator[Condition]:
        """Beside the first file; then undone and done again, and the file opened once more."""
        window, document = self.window, self.window.document
        yield from self.keys("Ctrl+Shift+S")
        yield lambda: self.file_dialog() is not None
        yield from self.name_file(self.folder / "saved.northkey.json")
        yield lambda: not document.unsaved
        self.told["identity"] = window.context.result.identity
        saved = document.plan
        yield from self.keys("Ctrl+Z")
        yield lambda: document.plan != saved and self.worked_out()
        yield from self.keys("Ctrl+Shift+Z")
        yield lambda: document.plan == saved and self.worked_out()
        yield from self.keys("Ctrl+O")
        yield lambda: self.file_dialog() is not None
        yield from self.name_file(self.folder / "saved.northkey.json")
        yield lambda: not document.undo_label and self.worked_out()
        assert document.plan == saved
        self.told["last title"] = window.windowTitle()
        self.told["identity again"] = window.context.result.identity


if __name__ == "__main__":
    faulthandler.enable()
    plan_file, element_file, told_folder = sys.argv[1:]
    make_application()
    job = Job(Path(element_file), Path(told_folder))
    sys.exit(main([plan_file]))
