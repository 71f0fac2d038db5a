"""OMM keywords in CSV: a header row naming the columns in any order, then one set a row.

No standard: the form catalogues hand out, with the keywords of CCSDS 502.0-B.
"""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator

from core.base.text import from_text_cell
from core.elements.readers.harvest import Harvest, shorten
from core.elements.readers.omm import MEAN_ELEMENT_KEYWORDS, add_message, sort_keywords

#: A record that a quoted line break spreads over more lines than this is taken as a damaged line.
_LINES_A_RECORD = 4


def read_csv(text: str, harvest: Harvest) -> None:
    """Read every row of a CSV file; a damaged row is refused alone."""
    rows = _rows(text.split("\n"))
    header_line, header = next(rows, (0, []))
    columns = [name.strip().upper() for name in header]
    problem = _header_problem(columns)
    if problem:
        harvest.refuse(f"line {header_line}", *problem)
        return
    sort_keywords([name for name in columns if name], harvest)
    width = len(columns)
    for line, row in rows:
        place = f"line {line}"
        if len(row) > width and not any(cell.strip() for cell in row[width:]):
            del row[width:]
        if len(row) != width:
            harvest.refuse(place, "", f"has {len(row)} columns where the header has {width}")
            continue
        message = dict(zip(columns, row, strict=True))
        if "OBJECT_NAME" in message:
            message["OBJECT_NAME"] = from_text_cell(message["OBJECT_NAME"])
        add_message(message, place, harvest)


def _header_problem(columns: list[str]) -> tuple[str, str] | None:
    """What makes a header useless for every row, as (field, reason)."""
    for name, count in Counter(columns).items():
        if name and count > 1:
            return shorten(name, 40), "is named twice in the header"
    for name in (*MEAN_ELEMENT_KEYWORDS, "NORAD_CAT_ID"):
        if name not in columns and not (name == "MEAN_MOTION" and "SEMI_MAJOR_AXIS" in columns):
            return name, "is missing in the header, so no row can be read"
    return None


def _rows(lines: list[str]) -> Iterator[tuple[int, list[str]]]:
    """(line number, cells) of every record that is not blank.

    Lines are parsed one by one, so that a stray quotation mark costs its own line and not the rest of the
    file; an open quotation is carried on over a few lines only.
    """
    at, width = 0, 0
    while at < len(lines):
        taken, row = _record(lines, at, width)
        width = width or len(row)
        if row and any(row):
            yield at + 1, row
        at += taken


def _record(lines: list[str], at: int, width: int) -> tuple[int, list[str]]:
    """(lines used, cells) of the record that begins at ``lines[at]``; ``width`` is the header's, or 0."""
    line = lines[at]
    if '"' not in line:
        return 1, line.split(",") if line.strip() else []
    if line.count('"') % 2:
        for taken in range(2, _LINES_A_RECORD + 1):
            joined = "\n".join(lines[at : at + taken])
            if joined.count('"') % 2 == 0:
                row = _cells(joined)
                if len(row) == width or not width:
                    return taken, row
                break
    return 1, _cells(line)


def _cells(record: str) -> list[str]:
    try:
        return next(csv.reader([record]), [])
    except csv.Error:  # a cell beyond the parser's limit; split plainly, the count of columns will tell
        return record.split(",")
