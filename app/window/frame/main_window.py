"""The window: it wires document, runner, pages and bars together, and thinks nothing itself."""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QByteArray, Qt, QTimer, Slot
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QPaintEvent, QShowEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QMainWindow,
    QMenu,
    QVBoxLayout,
    QWidget,
)

from app.ahead import Ahead
from app.opening import demo_plan
from app.settings import Remembered, remember
from app.window.frame.actions import PAGES
from app.window.frame.bars import Foot, Head
from app.window.frame.closing import Closing
from app.window.frame.errors import ErrorDesk, ErrorReport
from app.window.frame.head_words import head_words
from app.window.frame.keeping import Keeping
from app.window.frame.menus import build_menus
from app.window.frame.notices import Notices
from app.window.frame.plan_files import PlanFiles, fresh_plan, is_plan_file
from app.window.frame.rail import Rail
from app.window.frame.recent import RecentMenu
from app.window.frame.shelf import Shelf
from app.window.look.scheme import SCHEMES, fit_type, use_type
from app.window.look.style import palette, style_sheet
from app.window.page import Page
from app.window.state.context import Context
from app.window.state.document import Document
from app.window.state.evaluation import Evaluation
from app.window.state.from_now import FromNow
from app.window.state.runner import Runner
from core.plan.document import Plan

#: The least size at which no part of a page lies over another and no words are cut; held by a test.
LEAST_SIZE = (1072, 700)
#: What waits for the first picture looks for it so often, and waits no longer for a window that is covered.
_LOOK_AGAIN_MS, _HIDDEN_MS = 10, 1000

#: How long the end that the system asks for waits for a job that is running.
_PATIENCE_MS = 2000


