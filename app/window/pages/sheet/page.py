"""The Sheet page: the true pages of the field sheet, to be looked at, saved and printed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QListWidget,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from app.window.look.scheme import font
from app.window.page import Page
from app.window.pages.sheet.page_view import PageView, Zoom
from app.window.pages.sheet.pages_job import SheetPages, make_pages
from app.window.pages.sheet.wanted import WishesChooser
from app.window.pages.sheet.written import pdf_job, pocket_job
from app.window.state.context import Context
from app.window.widgets.labels import heading, label, push_button, second
from app.window.widgets.plain import plain_label
from app.window.widgets.wheel import wheel_wants_focus
from core.base.memo import Memo
from core.base.times import clock
from core.base.units import Progress
from core.evaluate import Result
from core.mount.evening.order.rules import MountStart
from core.plan.document import Plan
from core.sheet.render import Paper
from core.sheet.wishes import SheetWishes
from core.studies import SeatByEvening

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

    from app.window.pages.sheet.log.dialog import LogDialog

#: Dots per inch of the pictures on a screen of one pixel a point.
_DOTS_PER_INCH = 144.0
_PAPERS: tuple[tuple[Paper, str], ...] = (("a4", "&A4"), ("letter", "Le&tter"))
_ZOOMS: tuple[tuple[Zoom, str], ...] = (
    ("page", "Whole page"),
    ("width", "Full width"),
    ("full", "True size"),
)


#: What pages are made from: plan, paper, dots per inch, the seats by their evenings where they are known, and
#: how the sheet is wanted.
_Wanted = tuple[Plan, MountStart | None, Paper, float, SeatByEvening | None, SheetWishes]


class SheetPage(Page):
    """List of pages, paper, save and print on the left; the page on the right.

    Signals:
        go(str): open another page of the window.
    """

    title = "Sheet"
    go = Signal(str)

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(context, parent)
        self.paper: Paper = "a4"
        self.wanted = WishesChooser()
        self.pages: SheetPages | None = None
        self._asked: _Wanted | None = None
        self.view = PageView()
        self.list = QListWidget()
        self.papers = QButtonGroup(self)
        self.zooms = QComboBox()
        self.state = second("", 9, "state of the pages")
        self.words = label(13, name="what to do first", wraps=True)
        self.go_button = push_button(
            "Open &Satellites",
            lambda: self.go.emit("Satellites"),
            tip="Where element sets are brought in (Ctrl+2)",
        )
        self.save_button = push_button(
            "Save P&DF...", self.ask_where_to_save, tip="Write all pages into a PDF file"
        )
        self.pocket_button = push_button(
            "Save poc&ket page...",
            self.ask_where_to_save_pocket_page,
            tip="One file that a phone opens in the field, without a network",
        )
        self.print_button = push_button(
            "P&rint...", self.ask_for_printer, tip="Choose a printer and its pages (Ctrl+P)"
        )
        self.log_button = push_button(
            "L&og...", self.open_log, tip="What came back from the field: worked or not, dials, notes"
        )
        self._log: LogDialog | None = None
        self._build()
        self.wanted.changed.connect(self.refresh)
        context.runner.finished.connect(self._on_finished)
        context.runner.failed.connect(self._on_failed)

    def _build(self) -> None:
        self.save_button.setProperty("main", True)
        self.list.setAccessibleName("pages of the sheet")
        self.list.setFont(font(10))
        self.list.setUniformItemSizes(True)
        self.list.setSpacing(2)
        self.list.currentRowChanged.connect(lambda _row: self._show_page())
        self.words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        left = QVBoxLayout()
        left.setSpacing(8)
        left.addWidget(heading("Sheet", 16))
        left.addWidget(self.state)
        left.addLayout(_choices("Paper", _PAPERS, self.papers, self.set_paper))
        left.addWidget(self.wanted)
        left.addLayout(self._zoom_row())
        left.addSpacing(6)
        left.addWidget(self.list, 1)
        left.addWidget(self.save_button)
        left.addWidget(self.print_button)
        left.addWidget(self.pocket_button)
        left.addWidget(self.log_button)
        side = QWidget()
        side.setFixedWidth(232)
        side.setLayout(left)
        left.setContentsMargins(0, 0, 0, 0)
        right = QVBoxLayout()
        right.addWidget(self.words, 1)
        right.addWidget(self.go_button, 0, Qt.AlignmentFlag.AlignHCenter)
        right.addWidget(self.view, 1)
        row = QHBoxLayout(self)
        row.setContentsMargins(22, 18, 0, 14)
        row.setSpacing(18)
        row.addWidget(side)
        row.addLayout(right, 1)

    def _zoom_row(self) -> QHBoxLayout:
        self.zooms.addItems([words for _zoom, words in _ZOOMS])
        self.zooms.setAccessibleName("How large the page is shown")
        wheel_wants_focus(self.zooms)
        self.zooms.currentIndexChanged.connect(lambda place: self.view.set_zoom(_ZOOMS[place][0]))
        label = plain_label("Sho&wn")
        label.setBuddy(self.zooms)
        row = QHBoxLayout()
        row.addWidget(label)
        row.addWidget(self.zooms, 1)
        return row

    # --- showing ------------------------------------------------------------------------------------------

    def ready(self) -> tuple[Plan, Result] | None:
        """Plan and result, if the result is of the present plan: from now on, where that is wanted."""
        result = self.context.evening_result
        return (
            (self.context.evening_plan, result) if result is not None and self.context.evening_ready else None
        )

    def set_paper(self, paper: Paper) -> None:
        """A4 or Letter; what is neither changes nothing."""
        if paper not in {name for name, _words in _PAPERS}:
            return
        self.paper = paper
        for button, (name, _words) in zip(self.papers.buttons(), _PAPERS, strict=True):
            button.setChecked(name == paper)
        if self.isVisible():
            self.refresh()

    def refresh(self) -> None:
        self.view.set_scheme(self.context.scheme)
        if self._log is not None and self._log.isVisible():
            self._log.refresh()
        ready = self.ready()
        if ready is not None and ready[1].passes:
            self._ask(*ready)
        self._show_state(ready)

    def _dots_per_inch(self) -> float:
        return _DOTS_PER_INCH * max(1.0, self.devicePixelRatioF())

    def _ask(self, plan: Plan, result: Result) -> None:
        """Have the pages made, unless they are there or on their way."""
        paper, dots, made = self.paper, self._dots_per_inch(), self.context.now_utc_s
        evenings = self.context.evenings_known
        plan = _on_paper(plan)
        wishes = self.wanted.wishes
        wanted = (plan, result.mount_start, paper, dots, evenings, wishes)
        if wanted in (self._asked, self._shown()):
            return
        self._asked = wanted
        self.context.runner.request(
            "sheet",
            "Laying out the sheet",
            lambda memo, progress: make_pages(
                plan, result, made, paper, dots, memo, progress, evenings, wishes
            ),
        )

    def _shown(self) -> _Wanted | None:
        pages = self.pages
        if pages is None:
            return None
        made = pages.plan, pages.mount_start, pages.paper, pages.dots_per_inch, pages.by_evening
        return (*made, pages.wishes)

    @Slot(str, object)
    def _on_finished(self, kind: str, answer: Any) -> None:
        if kind == "sheet" and isinstance(answer, SheetPages):
            self._asked = None
            self.pages = answer
            self._fill_list(answer)
            self._show_page()
            self._show_state(self.ready())
        elif kind in {"save sheet", "print sheet", "save pocket page"}:
            self.state.setText(str(answer))

    @Slot(str, object)
    def _on_failed(self, kind: str, _error: object) -> None:
        if kind == "sheet":
            self.state.setText("The pages could not be made.")

    def _fill_list(self, pages: SheetPages) -> None:
        row = max(0, self.list.currentRow())
        names = [f"{number}  {name}" for number, name in enumerate(pages.names, start=1)]
        if [self.list.item(i).text() for i in range(self.list.count())] != names:
            self.list.blockSignals(True)
            self.list.clear()
            self.list.addItems(names)
            self.list.blockSignals(False)
        self.list.setCurrentRow(min(row, len(names) - 1))

    def _show_page(self) -> None:
        pages, row = self.pages, self.list.currentRow()
        if pages is None or not 0 <= row < len(pages.pictures):
            self.view.show_page(None, _DOTS_PER_INCH, "")
            return
        words = f"Page {row + 1} of {len(pages.pictures)}: {pages.names[row]}"
        self.view.show_page(pages.image(row), pages.dots_per_inch, words)

    def _show_state(self, ready: tuple[Plan, Result] | None) -> None:
        plan, pages = self.context.plan, self.pages
        fresh = (
            pages is not None
            and ready is not None
            and (pages.plan, pages.mount_start, pages.paper, pages.wishes)
            == (_on_paper(ready[0]), ready[1].mount_start, self.paper, self.wanted.wishes)
        )
        nothing = ready is not None and not ready[1].passes
        self.words.setVisible(pages is None or nothing)
        self.go_button.setVisible(nothing and not plan.satellites)
        self.view.setVisible(pages is not None and not nothing)
        self.list.setEnabled(pages is not None and not nothing)
        self.view.show_stale(not fresh)
        self.save_button.setEnabled(ready is not None and not nothing)
        self.print_button.setEnabled(ready is not None and not nothing)
        self.pocket_button.setEnabled(ready is not None and not nothing)
        self.words.setText(_first_words(plan, nothing))
        if fresh and pages is not None and ready is not None:
            rest = self.context.rest
            of = "" if rest is None else f", the evening re-planned from {clock(rest.again.now.utc_s)} UTC"
            self.state.setText(f"{len(pages.pictures)} pages of plan {ready[1].identity}{of}")
        elif pages is not None and not nothing:
            self.state.setText("Of the plan before its last edits; the new pages are on their way.")
        else:
            self.state.setText("")

    # --- saving and printing ------------------------------------------------------------------------------

    def ask_where_to_save(self) -> None:
        """Open the dialog for the PDF."""
        self._ask_where("Save sheet", "PDF (*.pdf)", "pdf", self.save_pdf)

    def ask_where_to_save_pocket_page(self) -> None:
        """Open the dialog for the pocket page."""
        self._ask_where("Save pocket page", "Pocket page (*.html)", "html", self.save_pocket_page)

    def _ask_where(self, title: str, kinds: str, suffix: str, save: Callable[[Path], None]) -> None:
        path = self.context.document.path
        name = path.name.removesuffix(".json").removesuffix(".northkey") if path else "sheet"
        folder = path.parent if path else Path.home()
        dialog = QFileDialog(self, title, str(folder), kinds)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(suffix)
        dialog.selectFile(f"{name}.{suffix}")
        dialog.fileSelected.connect(lambda chosen: save(Path(chosen)))
        dialog.open()

    def save_pocket_page(self, path: Path) -> None:
        """Write the pocket page."""
        ready = self.ready()
        if ready is not None:
            job = pocket_job(path, self.context.document.sources, *ready, self.context.now_utc_s)
            self.context.runner.request("save pocket page", f"Writing {path.name}", job, writes=True)

    def save_pdf(self, path: Path) -> None:
        """Write the whole sheet as PDF."""
        ready = self.ready()
        if ready is not None:
            sources, made = self.context.document.sources, self.context.now_utc_s
            evenings, wishes = self.context.evenings_known, self.wanted.wishes
            job = pdf_job(path, sources, *ready, made, self.paper, evenings, wishes)
            self.context.runner.request("save sheet", f"Writing {path.name}", job, writes=True)

    def open_log(self) -> None:
        """Show the log, in a window of its own."""
        from app.window.pages.sheet.log.dialog import LogDialog

        if self._log is None:
            self._log = LogDialog(self.context, self)
        self._log.show()
        self._log.raise_()

    def print_when_ready(self) -> None:
        """Ask for the printer if there is anything to print; else the page says why not."""
        if self.print_button.isEnabled():
            self.ask_for_printer()

    def ask_for_printer(self) -> None:
        """Open the dialog for the printer."""
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter

        from app.window.pages.sheet.printing import prepare

        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        prepare(printer, self.paper, self.context.plan.title, self.wanted.wishes)
        dialog = QPrintDialog(printer, self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange, True)
        dialog.setMinMax(1, len(self.pages.pictures) if self.pages else 1)
        dialog.finished.connect(
            lambda code: self.print_on(printer) if code == QDialog.DialogCode.Accepted else None
        )
        QDialog.open(dialog)  # its own open() wants a slot by name

    def print_on(self, printer: QPrinter) -> None:
        """Put the sheet on a printer; it is the job's alone until the job ends."""
        from app.window.pages.sheet.printing import prepare, print_pages

        ready = self.ready()
        if ready is None:
            return
        (plan, result), paper, made = ready, self.paper, self.context.now_utc_s
        evenings, wishes = self.context.evenings_known, self.wanted.wishes
        prepare(printer, paper, plan.title, wishes)

        def job(memo: Memo, progress: Progress) -> str:
            pages = print_pages(printer, plan, result, made, paper, memo, progress, evenings, wishes)
            return f"{pages} pages sent to {printer.printerName() or Path(printer.outputFileName()).name}."

        self.context.runner.request("print sheet", "Printing the sheet", job, writes=True)


def _on_paper(plan: Plan) -> Plan:
    """What of a plan is printed: typing the log lays no page out again."""
    return plan.model_copy(update={"log": ()}) if plan.log else plan


def _first_words(plan: Plan, nothing: bool) -> str:
    if not plan.satellites:
        return "No sheet yet: it needs satellites. Import element sets first."
    if nothing:
        return "No pass in these hours comes over the mask, so there is nothing to put on paper."
    return "The sheet is being laid out."


def _choices(
    words: str, entries: tuple[tuple[Any, str], ...], group: QButtonGroup, choose: Callable[[Any], None]
) -> QHBoxLayout:
    """A row of radio buttons, the first one chosen."""
    row = QHBoxLayout()
    row.setSpacing(8)
    for number, (value, text) in enumerate(entries):
        button = QRadioButton(text)
        button.setAccessibleName(f"{words}: {text.replace('&', '')}")
        button.setToolTip(f"Lay the sheet out on {text.replace('&', '')}")
        button.setFont(font(9))
        button.setChecked(number == 0)
        button.clicked.connect(lambda _on, value=value: choose(value))
        group.addButton(button)
        row.addWidget(button)
    row.addStretch(1)
    return row
