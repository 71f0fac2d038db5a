"""Opening the workbench: its look, and the event loop."""

from __future__ import annotations

import os
from functools import partial

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from app.opening import Opening
from app.settings import spares_folder
from app.window.frame.end_signals import EndSignals
from app.window.frame.errors import ExceptionWatch
from app.window.frame.main_window import MainWindow
from app.window.look.scheme import font, load_fonts

#: So long the first picture may wait for a result that is worked out already beside the window.
_BLINK_MS = 60
#: By then the first picture is there, and what was left behind may be looked for.
_LEFT_BEHIND_MS = 400
#: A program that a signal ended says so by this and the signal's number.
_SIGNALLED = 128


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
    window = MainWindow(
        opening.plan, opening.path, kept=opening.kept, ahead=opening.ahead, spares=spares_folder()
    )
    QTimer.singleShot(_LEFT_BEHIND_MS, window.keeping.offer_left_behind)
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
        for part in window.findChildren(QWidget):  # while there is nothing to do but wait
            part.ensurePolished()
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
    signals = EndSignals(window)
    signals.asked.connect(partial(_end, window))
    application.commitDataRequest.connect(lambda _manager: window.keeping.keep_now())
    show_first(window, opening)
    code = application.exec()
    watch.stop()
    signals.close()
    return code


def _end(window: MainWindow, number: int) -> None:
    """The system's signal: what is in no file is kept, and the program ends as it is asked to."""
    code = _SIGNALLED + number
    if not window.end_now():
        os._exit(code)  # a job that does not end holds the thread, and with it the end of the program
    QApplication.exit(code)
