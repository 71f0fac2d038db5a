"""How commands speak: tables and JSON on standard output, one line each on standard error."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from typing import Any


def say(text: str = "") -> None:
    """A line on standard output."""
    sys.stdout.write(text + "\n")


def tell(text: str) -> None:
    """One line on standard error; line breaks in it become spaces."""
    sys.stderr.write("northkey: " + " ".join(text.split()) + "\n")


def say_json(content: Any) -> None:
    """JSON on standard output, two spaces deep."""
    say(json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False))


def say_table(heads: Sequence[str], rows: Iterable[Sequence[str]], left: Sequence[int] = (0,)) -> None:
    """A table with columns as wide as they need; ``left`` names the columns set flush left."""
    grid = [list(heads), *[list(row) for row in rows]]
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
