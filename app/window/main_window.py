"""The window: it wires document, runner, pages and bars together, and thinks nothing itself."""

from __future__ import annotations

import importlib.resources
import time
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QAction, QActionGroup, QCloseEvent, QDragEnterEvent, QDropEvent, QKeySequence
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QHBoxLayout,
    QMainWindow,
    QMessageBox,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.settings import Remembered, recall, remember
from app.window.actions import ACTS, PAGES
from app.window.bars import Foot, Head, Rail
from app.window.context import Context
from app.window.document import Document
from app.window.head_words import head_words
from app.window.page import Page
from app.window.pages.evening import EveningPage
from app.window.pages.keyway import KeywayPage
from app.window.pages.later import RunPage, SetupPage
from app.window.pages.mount import MountPage
from app.window.pages.satellites import SatellitesPage
from app.window.pages.sheet import SheetPage
from app.window.pages.site import SitePage
from app.window.problem import ProblemDialog
from app.window.runner import Runner
from app.window.scheme import SCHEMES, palette, style_sheet
from core.errors import NorthkeyError
from core.evaluate import Result, evaluate, orient
from core.plan import Plan
from core.storage import plan_from_text

_PAGE_CLASSES: tuple[type[Page], ...] = (
    SitePage,
    SatellitesPage,
    MountPage,
    EveningPage,
    KeywayPage,
    SetupPage,
    SheetPage,
    RunPage,
)
_PLAN_FILTER = "Northkey plans (*.northkey.json);;All files (*)"


def demo_plan() -> Plan:
    """The bundled demo."""
    name = "larch_ridge.northkey.json"
    return plan_from_text(
        importlib.resources.files("resources").joinpath("demo", name).read_text("utf-8"), name
    )


