"""What every test of the window runs under: its own settings file, and nothing left behind.

Only tests that use Qt are watched. A test that leaves a running thread, a running timer, an unowned top-level
widget or a Qt warning fails, and the message names the line that started it.
"""

from __future__ import annotations

import gc
import os
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
import shiboken6
from PySide6.QtCore import QCoreApplication, QEvent, QObject, QThread, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from app.settings import Remembered
from app.window.frame.main_window import MainWindow
from app.window.frame.shelf import Shelf
from app.window.launch import make_application
from app.window.look.scheme import LIGHT, use_type
from app.window.state.context import Context
from app.window.state.document import Document
from app.window.state.evaluation import Evaluation
from app.window.state.runner import Runner
from core.base.memo import Memo
from core.base.times import parse_iso
from core.plan.document import Plan
from core.studies import orient
from tests.app.window.pages.evening.page_object import EveningHand
from tests.evening_plans import full_evening_plan
from tests.lasting import MEMO, result_of
from tests.set_once import sheets_set_once

#: What Qt says under the offscreen platform whatever one does.
QT_MAY_SAY = ("propagateSizeHints", "This plugin does not support")
#: What the windows' runners remember from test to test, each in its thread while its window is there.
RUNNERS_MEMO = Memo(kept=32)
#: The window's clock in tests: within the evening of tests.plans.
NOW_UTC_S = parse_iso("2024-11-01T17:42:08Z")


@pytest.fixture(scope="session", autouse=True)
def typesetter() -> Iterator[None]:
    """A window that shows the Sheet page begins to set it, and could not be closed before it is done."""
    with sheets_set_once():
        yield


@pytest.fixture(autouse=True)
def settings_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A settings file of the test's own."""
    path = tmp_path / "settings" / "northkey.ini"
    monkeypatch.setenv("NORTHKEY_SETTINGS", str(path))
    return path


@pytest.fixture(autouse=True)
def no_collection_inside_qt() -> Iterator[None]:
    """Nothing is collected by itself while a test has widgets, as in the program (`gui_collector`).

    Qt holds its lock of signals while it asks Python whether a method is overridden; a collection begun by
    that question destroys widgets, which want the same lock: the test then hangs for ever, or falls.
    """
    gc.disable()
    yield
    gc.enable()


@pytest.fixture(scope="session")
def dressed_application(qapp: QApplication) -> QApplication:
    """The application with the program's font and style."""
    return make_application()


def _starter() -> str:
    """The innermost line outside this file that led here."""
    lines = [frame for frame in traceback.extract_stack() if Path(frame.filename).name != "conftest.py"]
    frame = lines[-1]
    return f"{frame.filename}:{frame.lineno}: {frame.line}"


class Watch:
    """Remembers who started what."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.started: list[tuple[QObject, str]] = []
        for kind in (QThread, QTimer):
            monkeypatch.setattr(kind, "start", self._watched(kind.start))

    def _watched(self, start: Callable[..., None]) -> Callable[..., None]:
        def watched(thing: QObject, *arguments: object) -> None:
            self.started.append((thing, _starter()))
            start(thing, *arguments)

        return watched

    def left_running(self) -> list[str]:
        """Threads and timers that still run, with the line that started each."""
        told = []
        for thing, line in self.started:
            if not shiboken6.isValid(thing):
                continue
            running = thing.isRunning() if isinstance(thing, QThread) else thing.isActive()
            if running:
                told.append(f"{type(thing).__name__} started at {line}")
        return told


def unowned(before: set[int]) -> list[str]:
    """Top-level widgets without a parent that were not there before."""
    return [
        f"{type(widget).__name__} {widget.objectName() or widget.windowTitle() or widget.accessibleName()!r}"
        for widget in QApplication.topLevelWidgets()
        if widget.parent() is None and key_of(widget) not in before
    ]


def key_of(widget: QWidget) -> int:
    return int(shiboken6.getCppPointer(widget)[0])


def _settle() -> None:
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


@pytest.fixture(autouse=True)
def nothing_left(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Fail the test that leaves something behind."""
    if not {"qapp", "qtbot"} & set(request.fixturenames):
        yield
        return
    request.getfixturevalue("dressed_application")
    use_type(LIGHT)  # a window of the test before may have left it otherwise
    log = request.getfixturevalue("qtlog")
    watch = Watch(monkeypatch)
    before = {key_of(widget) for widget in QApplication.topLevelWidgets()}
    yield
    _settle()
    left = unowned(before)
    if left:  # those that only wait for Python's collector are not left
        gc.collect()
        _settle()
        left = unowned(before)
    said = [
        record.message
        for record in log.records
        if record.type_name not in {"QtDebugMsg", "QtInfoMsg"}
        and not any(word in record.message for word in QT_MAY_SAY)
    ]
    left += watch.left_running() + [f"Qt said: {message}" for message in said]
    if left:
        pytest.fail("left behind: " + "; ".join(left))


@pytest.fixture
def context_of() -> Iterator[Callable[..., Context]]:
    """Makes the context of a plan, worked out unless asked not to; its runner is ended with the test."""
    made: list[Context] = []

    def make(plan: Plan, worked_out: bool = True) -> Context:
        context = Context(Document(plan), Runner(), now_utc_s=NOW_UTC_S)
        made.append(context)
        if worked_out:
            work_out(context)
        return context

    yield make
    for context in made:
        context.runner.close()


def work_out(context: Context) -> None:
    """What the window does when the plan changed, at once."""
    context.result = result_of(context.plan)
    context.result_plan = context.plan
    context.study = orient(context.plan, context.result, MEMO)
    context.study_plan = context.plan


@pytest.fixture
def window_of(qtbot, monkeypatch) -> Callable[..., MainWindow]:
    """Makes the window on a plan and waits for its first result and its study, unless asked not to.

    What such a window has worked out is remembered for the tests to come; ``cold``, or not waited for, it
    begins with an empty memo, as the program does. The evenings of other seats are weighed only where a test
    asks for it (``weighs``): they take longer than all the rest. Not ``whole``, pages are built as they are
    asked for; building those that nobody opens takes half of a window's time.
    """

    def make(
        plan: Plan,
        path: Path | None = None,
        wait: bool = True,
        cold: bool = False,
        weighs: bool = False,
        whole: bool = True,
        **kept: object,
    ) -> MainWindow:
        if not weighs:
            monkeypatch.setattr(Evaluation, "request_by_evening", lambda _evaluation: None)
        if not whole:
            monkeypatch.setattr(Shelf, "build_rest", lambda _shelf: None)
        with monkeypatch.context() as patched:
            if wait and not cold:
                patched.setattr("app.window.state.runner.Memo", lambda: RUNNERS_MEMO)
            window = MainWindow(plan, path, clock=lambda: NOW_UTC_S, kept=Remembered(**kept))  # type: ignore[arg-type]
        qtbot.addWidget(window, before_close_func=_without_asking)
        window.show()
        if wait:
            qtbot.waitUntil(lambda: is_idle(window, whole), timeout=30_000)
        return window

    return make


@pytest.fixture
def full(qtbot) -> Iterator[EveningHand]:
    """The Evening page alone with 150 passes."""
    made = EveningHand(qtbot, full_evening_plan())
    yield made
    made.close()


def is_idle(window: MainWindow, whole: bool = True) -> bool:
    """Everything is worked out, but for what nobody waits for, and of a whole window every page is built."""
    all_built = not whole or len(window.pages) == len(window.rail.items)
    return window.context.study is not None and all_built and not window.runner.waited_for


def _without_asking(window: MainWindow) -> None:
    window.setProperty("closing", True)