class MainWindow(QMainWindow):
    """One window, one plan."""

    def __init__(
        self,
        plan: Plan,
        path: Path | None = None,
        clock: Callable[[], float] = time.time,
        kept: Remembered | None = None,
        ahead: Ahead | None = None,
        spares: Path | None = None,
    ) -> None:
        """Start working out the plan and build the page that opens first.

        Args:
            plan: what to begin with.
            path: its file, if it is from one.
            clock: gives POSIX seconds.
            kept: scheme, page, paper and place of last time.
            ahead: who works the plan out already.
            spares: where edits that are in no file are kept; None keeps none.
        """
        super().__init__()
        kept = Remembered() if kept is None else kept
        self._clock = clock
        self.document = Document(plan, path, self)
        self.runner = Runner(self)
        self.context = Context(self.document, self.runner, now_utc_s=clock())
        self.context.scheme = SCHEMES.get(kept.scheme, self.context.scheme)
        self.files = PlanFiles(self.document, self)
        self.files.read_beside(self.runner)
        self.notices = Notices()
        self.keeping = Keeping(self.document, self.files, self.notices, spares, clock, self)
        self.closing = Closing(self.document, self.files, self.runner, self)
        self.errors = ErrorDesk(self)
        self.head, self.foot = Head(), Foot()
        self.rail = Rail(PAGES, self.context.scheme)
        self.shelf = Shelf(self.context, kept.paper, kept.layout)
        self.recent = RecentMenu(kept.recent, self)
        self.evaluation, self.from_now = Evaluation(self.context, self, ahead), FromNow(self.context, self)
        self._tick, self._later = QTimer(self), QTimer(self)
        #: Shown, or about to be with what was worked out ahead, and not painted yet.
        self._unseen = ahead is not None
        self.evaluation.request()  # the worker starts on it while the window is being built
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
        middle.addWidget(self.shelf, 1)
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self.notices)
        column.addLayout(middle, 1)
        column.addWidget(self.foot)
        ground = QWidget()
        ground.setLayout(column)
        self.setCentralWidget(ground)
        self.setAcceptDrops(True)
        self.setMinimumSize(*LEAST_SIZE)
        self.actions_by_id = build_menus(self.menuBar(), self.acts())
        plan_menu = self.actions_by_id["open"].associatedObjects()[0]
        assert isinstance(plan_menu, QMenu)
        plan_menu.insertMenu(self.actions_by_id["import_elements"], self.recent)

    def _place(self, geometry: QByteArray) -> None:
        if geometry.isEmpty() or not self.restoreGeometry(geometry):
            self.resize(1360, 860)

    def acts(self) -> dict[str, Callable[[], object]]:
        """What each act of the menus does, by its id."""
        return {
            "open": self.files.ask_open,
            "import_elements": self._import_elements,
            "save": self.files.save,
            "save_as": self.files.ask_save,
            "new": lambda: self.files.start(lambda: fresh_plan(self.document.plan, self._clock())),
            "demo": lambda: self.files.start(demo_plan),
            "quit": self.close,
            "print": self._print,
            "keys": self._show_keys,
            "undo": self.document.undo,
            "redo": self.document.redo,
            "find": self._find,
            "cancel": self.runner.cancel,
            "from_now": self._plan_from_now,
            "compute": self._compute,
            "errors": self.errors.show_recent,
            **{f"scheme_{name}": partial(self.set_scheme, name) for name in SCHEMES},
            **{f"page_{title.lower()}": partial(self.open_page, title) for title in PAGES},
        }

    def _connect(self) -> None:
        self.document.plan_changed.connect(self._on_plan)
        self.document.state_changed.connect(self._show_state)
        self.evaluation.updated.connect(self._on_updated)
        self.evaluation.failed.connect(self._on_failed)
        self.from_now.updated.connect(self._on_updated)
        self.shelf.counted.connect(self._show_count)
        self.shelf.failed.connect(self.tell_error)
        self.shelf.go.connect(self.open_page)
        self.runner.progressed.connect(self._on_progress)
        self.runner.busy_changed.connect(self._on_busy)
        self.files.failed.connect(self.tell_error)
        self.recent.chosen.connect(lambda path: self.files.after_unsaved(lambda: self.files.open(path)))
        self.rail.chosen.connect(self.open_page)
        self.head.sought.connect(self._seek)
        self.head.find_field.returnPressed.connect(self._to_page)
        self.foot.cancelled.connect(self.runner.cancel)
        self.foot.asked.connect(self._compute)
        self.foot.undone.connect(self.document.undo)
        self.foot.redone.connect(self.document.redo)
        self._tick.setInterval(1000)
        self._tick.timeout.connect(self._show_clock)
        self._tick.start()
        self._show_clock()
        self._later.setSingleShot(True)
        self._later.timeout.connect(self._when_painted)
        self._on_busy(self.runner.busy_words)

    def page(self, title: str) -> Page:
        """One of the pages, built now if it is asked for the first time."""
        return self.shelf.page(title)

    @property
    def pages(self) -> dict[str, Page]:
        """The pages built so far."""
        return self.shelf.pages

    # --- evaluation ---------------------------------------------------------------------------------------

    @Slot(object)
    def _on_plan(self, _plan: Plan) -> None:
        self.evaluation.request()
        self.from_now.follow()
        self._refresh()

    @Slot()
    def _compute(self) -> None:
        """Work the present plan out again after a cancel or an error."""
        self.evaluation.request_again()
        self.from_now.follow()

    @Slot()
    def _on_updated(self) -> None:
        self._refresh()
        self._later.start(0)

    @Slot()
    def _when_painted(self) -> None:
        """What may wait until a result is on the screen: the studies, then the pages not yet opened."""
        if self._unseen:
            self._later.start(_LOOK_AGAIN_MS)
            return
        self.from_now.request_reasons()
        self.evaluation.request_reasons()
        self.evaluation.request_study()
        self.evaluation.request_by_evening()
        self.shelf.build_rest()

    @Slot(str, str, str)
    def _on_failed(self, title: str, sentence: str, details: str) -> None:
        self.tell_error(title, sentence, details)
        self.shelf.build_rest()

    @Slot(str, int, int)
    def _on_progress(self, what: str, done: int, total: int) -> None:
        figures = f", {done:,} of {total:,}" if total else f", {done:,}" if done else ""
        self.foot.show_busy(f"{what.capitalize()}{figures}", done, total)

    @Slot(str)
    def _on_busy(self, words: str) -> None:
        if words:
            self.foot.show_busy(words)
        else:
            self.foot.show_idle(*self.evaluation.idle_words())

    # --- showing ------------------------------------------------------------------------------------------

    def _refresh(self) -> None:
        self.shelf.refresh()
        self._show_head()

    def showEvent(self, event: QShowEvent) -> None:
        self._unseen = True
        QTimer.singleShot(_HIDDEN_MS, self, self._seen)
        super().showEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        self._seen()
        super().paintEvent(event)

    @Slot()
    def _seen(self) -> None:
        self._unseen = False

    @Slot(str, int)
    def _show_count(self, title: str, count: int) -> None:
        self.rail.items[title].show_count(count)

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
        self.recent.put_first(self.document.path)
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
        return self.shelf.title

    @Slot(str)
    def open_page(self, title: str) -> None:
        """Show one of the pages."""
        self.shelf.open(title)
        self.rail.show_current(title)

    def set_scheme(self, name: str) -> None:
        """Light, dark or dusk."""
        scheme = SCHEMES.get(name, SCHEMES["light"])
        self.context.scheme = scheme
        use_type(scheme)
        fit_type(self, scheme)
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
    def tell_error(self, title: str, sentence: str, details: str = "") -> None:
        """The one dialog for errors."""
        self.errors.tell(ErrorReport(title, sentence, details, self._clock()))

    @Slot(str, str)
    def tell_unexpected(self, sentence: str, details: str) -> None:
        """An exception that nobody caught."""
        self.tell_error("Unexpected", sentence, details)

    # --- finding and importing ----------------------------------------------------------------------------

    def _find(self) -> None:
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

    def _show_keys(self) -> None:
        from app.window.frame.keys_dialog import KeysDialog

        KeysDialog(self).open()

    def _print(self) -> None:
        """To the sheet, and its printer's dialog once there is something to print."""
        self.open_page("Sheet")
        self.page("Sheet").print_when_ready()  # type: ignore[attr-defined]

    def _plan_from_now(self) -> None:
        """To the evening, and what it is to be planned again from."""
        self.open_page("Evening")
        self.page("Evening").ask_from_now()  # type: ignore[attr-defined]

    def _import_elements(self) -> None:
        """To the page that takes element files in."""
        self.open_page("Satellites")
        self.page("Satellites").ask_for_files()  # type: ignore[attr-defined]

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
        if not self.property("closing") and not self.closing.may_close():
            event.ignore()
            return
        self.keeping.close()
        self._stop()
        self.runner.close()
        event.accept()

    def end_now(self) -> bool:
        """End without a question, as the system asks: what is in no file is kept; False if a job hangs on."""
        self.keeping.keep_now()
        self.keeping.close(keeps=True)
        self._stop()
        return self.runner.close(_PATIENCE_MS)

    def _stop(self) -> None:
        """No more of the window's own doings; what the next start should find is written."""
        self._tick.stop()
        self._later.stop()
        self.shelf.stop()
        scheme, paper = self.context.scheme.name, self.shelf.paper
        geometry, recent, layout = self.saveGeometry(), self.recent.files, self.shelf.by_hand
        remember(Remembered(self.document.path, scheme, self.open_title, paper, geometry, recent, layout))
