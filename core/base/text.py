"""Words that come from a file or a hand: what they may hold, and what is shown of what cannot be seen.

Marks that turn the writing direction could show a name backwards, and control characters could steer a
terminal. So they are told by their number when text is taken in, and screen, paper and exports show the same.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field

#: Cells that begin so are formulas to a spreadsheet.
_FORMULA_STARTS = ("=", "+", "-", "@")
#: Invisible and meant to be: joiners that scripts and signs are written with.
_JOINERS = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}"
#: Taken for a blank, as spaces and line ends are.
_BLANKS = "\0\N{ZERO WIDTH SPACE}\N{ZERO WIDTH NO-BREAK SPACE}"


def one_line(text: str) -> str:
    """One line of text: runs of blanks become one, what cannot be seen is told as ``[U+202E]``."""
    if text.isascii() and text.isprintable() and "  " not in text:
        return text.strip()
    return " ".join("".join(map(_shown, text)).split())


def lines_of_text(text: str) -> str:
    """The same line by line; line ends and blanks between words are kept."""
    if text.isascii() and text.replace("\n", "").isprintable():
        return text
    return "\n".join("".join(map(_shown, line)) for line in text.splitlines())


def _shown(mark: str) -> str:
    if mark.isprintable() or mark in _JOINERS:
        return mark
    return " " if mark.isspace() or mark in _BLANKS else f"[U+{ord(mark):04X}]"


def text_cell(text: str) -> str:
    """Text fit for a table: an apostrophe before what a spreadsheet would take for a formula."""
    return f"'{text}" if _is_formula(text) else text


def from_text_cell(text: str) -> str:
    """The text that `text_cell` guarded."""
    return text[1:] if text[:1] == "'" and _is_formula(text) else text


def _is_formula(text: str) -> bool:
    # Guarded ones count, so that each text has a cell of its own.
    return text.lstrip("'").startswith(_FORMULA_STARTS)


def _line_if_text(value: object) -> object:
    return one_line(value) if isinstance(value, str) else value


def _lines_if_text(value: object) -> object:
    return lines_of_text(value) if isinstance(value, str) else value


_AS_LINE, _AS_LINES = BeforeValidator(_line_if_text), BeforeValidator(_lines_if_text)
#: A name, or nothing: one line, at most 120 characters. (The length first: it is then that of a text.)
Name = Annotated[str, Field(max_length=120), _AS_LINE]
#: A name that has to be given.
GivenName = Annotated[str, Field(min_length=1, max_length=120), _AS_LINE]
#: A name short enough for a drawing.
ShortName = Annotated[str, Field(min_length=1, max_length=24), _AS_LINE]
#: One line of at most 200 characters.
Line = Annotated[str, Field(max_length=200), _AS_LINE]
#: One line of at most 2000 characters: what a hand writes of one thing.
Remark = Annotated[str, Field(max_length=2000), _AS_LINE]
#: Lines of at most 20,000 characters in all.
Notes = Annotated[str, Field(max_length=20_000), _AS_LINES]
