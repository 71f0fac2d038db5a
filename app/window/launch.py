"""Opening the workbench: which plan, which look, and the event loop."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from app.settings import recall
from app.window.frame.error_dialog import ExceptionWatch
from app.window.frame.main_window import MainWindow
from app.window.frame.plan_files import demo_plan
from app.window.look.scheme import font, load_fonts
from app.window.state.collector import resume_collection
from core.base.errors import NorthkeyError
from core.plan.document import Plan
from core.plan.storage import read_plan

#: By then the window is on the screen with its first result, or something large is being worked out.
_STARTED_MS = 3000


def first_plan(last: Path | None) -> tuple[Plan, Path | None, str]:
    """The plan of last time if its file still reads, else the demo; and why it is the demo, or empty."""
    if last is not None:
        try:
            return read_plan(last), last, ""
        except NorthkeyError as error:
            return demo_plan(), None, f"The plan of last time was not opened, this is the demo. {error}"
    return demo_plan(), None, ""


def make_application() -> QApplication:
    """The application with the program's font and plain style, so that it looks the same everywhere."""
    application = QApplication.instance() or QApplication(["northkey"])
    assert isinstance(application, QApplication)
    application.setApplicationName("Northkey")
    application.setStyle("Fusion")
    load_fonts()
    application.setFont(font(10))
    return application


def make_window(path: Path | None) -> MainWindow:
    """The window on a plan file, on the plan of last time, or on the demo.

    Raises:
        PlanError: the file named cannot be read.
    """
    kept = recall()
    plan, source, told = (read_plan(path), path, "") if path is not None else first_plan(kept.last_plan)
    window = MainWindow(plan, source, kept=kept)
    QTimer.singleShot(_STARTED_MS, resume_collection)
    if told:
        window.tell_error("Plan of last time", told)
    return window


def open_workbench(path: Path | None) -> int:
    """Run the window until it is closed; returns the exit code.

    Raises:
        PlanError: the plan named on the command line cannot be read.
    """
    application = make_application()
    window = make_window(path)
    watch = ExceptionWatch(window)
    watch.caught.connect(window.tell_unexpected)
    watch.start()
    window.show()
    code = application.exec()
    watch.stop()
    return code
