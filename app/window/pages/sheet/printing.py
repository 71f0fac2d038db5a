"""Putting the sheet's pages on a printer, off the GUI thread."""

from __future__ import annotations

from PySide6.QtCore import QMarginsF, QRectF
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from app.window.pages.sheet.pages_job import report
from core.base.errors import Cancelled, NorthkeyError
from core.base.memo import Memo
from core.base.units import Progress
from core.evaluate import Result
from core.plan.document import Plan
from core.sheet.render import Paper
from core.sheet.wishes import PLAIN_WISHES, SheetWishes
from core.studies import SeatByEvening, study_beside

#: Dots per inch of what is printed: 9 pt letters are 38 dots high.
PRINT_DOTS_PER_INCH = 300.0
_PAPER_SIZES = {"a4": QPageSize.PageSizeId.A4, "letter": QPageSize.PageSizeId.Letter}


class PrintProblem(NorthkeyError):
    """The printer did not take the pages."""


def print_pages(
    printer: QPrinter,
    plan: Plan,
    result: Result,
    made_utc_s: float,
    paper: Paper,
    memo: Memo,
    progress: Progress,
    by_evening: SeatByEvening | None = None,
    wishes: SheetWishes = PLAIN_WISHES,
) -> int:
    """Put the sheet's pages on a printer, each filling its paper; returns how many.

    Qt allows a printer to be painted on from another thread than the window's.

    Raises:
        Cancelled: ``progress`` returned False; the printer is told to drop what it has.
        PrintProblem: the printer did not take the pages.
    """
    from core.sheet.render import sheet_png

    report(progress, 0, 0, "laying out the sheet")
    beside = study_beside(plan, result, memo, progress, by_evening)
    pictures = sheet_png(plan, result, made_utc_s, paper, PRINT_DOTS_PER_INCH, beside, wishes)
    numbers = _numbers(printer, len(pictures))
    painter = QPainter()
    if not painter.begin(printer):
        raise PrintProblem(f"{printer.printerName() or printer.outputFileName()} does not take the pages")
    try:
        for done, number in enumerate(numbers):
            report(progress, done, len(numbers), "printing")
            if done and not printer.newPage():
                raise PrintProblem(f"the printer stopped after {done} of {len(numbers)} pages")
            image = QImage.fromData(pictures[number])
            painter.drawImage(QRectF(printer.pageLayout().fullRectPixels(printer.resolution())), image)
    except Cancelled:
        printer.abort()
        raise
    finally:
        painter.end()
    return len(numbers)


def prepare(printer: QPrinter, paper: Paper, title: str, wishes: SheetWishes = PLAIN_WISHES) -> None:
    """Give a printer the sheet's paper, the whole of it, since the margins are in the pages."""
    printer.setPageSize(QPageSize(_PAPER_SIZES[paper]))
    across = wishes.across
    printer.setPageOrientation(
        QPageLayout.Orientation.Landscape if across else QPageLayout.Orientation.Portrait
    )
    printer.setFullPage(True)
    printer.setPageMargins(QMarginsF(0.0, 0.0, 0.0, 0.0), QPageLayout.Unit.Millimeter)
    printer.setDocName(title)
    printer.setCreator("Northkey")


def _numbers(printer: QPrinter, pages: int) -> list[int]:
    """The pages asked for, counted from 0, in the order asked for."""
    first, last = printer.fromPage() or 1, printer.toPage() or pages
    numbers = list(range(first - 1, min(last, pages)))
    return numbers[::-1] if printer.pageOrder() == QPrinter.PageOrder.LastPageFirst else numbers
