"""Opening the workbench: its look, and the event loop."""

from __future__ import annotations

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication

from app.opening import Opening
from app.window.frame.error_dialog import ExceptionWatch
from app.window.frame.main_window import MainWindow
from app.window.look.scheme import font, load_fonts
from app.window.state.collector import resume_collection

#: By then the window is on the screen with its first result, or something large is being worked out.
_STARTED_MS = 3000
#: So long the first picture may wait for a result that is worked out already beside the window.
_BLINK_MS = 60


def make_application() -> QApplication:
    """The application with the program's font and plain style, so that it looks the same everywhere."""
    application = QApplication.instance()
    if application is None:
        # As an argument: `setStyle` hands the style back, and its names alone take 8 ms to make.
        application = QApplication(["northkey", "-style", "Fusion"])
    else:
        assert isinstance(application, QApplication)
        application.setStyle("Fusion")
    application.setApplicationName("Northkey")
    load_fonts()
    application.setFont(font(10))
    return application


def make_window(opening: Opening) -> MainWindow:
    """The window on what it opens with."""
    window = MainWindow(opening.plan, opening.path, kept=opening.kept, ahead=opening.ahead)
    QTimer.singleShot(_STARTED_MS, resume_collection)
    if opening.told:
        window.tell_error("Plan of last time", opening.told)
    return window


def show_first(window: MainWindow, opening: Opening) -> None:
    """Show the window, with its first result where that comes within a blink.

    An empty picture just before would take a third of what the full one takes.
    """
    if opening.ahead is not None and window.runner.waited_for:
        blink = QEventLoop()
        window.runner.busy_changed.connect(blink.quit)
        QTimer.singleShot(_BLINK_MS, blink.quit)
        blink.exec()
        window.runner.busy_changed.disconnect(blink.quit)
    window.show()


def open_workbench(opening: Opening) -> int:
    """Run the window until it is closed; returns the exit code."""
    application = make_application()
    window = make_window(opening)
    watch = ExceptionWatch(window)
    watch.caught.connect(window.tell_unexpected)
    watch.start()
    show_first(window, opening)
    code = application.exec()
    watch.stop()
    return code
