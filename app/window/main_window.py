"""The window: it wires document, runner, pages and bars together, and thinks nothing itself."""

from __future__ import annotations

import importlib
import time
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, Qt, QTimer, Slot
from PySide6.QtGui import QAction, QActionGroup, QCloseEvent, QDragEnterEvent, QDropEvent, QKeySequence
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLineEdit,
    QMainWindow,
    QMenu,
    QPlainTextEdit,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.settings import Remembered, remember
from app.window.actions import ACTS, PAGES
from app.window.bars import Foot, Head
from app.window.context import Context
from app.window.document import Document
from app.window.head_words import head_words
from app.window.page import Page
from app.window.plan_files import PlanFiles, demo_plan, fresh_plan, is_plan_file
from app.window.problem import Problem, ProblemDesk
from app.window.rail import Rail
from app.window.runner import Runner
from app.window.scheme import SCHEMES, palette, style_sheet
from core.errors import NorthkeyError
from core.evaluate import Result, evaluate, orient
from core.plan import Plan

#: Where each page's class lives. A page is imported and built when it is first needed.
_PAGE_CLASSES = {
    "Site": ("app.window.pages.site", "SitePage"),
    "Satellites": ("app.window.pages.satellites", "SatellitesPage"),
    "Mount": ("app.window.pages.mount", "MountPage"),
    "Evening": ("app.window.pages.evening", "EveningPage"),
    "Keyway": ("app.window.pages.keyway", "KeywayPage"),
    "Setup": ("app.window.pages.later", "SetupPage"),
    "Sheet": ("app.window.pages.sheet", "SheetPage"),
    "Run": ("app.window.pages.later", "RunPage"),
}
#: What failed, by the kind of job.
_FAILED = {
    "evaluate": "Passes not worked out",
    "study": "Seat not studied",
    "elements": "Elements not read",
    "export elements": "Elements not written",
    "sheet": "Sheet not laid out",
    "save sheet": "Sheet not saved",
    "print sheet": "Sheet not printed",
}


