"""Pages of the window with a full evening, and a hand that drags on them; offscreen, 1920x1080.

A step is what the operator waits for: the mouse event, all that follows from it, and the repaint. It is timed
by the processor time of the window's own thread, which is the wait itself where nothing else runs.
"""

from __future__ import annotations

import gc
import math
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from time import thread_time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEvent, QPointF, Qt, qInstallMessageHandler
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from app.window.launch import make_application
from app.window.look.scheme import LIGHT
from app.window.look.style import palette, style_sheet
from app.window.page import Page
from app.window.pages.evening.page import EveningPage
from app.window.pages.keyway.page import KeywayPage
from app.window.pages.site.page import SitePage
from app.window.state.context import Context
from app.window.state.document import Document
from app.window.state.runner import Runner
from core.base.memo import Memo
from core.evaluate import evaluate
from core.plan.document import Plan
from core.studies import orient

SIZE = (1920, 1080)
STEPS = 300
REBUILDS = 15

#: Seconds of each step.
Times = list[float]


@dataclass(frozen=True)
class Scene:
    """The application with a plan worked out and studied."""

    application: QApplication
    context: Context

    def shown(self, kind: type[Page]) -> Page:
        """A page on the screen, with nothing left to be done."""
        page = kind(self.context)
        page.setPalette(palette(LIGHT))
        page.setStyleSheet(style_sheet(LIGHT))
        page.resize(*SIZE)
        page.show()
        page.refresh()
        self.settle()
        return page

    def settle(self) -> None:
        """Wait for the worker, and for what it brought to be painted."""
        while self.context.runner.busy_words:
            QTest.qWait(5)
        self.application.processEvents()

    def steps(self, step: Callable[[int], object], count: int) -> Times:
        """Seconds of each step with its repaint."""
        times = []
        for number in range(count):
            begin = thread_time()
            step(number)
            self.application.processEvents()
            times.append(thread_time() - begin)
        return times


def _tell_but_for_the_platform(_kind: object, _where: object, words: str) -> None:
    """Qt's messages on standard error, but what it says of the offscreen platform whatever one does."""
    if "propagateSizeHints" not in words:
        print(words, file=sys.stderr)


@contextmanager
def scene(plan: Plan) -> Iterator[Scene]:
    """The plan as the window has it, worked out and studied."""
    qInstallMessageHandler(_tell_but_for_the_platform)
    application = make_application()
    memo, runner = Memo(), Runner()
    result = evaluate(plan, memo)
    study = orient(plan, result, memo)
    context = Context(Document(plan), runner, now_utc_s=plan.evening.start_utc_s)
    context.result, context.result_plan = result, plan
    context.study, context.study_plan = study, plan
    gc.collect()
    gc.freeze()  # as the window does after every job
    try:
        yield Scene(application, context)
    finally:
        runner.close()
        gc.unfreeze()


def empty_repaints(here: Scene) -> Times:
    """An empty widget of the same size, painted again."""
    widget = QWidget()
    widget.resize(*SIZE)
    widget.show()
    here.application.processEvents()
    times = here.steps(lambda _number: widget.repaint(), STEPS)
    widget.close()
    return times


def keyway_turned(here: Scene) -> Times:
    """The keyway dragged round by its handle."""
    page = here.shown(KeywayPage)
    assert isinstance(page, KeywayPage)
    disc = page.station.disc()

    def place(number: float) -> QPointF:
        return disc.point(184.0 + 0.7 * number, disc.radius)

    times = _dragged(here, page.station, place)
    assert page.now.live_deg is not None or page.context.document.undo_label, "nothing was turned"
    page.close()
    return times


def horizon_point_moved(here: Scene) -> Times:
    """One of forty horizon points dragged up and down and aside, with what the mask costs told meanwhile."""
    page = here.shown(SitePage)
    assert isinstance(page, SitePage)
    panorama, axes = page.panorama, page.panorama.axes()
    told = page.cost.text()
    point = panorama.points[20]
    m_deg = (point.azimuth_deg - axes.zeta) % 360.0
    start = axes.point(m_deg, point.elevation_deg)

    def place(number: float) -> QPointF:
        return start + QPointF(40.0 * math.sin(number / 15.0), -30.0 * (1.0 - math.cos(number / 15.0)))

    times = _dragged(here, panorama, place)
    assert told
    page.close()
    return times


def moment_marked(here: Scene) -> Times:
    """The hand going over the strokes of the dial: the moment is marked in every view and read off."""
    page = here.shown(EveningPage)
    assert isinstance(page, EveningPage)
    dial = page.dial

    def move(number: int) -> None:
        share = number / STEPS
        across, down = 70.0 + share * (dial.width() - 180.0), 40.0 + (number * 37) % (dial.height() - 90.0)
        _mouse(dial, QEvent.Type.MouseMove, QPointF(across, down), Qt.MouseButton.NoButton)

    times = here.steps(move, STEPS)
    assert here.context.pointer.moment_s is not None, "the hand marked no moment"
    page.close()
    return times


def layers_afresh(here: Scene) -> dict[str, Times]:
    """The Evening page: all fixed layers painted again, a zoom, and a whole resize."""
    page = here.shown(EveningPage)
    assert isinstance(page, EveningPage)
    state, views = page.state, (page.hills, page.dial, page.opened.polar, page.opened.strips)

    def layers(_number: int) -> None:
        for view in views:
            view.invalidate()

    def zoom(_number: int) -> None:
        state.zoom(0.97, state.shown_s[0] + 3600.0)

    found = {"all fixed layers": here.steps(layers, REBUILDS)}
    found["resize"] = here.steps(lambda number: page.resize(SIZE[0] - 1 - number, SIZE[1]), REBUILDS)
    found["zoom"] = here.steps(zoom, REBUILDS)
    page.close()
    return found


def _dragged(here: Scene, widget: QWidget, place: Callable[[float], QPointF]) -> Times:
    _mouse(widget, QEvent.Type.MouseButtonPress, place(0.0), Qt.MouseButton.LeftButton)
    times = here.steps(
        lambda number: _mouse(widget, QEvent.Type.MouseMove, place(number + 1.0), Qt.MouseButton.LeftButton),
        STEPS,
    )
    _mouse(widget, QEvent.Type.MouseButtonRelease, place(STEPS), Qt.MouseButton.NoButton)
    return times


def _mouse(widget: QWidget, kind: QEvent.Type, place: QPointF, held: Qt.MouseButton) -> None:
    button = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else Qt.MouseButton.LeftButton
    on_screen = QPointF(widget.mapToGlobal(place))
    event = QMouseEvent(kind, place, on_screen, button, held, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(widget, event)
