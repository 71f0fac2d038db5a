"""Laying the content out as the sheet's pages.

The document's date is the making time, so the same input gives the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Literal

from core.base.typesetting import typeset, typesetter
from core.evaluate import Result
from core.plan.document import Plan
from core.sheet.content import SheetContent, sheet_content
from core.sheet.wishes import PLAIN_WISHES, SheetWishes
from core.studies import NOT_STUDIED, BesideEvening

Paper = Literal["a4", "letter"]
_PAPERS = {"a4": "a4", "letter": "us-letter"}


def sheet_pdf(
    plan: Plan,
    result: Result,
    made_utc_s: float,
    paper: Paper = "a4",
    beside: BesideEvening = NOT_STUDIED,
    wishes: SheetWishes = PLAIN_WISHES,
) -> bytes:
    """The whole sheet as PDF on A4 or Letter; with what was studied beside it where that is given."""
    return pdf_of(sheet_content(plan, result, made_utc_s, beside, wishes), paper)


def sheet_png(
    plan: Plan,
    result: Result,
    made_utc_s: float,
    paper: Paper = "a4",
    dots_per_inch: float = 144.0,
    beside: BesideEvening = NOT_STUDIED,
    wishes: SheetWishes = PLAIN_WISHES,
) -> list[bytes]:
    """The pages as pictures, one PNG each, the same layout as the PDF."""
    return png_of(sheet_content(plan, result, made_utc_s, beside, wishes), paper, dots_per_inch)


def pdf_of(content: SheetContent, paper: Paper = "a4") -> bytes:
    """PDF bytes of a content made before."""
    made = _compile(content, paper, format="pdf", timestamp=int(content.made_utc_s // 1))
    return made[0]


def png_of(content: SheetContent, paper: Paper = "a4", dots_per_inch: float = 144.0) -> list[bytes]:
    """PNG bytes of each page of a content made before."""
    return _compile(content, paper, format="png", ppi=dots_per_inch)


@dataclass(frozen=True)
class PageStart:
    """What begins on a page: a part of the sheet by its name, or the card of a contact by its number."""

    page: int
    name: str
    card: int


def pages_of(
    content: SheetContent, paper: Paper = "a4", dots_per_inch: float = 144.0
) -> tuple[list[bytes], tuple[PageStart, ...]]:
    """PNG bytes of each page, and what begins where (pages and cards count from 1), laid out once."""
    with _compiler(content, paper) as compiler:
        made = compiler.compile(format="png", ppi=dots_per_inch)
        (told,) = json.loads(compiler.query("<pages>", field="value"))
    pages = made if isinstance(made, list) else [made]
    return [bytes(page) for page in pages], tuple(PageStart(**one) for one in told)


def as_json(content: SheetContent, paper: Paper) -> str:
    """The one document the template reads."""
    data = {**vars(content), "paper": _PAPERS[paper]}
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"), default=vars)


@contextmanager
def _compiler(content: SheetContent, paper: Paper) -> Iterator[Any]:
    """The typesetter with the content."""
    with typesetter("sheet.typ", {"sheet": as_json(content, paper)}) as compiler:
        yield compiler


def _compile(content: SheetContent, paper: Paper, **options: Any) -> list[bytes]:
    return typeset("sheet.typ", {"sheet": as_json(content, paper)}, **options)