class MainWindow(QMainWindow):
    """One window, one plan."""

    def __init__(
        self,
        plan: Plan,
        path: Path | None = None,
        clock: Callable[[], float] = time.time,
        kept: Remembered | None = None,
    ) -> None:
        """Start working out the plan and build the page that opens first.

        Args:
            plan: what to begin with.
            path: its file, if it is from one.
            clock: gives POSIX seconds.
            kept: scheme, page, paper and place of last time.
        """
        super().__init__()
        kept = Remembered() if kept is None else kept
        self._clock, self._paper = clock, kept.paper
        self._told: dict[str, str] = {}
        self._studied: Result | None = None
        self.document = Document(plan, path, self)
        self.runner = Runner(self)
        self.context = Context(self.document, self.runner, now_utc_s=clock())
        self.context.scheme = SCHEMES.get(kept.scheme, self.context.scheme)
        self.files = PlanFiles(self.document, self)
        self.problems = ProblemDesk(self)
        self.head, self.foot = Head(), Foot()
        self.rail = Rail(PAGES, self.context.scheme)
        self.stack = QStackedWidget()
        self.pages: dict[str, Page] = {}
        self._tick = QTimer(self)
        self._idle = QTimer(self)
        self._request_evaluation()  # the worker starts on it while the window is being built
        self._build()
        self._connect()
        self.set_scheme(self.context.scheme.name)
        self.open_page(kept.page if kept.page in PAGES else "Evening")
        self.rail.items[self.open_title].setFocus()
        self._show_state()
        self._place(kept.geometry)

    # --- building -----------------------------------------------------------------------------------------

    def _build(self) -> None:
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

    def _place(self, geometry: QByteArray) -> None:
        if geometry.isEmpty() or not self.restoreGeometry(geometry):
            self.resize(1360, 860)

    def _build_menus(self) -> dict[str, QAction]:
        made: dict[str, QAction] = {}
        menus: dict[str, QMenu] = {}
        schemes = QActionGroup(self)
        for act in ACTS:
            if act.menu not in menus:
                menus[act.menu] = self.menuBar().addMenu(act.menu)
            action = menus[act.menu].addAction(act.words)
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
        self.document.plan_changed.connect(self._on_plan)
        self.document.state_changed.connect(self._show_state)
        self.runner.finished.connect(self._on_finished)
        self.runner.failed.connect(self._on_failed)
        self.runner.progressed.connect(self._on_progress)
        self.runner.busy_changed.connect(self._on_busy)
        self.files.failed.connect(self.tell_problem)
        self.rail.chosen.connect(self.open_page)
        self.head.sought.connect(self._seek)
        self.head.find_field.returnPressed.connect(self._to_page)
        self.foot.cancelled.connect(self.do_cancel)
        self.foot.asked.connect(self.do_compute)
        self.foot.undone.connect(self.do_undo)
        self.foot.redone.connect(self.do_redo)
        self._tick.setInterval(1000)
        self._tick.timeout.connect(self._show_clock)
        self._tick.start()
        self._show_clock()
        self._idle.setInterval(0)
        self._idle.timeout.connect(self._when_painted)
        self._on_busy(self.runner.busy_words)

    def page(self, title: str) -> Page:
        """One of the pages, built now if it is asked for the first time."""
        if title not in self.pages:
            module, name = _PAGE_CLASSES[title]
            page: Page = getattr(importlib.import_module(module), name)(self.context)
            page.count_changed.connect(self.rail.items[title].show_count)
            page.problem.connect(self.tell_problem)
            go = getattr(page, "go", None)
            if go is not None:
                go.connect(self.open_page)
            if hasattr(page, "set_paper"):
                page.set_paper(self._paper)
            for field in (*page.findChildren(QLineEdit), *page.findChildren(QPlainTextEdit)):
                field.setAcceptDrops(False)  # a file dropped on a field is meant for the window
            self.pages[title] = page
            self.stack.addWidget(page)
        return self.pages[title]

    @Slot()
    def _when_painted(self) -> None:
        """What may wait until a result is painted: the study, then the pages not yet opened, one by one."""
        if self._studied is not self.context.result:
            self._studied = self.context.result
            self._study()
            return
        self._idle.stop()  # so that a page that cannot be built is told once
        left = [title for title in PAGES if title not in self.pages]
        if left:
            page = self.page(left[0])
            page.count_changed.emit(page.count())
            self._idle.start()

    # --- evaluation ---------------------------------------------------------------------------------------

    def _request_evaluation(self) -> None:
        plan = self.document.plan
        words = "Working out passes and ways"
        self.runner.request("evaluate", words, lambda memo, progress: (plan, evaluate(plan, memo, progress)))

    @Slot(object)
    def _on_plan(self, _plan: Plan) -> None:
        self._request_evaluation()
        self._refresh()

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        self._told.pop(kind, None)
        if kind == "evaluate":
            self.context.result_plan, self.context.result = answer
            self._idle.start()
        elif kind == "study":
            self.context.study = answer
        else:
            return
        self._refresh()

    def _study(self) -> None:
        plan, result = self.context.result_plan, self.context.result
        if plan is not None and result is not None and plan == self.document.plan:
            words = "Studying the seat"
            self.runner.request("study", words, lambda memo, progress: orient(plan, result, memo, progress))

    @Slot(str, object)
    def _on_failed(self, kind: str, error: Exception) -> None:
        self._idle.start()
        sentence = str(error) or type(error).__name__
        if self._told.get(kind) == sentence:  # an edit elsewhere has not cured it: said once is enough
            return
        self._told[kind] = sentence
        known = isinstance(error, NorthkeyError)
        details = "" if known else "".join(traceback.format_exception(error))
        self.tell_problem(_FAILED.get(kind, "Not done"), sentence, details)

    @Slot(str, int, int)
    def _on_progress(self, what: str, done: int, total: int) -> None:
        figures = f", {done:,} of {total:,}" if total else f", {done:,}" if done else ""
        self.foot.show_busy(f"{what.capitalize()}{figures}", done, total)

    @Slot(str)
    def _on_busy(self, words: str) -> None:
        if words:
            self.foot.show_busy(words)
        else:
            self._show_idle()

    def _show_idle(self) -> None:
        result, plan = self.context.result, self.document.plan
        if result is not None and self.context.result_plan == plan:
            self.foot.show_idle(f"{len(result.passes):,} passes checked, plan {result.identity}")
        elif "evaluate" in self._told:
            self.foot.show_idle(self._told["evaluate"], offer=True)
        else:
            shown = " What is shown is of the plan before." if result is not None else ""
            self.foot.show_idle(f"Not worked out for the present plan.{shown}", offer=True)

    # --- showing ------------------------------------------------------------------------------------------

    def _refresh(self) -> None:
        for page in self.pages.values():
            if page is self.stack.currentWidget():
                page.refresh()
            page.count_changed.emit(page.count())
        self._show_head()

    def _show_head(self) -> None:
        words = head_words(self.context)
        self.head.title.show_text(words.title + (" *" if self.document.unsaved else ""))
        self.head.place.show_text(words.place)
        self.head.hours.show_text(words.hours)
        self.head.ages.show_text(words.ages)

    @Slot()
    def _show_state(self) -> None:
        self.foot.show_steps(self.document.undo_label, self.document.redo_label)
        self.actions_by_id["undo"].setEnabled(bool(self.document.undo_label))
        self.actions_by_id["redo"].setEnabled(bool(self.document.redo_label))
        name = self.document.path.name if self.document.path else "not in a file"
        self.setWindowTitle(f"{self.document.plan.title}[*] ({name}) - Northkey")
        self.setWindowModified(self.document.unsaved)
        self._show_head()

    @Slot()
    def _show_clock(self) -> None:
        self.context.now_utc_s = self._clock()
        self.head.clock.setText(time.strftime("%H:%M:%S UTC", time.gmtime(self.context.now_utc_s)))

    @property
    def open_title(self) -> str:
        """The page that is open."""
        page = self.stack.currentWidget()
        return page.title if isinstance(page, Page) else "Evening"

    @Slot(str)
    def open_page(self, title: str) -> None:
        """Show one of the pages."""
        page = self.page(title)
        self.stack.setCurrentWidget(page)
        self.rail.show_current(title)
        page.refresh()

    def set_scheme(self, name: str) -> None:
        """Light, dark or dusk."""
        scheme = SCHEMES.get(name, SCHEMES["light"])
        self.context.scheme = scheme
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.setPalette(palette(scheme))  # dialogs and tool tips too
        self.setStyleSheet(style_sheet(scheme))
        self.rail.set_scheme(scheme)
        self.actions_by_id[f"scheme_{scheme.name}"].setChecked(True)
        for page in self.pages.values():
            page.refresh()

    @Slot(str, str)
    @Slot(str, str, str)
    def tell_problem(self, title: str, sentence: str, details: str = "") -> None:
        """The one dialog for errors."""
        self.problems.tell(Problem(title, sentence, details, self._clock()))

    @Slot(str, str)
    def tell_unexpected(self, sentence: str, details: str) -> None:
        """An exception that nobody caught."""
        self.tell_problem("Unexpected", sentence, details)

    # --- what the menus do --------------------------------------------------------------------------------

    def do_undo(self) -> None:
        """Take the last edit back."""
        self.document.undo()

    def do_redo(self) -> None:
        """Bring it again."""
        self.document.redo()

    def do_cancel(self) -> None:
        """Stop what is being computed; the plan stays as it is."""
        self.runner.cancel()

    def do_compute(self) -> None:
        """Work out the present plan, after a cancel or an error."""
        self._told.clear()
        self._request_evaluation()

    def do_errors(self) -> None:
        """What went wrong lately."""
        self.problems.show_recent()

    def do_find(self) -> None:
        """To the find field."""
        self.head.find_field.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.head.find_field.selectAll()

    @Slot(str)
    def _seek(self, text: str) -> None:
        """Find on the page that is open if it can, else on the Evening page."""
        if text and not hasattr(self.page(self.open_title), "seek"):
            self.open_page("Evening")
        seek = getattr(self.page(self.open_title), "seek", None)
        if seek is not None:
            seek(text)

    @Slot()
    def _to_page(self) -> None:
        """From the find field into the page."""
        page = self.page(self.open_title)
        page.setFocus(Qt.FocusReason.OtherFocusReason)
        page.focusNextChild()

    def do_open(self) -> None:
        """Ask for a plan file and open it."""
        self.files.ask_open()

    def do_save(self) -> None:
        """Write the plan to its file."""
        self.files.save()

    def do_save_as(self) -> None:
        """Ask for a file and write the plan to it."""
        self.files.ask_save()

    def do_import_elements(self) -> None:
        """To the page that takes element files in."""
        self.open_page("Satellites")
        self.page("Satellites").ask_for_files()  # type: ignore[attr-defined]

    def do_new(self) -> None:
        """A plan for tonight at the present site with the present mount, and no satellites."""
        self.files.start(lambda: fresh_plan(self.document.plan, self._clock()))

    def do_demo(self) -> None:
        """The demo plan, in no file."""
        self.files.start(demo_plan)

    def do_quit(self) -> None:
        """Close the window."""
        self.close()

    # --- drops and the end --------------------------------------------------------------------------------

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        files = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        if files:
            event.acceptProposedAction()
            self.take_files(files)

    def take_files(self, files: list[Path]) -> None:
        """Open a plan that is among the files, else read them all as element files."""
        plans = [path for path in files if is_plan_file(path)]
        if plans:
            self.files.after_unsaved(lambda: self.files.open(plans[0]))
        else:
            self.open_page("Satellites")
            self.page("Satellites").take_files(files)  # type: ignore[attr-defined]

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.document.unsaved and not self.property("closing"):
            event.ignore()
            self.files.after_unsaved(self._close_now)
            return
        self._tick.stop()
        self._idle.stop()
        self.runner.close()
        sheet = self.pages.get("Sheet")
        paper = str(getattr(sheet, "paper", self._paper))
        scheme = self.context.scheme.name
        remember(Remembered(self.document.path, scheme, self.open_title, paper, self.saveGeometry()))
        event.accept()

    def _close_now(self) -> None:
        self.setProperty("closing", True)
        self.close()
