"""OMM keywords in CSV: a header row naming the columns in any order, then one set a row.

No standard: the form catalogues hand out, with the keywords of CCSDS 502.0-B.
"""

from __future__ import annotations

import csv
from collections import Counter, deque
from collections.abc import Iterator
from contextlib import suppress
from itertools import islice

from core.base.floods import numbered_lines
from core.base.text import from_text_cell
from core.elements.readers.harvest import Harvest, shorten
from core.elements.readers.omm import MEAN_ELEMENT_KEYWORDS, add_message, sort_keywords

#: A record that a quoted line break spreads over more lines than this is taken as a damaged line.
_LINES_A_RECORD = 4
#: The standard has some 60 keywords.
_MOST_COLUMNS = 1000
#: A record with quotation marks that is longer is parted at its commas, whatever they enclose.
_LONGEST_RECORD = 64 * 1024


def read_csv(text: str, harvest: Harvest) -> None:
    """Read every row of a CSV file; a damaged row is refused alone."""
    rows = _Rows(text)
    header_line, header = next(rows, (0, []))
    columns = [name.strip().upper() for name in header]
    problem = _header_problem(columns)
    if problem:
        harvest.refuse(f"line {header_line}", *problem)
        return
    sort_keywords([name for name in columns if name], harvest)
    width = rows.width = len(columns)
    for line, row in rows:
        place = f"line {line}"
        if len(row) > width and not any(cell.strip(" ,") for cell in row[width:]):
            del row[width:]
        if len(row) != width:
            many = f"{len(row)} columns" if len(row) <= width + 1 else "more columns"
            harvest.refuse(place, "", f"has {many} where the header has {width}")
            continue
        message = dict(zip(columns, row, strict=True))
        if "OBJECT_NAME" in message:
            message["OBJECT_NAME"] = from_text_cell(message["OBJECT_NAME"])
        add_message(message, place, harvest)


def _header_problem(columns: list[str]) -> tuple[str, str] | None:
    """What makes a header useless for every row, as (field, reason)."""
    if len(columns) > _MOST_COLUMNS:
        return "", f"names more than {_MOST_COLUMNS} columns"
    for name, count in Counter(columns).items():
        if name and count > 1:
            return shorten(name, 40), "is named twice in the header"
    for name in (*MEAN_ELEMENT_KEYWORDS, "NORAD_CAT_ID"):
        if name not in columns and not (name == "MEAN_MOTION" and "SEMI_MAJOR_AXIS" in columns):
            return name, "is missing in the header, so no row can be read"
    return None


class _Rows:
    """(line number, cells) of every record that is not blank, as an iterator.

    Lines are parsed one by one, so that a stray quotation mark costs its own line and not the rest of the
    file; an open quotation is carried on over a few lines only.

    Attributes:
        width: how many columns the header has, 0 until it is known; a row is not parted into many more.
    """

    def __init__(self, text: str) -> None:
        self._lines = numbered_lines(text)
        self._ahead: deque[tuple[int, str]] = deque()
        self.width = 0

    def __iter__(self) -> Iterator[tuple[int, list[str]]]:
        return self

    def __next__(self) -> tuple[int, list[str]]:
        while True:
            number, line = self._ahead.popleft() if self._ahead else next(self._lines)
            row = self._record(line)
            if row and any(row):
                return number, row

    def _record(self, line: str) -> list[str]:
        """The cells of the record that begins with ``line``, which may go on over the next few."""
        most = self.width + 1 if self.width else _MOST_COLUMNS
        if '"' not in line:
            return line.split(",", most) if line.strip() else []
        if line.count('"') % 2:
            self._ahead.extend(islice(self._lines, _LINES_A_RECORD - 1 - len(self._ahead)))
            joined = line
            for taken, (_, following) in enumerate(self._ahead, start=1):
                joined = f"{joined}\n{following}"
                if joined.count('"') % 2 == 0:
                    row = self._cells(joined, most)
                    if len(row) == self.width or not self.width:
                        for _ in range(taken):
                            self._ahead.popleft()
                        return row
                    break
        return self._cells(line, most)

    def _cells(self, record: str, most: int) -> list[str]:
        """Of a record with quotation marks; split plainly where it cannot be one: the count will tell."""
        if len(record) <= _LONGEST_RECORD and record.count(",") >= self.width - 1:
            with suppress(csv.Error):  # a cell beyond the parser's limit
                return next(csv.reader([record]), [])
        return record.split(",", most)