class MainWindow(QMainWindow):
    """One window, one plan."""

    def __init__(self, plan: Plan, path: Path | None = None, clock: Callable[[], float] = time.time) -> None:
        super().__init__()
        self._clock = clock
        self.document = Document(plan, path, self)
        self.runner = Runner(self)
        self.context = Context(self.document, self.runner, now_utc_s=clock())
        self.head, self.foot = Head(), Foot()
        self.rail = Rail(PAGES, self.context.scheme)
        self.stack = QStackedWidget()
        self.pages: dict[str, Page] = {}
        self._build()
        self._connect()
        self.set_scheme("light")
        self.open_page("Evening")
        self._show_state()
        self._evaluate()

    def _build(self) -> None:
        for kind in _PAGE_CLASSES:
            page = kind(self.context)
            self.pages[page.title] = page
            self.stack.addWidget(page)
        middle = QHBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(self.rail)
        middle.addWidget(self.stack, 1)
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addLayout(middle, 1)
        column.addWidget(self.foot)
        ground = QWidget()
        ground.setLayout(column)
        self.setCentralWidget(ground)
        self.setAcceptDrops(True)
        self.setMinimumSize(960, 640)
        self.actions_by_id = self._build_menus()

    def _build_menus(self) -> dict[str, QAction]:
        made: dict[str, QAction] = {}
        menus: dict[str, Any] = {}
        schemes = QActionGroup(self)
        for act in ACTS:
            menu = menus.get(act.menu) or menus.setdefault(act.menu, self.menuBar().addMenu(act.menu))
            action = menu.addAction(act.words)
            if act.keys:
                action.setShortcut(QKeySequence(act.keys))
            if act.id.startswith("scheme_"):
                action.setCheckable(True)
                schemes.addAction(action)
            action.triggered.connect(self._doer(act.id))
            made[act.id] = action
        return made

    def _doer(self, act_id: str) -> Callable[[], None]:
        kind, _, rest = act_id.partition("_")
        if kind == "page":
            return lambda: self.open_page(rest.capitalize())
        if kind == "scheme":
            return lambda: self.set_scheme(rest)
        method: Callable[[], None] = getattr(self, f"do_{act_id}")
        return method

    def _connect(self) -> None:
        self.document.plan_changed.connect(self._evaluate)
        self.document.state_changed.connect(self._show_state)
        self.runner.finished.connect(self._on_finished)
        self.runner.failed.connect(self._on_failed)
        self.runner.progressed.connect(self._on_progress)
        self.runner.busy_changed.connect(self._on_busy)
        self.rail.chosen.connect(self.open_page)
        self.foot.cancelled.connect(self.do_cancel)
        self.foot.undone.connect(self.do_undo)
        self.foot.redone.connect(self.do_redo)
        for title, page in self.pages.items():
            page.count_changed.connect(self.rail.items[title].show_count)
            page.problem.connect(self.tell_problem)
        self._tick = QTimer(self)
        self._tick.setInterval(1000)
        self._tick.timeout.connect(self._show_clock)
        self._tick.start()

    # --- evaluation ---------------------------------------------------------------------------------------

    def _evaluate(self) -> None:
        plan = self.document.plan
        words = "Working out passes and ways"
        self.runner.request("evaluate", words, lambda memo, progress: (plan, evaluate(plan, memo, progress)))
        self._refresh()

    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind == "evaluate":
            self.context.result_plan, self.context.result = answer
            self._study(*answer)
        elif kind == "study":
            self.context.study = answer
        self._refresh()

    def _study(self, plan: Plan, result: Result) -> None:
        words = "Studying the seat"
        self.runner.request("study", words, lambda memo, progress: orient(plan, result, memo, progress))

    def _on_failed(self, kind: str, error: Exception) -> None:
        if isinstance(error, NorthkeyError):
            self.foot.show_idle(str(error))
            details = ""
        else:
            details = "".join(traceback.format_exception(error))
        self.tell_problem("Cannot be worked out", str(error) or type(error).__name__, details)

    def _on_progress(self, what: str, done: int, total: int) -> None:
        self.foot.show_busy(what.capitalize(), done, total)

    def _on_busy(self, words: str) -> None:
        if words:
            self.foot.show_busy(words)
        else:
            self.foot.show_idle(self._idle_words())

    def _idle_words(self) -> str:
        result = self.context.result
        return "" if result is None else f"{len(result.passes)} passes checked, plan {result.identity}"

    # --- showing ------------------------------------------------------------------------------------------

    def _refresh(self) -> None:
        for page in self.pages.values():
            if page is self.stack.currentWidget():
                page.refresh()
            page.count_changed.emit(page.count())
        words = head_words(self.context)
        self.head.title.setText(words.title + (" *" if self.document.unsaved else ""))
        self.head.place.setText(words.place)
        self.head.hours.setText(words.hours)
        self.head.ages.setText(words.ages)

    def _show_state(self) -> None:
        self.foot.show_steps(self.document.undo_label, self.document.redo_label)
        self.actions_by_id["undo"].setEnabled(bool(self.document.undo_label))
        self.actions_by_id["redo"].setEnabled(bool(self.document.redo_label))
        name = self.document.path.name if self.document.path else "not in a file"
        self.setWindowTitle(f"{self.document.plan.title}[*] ({name}) - Northkey")
        self.setWindowModified(self.document.unsaved)
        self._refresh()

    def _show_clock(self) -> None:
        self.context.now_utc_s = self._clock()
        self.head.clock.setText(time.strftime("%H:%M:%S UTC", time.gmtime(self.context.now_utc_s)))

    def open_page(self, title: str) -> None:
        """Show one of the pages."""
        page = self.pages[title]
        self.stack.setCurrentWidget(page)
        self.rail.show_current(title)
        page.refresh()

    def set_scheme(self, name: str) -> None:
        """Light, dark or dusk."""
        scheme = SCHEMES.get(name, SCHEMES["light"])
        self.context.scheme = scheme
        self.setPalette(palette(scheme))
        self.setStyleSheet(style_sheet(scheme))
        self.rail.set_scheme(scheme)
        self.actions_by_id[f"scheme_{scheme.name}"].setChecked(True)
        for page in self.pages.values():
            page.refresh()

    def tell_problem(self, title: str, sentence: str, details: str = "") -> None:
        """The one dialog for errors."""
        dialog = ProblemDialog(title, sentence, details, self)
        dialog.open()

    # --- what the menus do --------------------------------------------------------------------------------

    def do_undo(self) -> None:
        """Take the last edit back."""
        self.document.undo()

    def do_redo(self) -> None:
        """Bring it again."""
        self.document.redo()

    def do_cancel(self) -> None:
        """Stop what is being computed."""
        self.runner.cancel()

    def do_find(self) -> None:
        """To the find field."""
        self.head.find_field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.head.find_field.selectAll()

    def do_open(self) -> None:
        """Ask for a plan file and open it."""
        dialog = QFileDialog(self, "Open plan", self._folder(), _PLAN_FILTER)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda name: self.open_plan(Path(name)))
        self._after_unsaved(dialog.open)

    def open_plan(self, path: Path) -> None:
        """Open a plan file; a bad one is told and changes nothing."""
        try:
            self.document.open(path)
        except NorthkeyError as error:
            self.tell_problem("Plan not opened", str(error))

    def do_save(self) -> None:
        """Write the plan to its file."""
        if self.document.path is None:
            self.do_save_as()
        else:
            self.save_plan(self.document.path)

    def do_save_as(self) -> None:
        """Ask for a file and write the plan to it."""
        dialog = QFileDialog(self, "Save plan as", self._folder(), _PLAN_FILTER)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix("northkey.json")
        dialog.fileSelected.connect(lambda name: self.save_plan(Path(name)))
        dialog.open()

    def save_plan(self, path: Path) -> None:
        """Write the plan; what goes wrong is told."""
        try:
            self.document.save(path)
        except NorthkeyError as error:
            self.tell_problem("Plan not saved", str(error))

    def do_import_elements(self) -> None:
        """To the page that takes element files in."""
        self.open_page("Satellites")
        page = self.pages["Satellites"]
        if isinstance(page, SatellitesPage):
            page.ask_for_files()

    def do_new(self) -> None:
        """A plan with tonight's hours at the present site and mount, and no satellites."""
        self._after_unsaved(self._start_new)

    def _start_new(self) -> None:
        fresh = self.document.plan.model_copy(
            update={"title": "Untitled evening", "satellites": (), "picks": (), "sightings": (), "notes": ""}
        )
        self.document.start(fresh)

    def do_demo(self) -> None:
        """The demo plan, unsaved."""
        self._after_unsaved(lambda: self.document.start(demo_plan()))

    def do_quit(self) -> None:
        """Close the window."""
        self.close()

    def _folder(self) -> str:
        return str(self.document.path.parent) if self.document.path else str(Path.home())

    def _after_unsaved(self, go_on: Callable[[], None]) -> None:
        """Go on at once, or ask first where edits would be lost."""
        if not self.document.unsaved:
            go_on()
            return
        box = QMessageBox(self)
        box.setText("This plan has edits that are in no file.")
        box.setInformativeText("Going on loses them.")
        go = box.addButton("Go on without saving", QMessageBox.ButtonRole.DestructiveRole)
        box.addButton("Stay", QMessageBox.ButtonRole.RejectRole)
        go.clicked.connect(go_on)
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.open()

    # --- drops and the end --------------------------------------------------------------------------------

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        files = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        plans = [path for path in files if path.name.endswith(".northkey.json")]
        if plans:
            self._after_unsaved(lambda: self.open_plan(plans[0]))
        elif files:
            self.open_page("Satellites")
            page = self.pages["Satellites"]
            if isinstance(page, SatellitesPage):
                page.take_files(files)

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.document.unsaved and not self.property("closing"):
            event.ignore()
            self._after_unsaved(self._close_now)
            return
        self._tick.stop()
        self.runner.close()
        page = self.stack.currentWidget()
        title = page.title if isinstance(page, Page) else "Evening"
        remember(Remembered(self.document.path, self.context.scheme.name, title, self.saveGeometry()))
        event.accept()

    def _close_now(self) -> None:
        self.setProperty("closing", True)
        self.close()


