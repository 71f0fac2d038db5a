"""What is written of a sheet into a file, off the GUI thread."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from core.base.memo import Memo
from core.base.units import Progress
from core.evaluate import Result
from core.plan.document import Plan
from core.sheet.render import Paper
from core.sheet.wishes import SheetWishes
from core.studies import SeatByEvening

#: Writes, and says what is done.
Job = Callable[[Memo, Progress], str]


def pdf_job(
    path: Path,
    sources: Sequence[Path],
    plan: Plan,
    result: Result,
    made_utc_s: float,
    paper: Paper,
    evenings: SeatByEvening | None,
    wishes: SheetWishes,
) -> Job:
    """Writes the sheet as PDF; what the plan was read from is not written over."""

    def job(memo: Memo, progress: Progress) -> str:
        from core.base.whole_files import refuse_source, write_bytes
        from core.sheet.render import sheet_pdf
        from core.studies import study_beside

        refuse_source(path, sources)
        beside = study_beside(plan, result, memo, progress, evenings)
        write_bytes(path, sheet_pdf(plan, result, made_utc_s, paper, beside, wishes), force=True)
        return f"Saved as {path.name}."

    return job


def pocket_job(path: Path, sources: Sequence[Path], plan: Plan, result: Result, made_utc_s: float) -> Job:
    """Writes the pocket page: one file, with the sheet's own lines."""

    def job(_memo: Memo, _progress: Progress) -> str:
        from core.base.whole_files import refuse_source, write_bytes
        from core.export.pocket.page import pocket_page
        from core.sheet.content import sheet_content

        refuse_source(path, sources)
        page = pocket_page(sheet_content(plan, result, made_utc_s))
        write_bytes(path, page.encode("utf-8"), force=True)
        return f"Saved as {path.name}: send it to the phone."

    return job
