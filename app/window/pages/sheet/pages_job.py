"""Making the sheet's pages as pictures, off the GUI thread."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from PySide6.QtGui import QImage

from core.base.errors import Cancelled
from core.base.memo import Memo
from core.base.times import clock
from core.base.units import Progress
from core.evaluate import Result
from core.mount.evening.order.rules import MountStart
from core.plan.document import Plan
from core.sheet.render import PageStart, Paper
from core.sheet.wishes import PLAIN_WISHES, SheetWishes
from core.studies import SeatByEvening, study_beside


@dataclass(frozen=True)
class SheetPages:
    """The pages of one sheet, ready to be shown.

    Attributes:
        plan: what they were made from.
        mount_start: where the mount stood when that evening began; None: where its first contact starts.
        paper: a4 or letter.
        dots_per_inch: of the pictures.
        by_evening: the seats by their evenings, where they were known.
        wishes: its shape, and what is on it.
        names: one per page, for the list.
        pictures: one PNG per page.
    """

    plan: Plan
    mount_start: MountStart | None
    paper: Paper
    dots_per_inch: float
    by_evening: SeatByEvening | None
    wishes: SheetWishes
    names: tuple[str, ...]
    pictures: tuple[bytes, ...]
    _read: dict[int, QImage] = field(default_factory=dict, repr=False, compare=False)

    def image(self, row: int) -> QImage:
        """A page in shades of grey, read when it is first looked at: all take as long as the layout."""
        if row not in self._read:
            read = QImage.fromData(self.pictures[row])
            self._read[row] = read.convertToFormat(QImage.Format.Format_Grayscale8)
        return self._read[row]


def make_pages(
    plan: Plan,
    result: Result,
    made_utc_s: float,
    paper: Paper,
    dots_per_inch: float,
    memo: Memo,
    progress: Progress,
    by_evening: SeatByEvening | None = None,
    wishes: SheetWishes = PLAIN_WISHES,
) -> SheetPages:
    """Lay the sheet out as pictures of its pages.

    What is studied beside the evening is the memo's or made here, but for the seats by their evenings.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    from core.sheet.content import sheet_content
    from core.sheet.render import pages_of

    report(progress, 0, 0, "laying out the sheet")
    beside = study_beside(plan, result, memo, progress, by_evening)
    content = sheet_content(plan, result, made_utc_s, beside, wishes)
    pictures, begins = pages_of(content, paper, dots_per_inch)
    report(progress, len(pictures), len(pictures), "drawing the pages")
    names = page_names(result, begins, len(pictures))
    start = result.mount_start
    return SheetPages(plan, start, paper, dots_per_inch, by_evening, wishes, names, tuple(pictures))


def page_names(result: Result, begins: Sequence[PageStart], pages: int) -> tuple[str, ...]:
    """A name for each page: what begins there, or what goes on from the page before."""
    found: list[str] = []
    last = "Sheet"
    for page in range(1, pages + 1):
        here = [_name(result, one) for one in begins if one.page == page]
        found.append(", ".join(here) if here else f"{last}, on")
        last = here[-1] if here else last
    return tuple(found)


def _name(result: Result, begins: PageStart) -> str:
    if not begins.card:
        return begins.name
    contact = result.order.contacts[begins.card - 1]
    return f"{clock(contact.start_utc_s, False)} {contact.check.pass_.satellite}"


def report(progress: Progress, done: int, total: int, what: str) -> None:
    """Tell how far it is.

    Raises:
        Cancelled: an end was asked for.
    """
    if not progress(done, total, what):
        raise Cancelled
