"""Laying the content out: a template in resources fed with one JSON document, never with markup made of text.

Fonts come from resources alone, the document's date is the making time, so the same input gives the same
bytes on every machine with the same release of the typesetter.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.resources import as_file, files
from typing import Any, Literal

from core.evaluate import Result
from core.plan.document import Plan
from core.sheet.content import SheetContent, sheet_content
from core.studies import NOT_STUDIED, BesideEvening

Paper = Literal["a4", "letter"]
_PAPERS = {"a4": "a4", "letter": "us-letter"}
#: The typesetter forgets what no document has used since this many.
_GENERATIONS = 12


def sheet_pdf(
    plan: Plan,
    result: Result,
    made_utc_s: float,
    paper: Paper = "a4",
    beside: BesideEvening = NOT_STUDIED,
) -> bytes:
    """The whole sheet as PDF on A4 or Letter; with what was studied beside it where that is given."""
    return pdf_of(sheet_content(plan, result, made_utc_s, beside), paper)


def sheet_png(
    plan: Plan,
    result: Result,
    made_utc_s: float,
    paper: Paper = "a4",
    dots_per_inch: float = 144.0,
    beside: BesideEvening = NOT_STUDIED,
) -> list[bytes]:
    """The pages as pictures, one PNG each, the same layout as the PDF."""
    return png_of(sheet_content(plan, result, made_utc_s, beside), paper, dots_per_inch)


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
        told = json.loads(compiler.query("<begins>", field="value"))
    pages = made if isinstance(made, list) else [made]
    return [bytes(page) for page in pages], tuple(PageStart(**one) for one in told)


def as_json(content: SheetContent, paper: Paper) -> str:
    """The one document the template reads."""
    data = {**vars(content), "paper": _PAPERS[paper]}
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"), default=vars)


@contextmanager
def _compiler(content: SheetContent, paper: Paper) -> Iterator[Any]:
    """The typesetter with the content, the template and the fonts of resources alone."""
    try:
        with _typesetter("sheet.typ", {"sheet": as_json(content, paper)}) as compiler:
            yield compiler
    finally:
        _forget()


@contextmanager
def _typesetter(name: str, inputs: dict[str, str]) -> Iterator[Any]:
    import typst

    resources = files("resources")
    # A path, not the text: the typesetter can not be asked about a document that it was handed as bytes.
    with as_file(resources.joinpath("sheet", name)) as template, as_file(resources / "fonts") as fonts:
        yield typst.Compiler(
            str(template),
            font_paths=typst.Fonts(
                include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(fonts)]
            ),
            ignore_system_fonts=True,
            sys_inputs=inputs,
        )


def _forget() -> None:
    """Have the typesetter drop what it remembers of a sheet, some 28 MB each.

    It remembers what the last ten documents it set were made of, which is of no use to another sheet and can
    not be switched off. A dozen documents of one word make the sheet old enough, for 3% of the time of
    setting one (measured).
    """
    with _typesetter("word.typ", {}) as compiler:
        for _ in range(_GENERATIONS):
            compiler.compile(format="pdf")


def _compile(content: SheetContent, paper: Paper, **options: Any) -> list[bytes]:
    with _compiler(content, paper) as compiler:
        made = compiler.compile(**options)
    pages = made if isinstance(made, list) else [made]
    return [bytes(page) for page in pages]
