"""A sheet that many tests look at is set once: the same content and paper give the same bytes.

That is no weaker than setting it again: `tests.core.sheet.test_render` proves it of the typesetter, and is
not handed what is kept here.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from unittest.mock import patch

from core.sheet import render
from core.sheet.content import SheetContent

#: A sheet's pages at a printer's resolution take megabytes.
_KEPT = 16


class _Sheet:
    """A content, compared by what the template reads of it."""

    def __init__(self, content: SheetContent, paper: render.Paper) -> None:
        self.content, self._read = content, render.as_json(content, paper)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Sheet) and self._read == other._read

    def __hash__(self) -> int:
        return hash(self._read)


@contextmanager
def sheets_set_once() -> Iterator[None]:
    """As long as this lasts, a sheet set before is handed out again."""
    pages_of, set_sheet = render.pages_of, render._compile

    @lru_cache(_KEPT)
    def pages(sheet: _Sheet, paper: render.Paper, dots_per_inch: float) -> object:
        return pages_of(sheet.content, paper, dots_per_inch)

    @lru_cache(_KEPT)
    def made(sheet: _Sheet, paper: render.Paper, options: tuple[tuple[str, object], ...]) -> list[bytes]:
        return set_sheet(sheet.content, paper, **dict(options))

    def kept_pages(content, paper="a4", dots_per_inch=144.0):
        pictures, begins = pages(_Sheet(content, paper), paper, dots_per_inch)
        return list(pictures), begins

    def kept(content, paper, **options):
        return list(made(_Sheet(content, paper), paper, tuple(sorted(options.items()))))

    with patch.object(render, "pages_of", kept_pages), patch.object(render, "_compile", kept):
        yield