def first_plan() -> tuple[Plan, Path | None]:
    """The plan of last time if its file still reads, else the demo."""
    last = recall().last_plan
    if last is not None:
        from core.storage import read_plan

        try:
            return read_plan(last), last
        except NorthkeyError:
            pass
    return demo_plan(), None


def open_workbench(path: Path | None) -> int:
    """Run the window until it is closed; returns the exit code.

    Raises:
        NorthkeyError: the plan named on the command line cannot be read.
    """
    from app.window.problem import ExceptionWatch
    from app.window.scheme import font, load_fonts
    from core.storage import read_plan

    plan, source = (read_plan(path), path) if path is not None else first_plan()
    application = QApplication.instance() or QApplication(["northkey"])
    assert isinstance(application, QApplication)
    application.setApplicationName("Northkey")
    load_fonts()
    application.setFont(font(10))
    window = MainWindow(plan, source)
    watch = ExceptionWatch(window)
    watch.caught.connect(lambda sentence, details: window.tell_problem("Unexpected", sentence, details))
    watch.start()
    kept = recall()
    window.set_scheme(kept.scheme)
    if kept.page in PAGES:
        window.open_page(kept.page)
    if not kept.geometry.isEmpty():
        window.restoreGeometry(kept.geometry)
    else:
        window.resize(1360, 860)
    window.show()
    code = application.exec()
    watch.stop()
    return code
