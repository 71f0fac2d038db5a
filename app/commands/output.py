"""How commands speak: tables and JSON on standard output, one line each on standard error."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, TextIO

from core.base.units import Progress, no_progress


def say(text: str = "") -> None:
    """A line on standard output."""
    _write(sys.stdout, printable(text))


def tell(text: str) -> None:
    """One line on standard error; line breaks in it become spaces."""
    _write(sys.stderr, "northkey: " + " ".join(printable(text).split()))


def say_json(content: Any) -> None:
    """JSON on standard output, two spaces deep."""
    _write(sys.stdout, json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False))


def json_text(content: Any) -> str:
    """The same JSON made quickly; for content whose numbers are known to be finite."""
    from pydantic_core import to_json  # the window starts with this module, and Qt is to come after it

    return to_json(content, indent=2).decode()


def say_json_list(name: str, texts: Sequence[str], more: dict[str, Any]) -> None:
    """An object with a long list, whose items are JSON already, and then some more, on standard output."""
    rest = json.dumps(more, indent=2, ensure_ascii=False, allow_nan=False).removeprefix("{\n")
    _write(sys.stdout, f'{{\n  "{name}": [' + ("" if texts else f"],\n{rest}"), end="\n" if not texts else "")
    for number, text in enumerate(texts, start=1):
        tail = "," if number < len(texts) else f"\n  ],\n{rest}\n"
        _write(sys.stdout, "\n    " + text.replace("\n", "\n    ") + tail, end="")


def printable(text: str) -> str:
    """Names come from files of all kinds: what could move the cursor or end the line becomes a space."""
    return text if text.isprintable() else "".join(mark if mark.isprintable() else " " for mark in text)


def _write(stream: TextIO | None, text: str, end: str = "\n") -> None:
    """Write a line as far as the terminal's encoding goes; a stream that was closed takes nothing."""
    if stream is None:
        return
    try:
        stream.write(text + end)
    except UnicodeEncodeError:
        encoding = stream.encoding or "ascii"
        stream.write(text.encode(encoding, "backslashreplace").decode(encoding) + end)


@contextmanager
def shown_progress() -> Iterator[Progress]:
    """A callback that shows on a terminal how far a long computation is; its line is gone afterwards.

    Shown after a second, four times a second, and never where standard error is no terminal.
    """
    stream = sys.stderr
    if stream is None or not stream.isatty():
        yield no_progress
        return
    next_s = time.monotonic() + 1.0
    shown = False

    def show(done: int, total: int, what: str) -> bool:
        nonlocal next_s, shown
        if time.monotonic() >= next_s:
            next_s, shown = time.monotonic() + 0.25, True
            stream.write(f"\r{what}: {done} of {total}\x1b[K")
            stream.flush()
        return True

    try:
        yield show
    finally:
        if shown:
            stream.write("\r\x1b[K")
            stream.flush()


def say_table(heads: Sequence[str], rows: Iterable[Sequence[str]], left: Sequence[int] = (0,)) -> None:
    """A table with columns as wide as they need; ``left`` names the columns set flush left."""
    grid = [list(heads), *[[printable(cell) for cell in row] for row in rows]]
    widths = [max(len(row[column]) for row in grid) for column in range(len(heads))]
    for row in grid:
        cells = [
            cell.ljust(width) if column in left else cell.rjust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        say("  ".join(cells).rstrip())


def tell_all(sentences: Iterable[str]) -> None:
    """Each sentence on standard error."""
    for sentence in sentences:
        tell(sentence)
