"""Reads a horizon mask from a text file of bearings and elevations (I/O)."""

from __future__ import annotations

import re
from pathlib import Path

from pydantic import ValidationError

from core.base.errors import FileProblem
from core.base.files import read_file
from core.base.floods import numbered_lines
from core.base.units import Progress, no_progress
from core.place.site import MOST_POINTS, HorizonPoint

#: What the head of a column starts with, in small letters.
_AZIMUTH_HEADS = ("az", "bearing")
_ELEVATION_HEADS = ("el", "alt", "horizon", "mask")
#: No two parts of it take the same digits, so that a long row of them is gone through once.
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?")
_LONGEST_NUMBER = 40
_LONGEST_LINE = 10_000
#: Two thousand points with their remarks are far smaller.
_LARGEST_BYTES = 1024 * 1024


def read_horizon_file(path: str | Path, progress: Progress = no_progress) -> tuple[HorizonPoint, ...]:
    """The mask in a file; see `read_horizon_csv`.

    Raises:
        FileProblem: the file cannot be read, is larger than any mask, or a line of it is wrong.
        Cancelled: ``progress`` returned False.
    """
    data = read_file(path, _LARGEST_BYTES, progress, what="horizon file")
    return read_horizon_csv(_decoded(data), str(path))


def read_horizon_csv(text: str, file: str) -> tuple[HorizonPoint, ...]:
    """The points of a mask, one a line, in the order of the lines.

    A line holds a true bearing in degrees, 0 to 360, and an elevation in degrees, -10 to 90, parted by a
    semicolon, a tab, a comma or spaces; a decimal comma is read where a semicolon or a tab parts them. From
    ``#`` to the line's end is comment. The first line may name the columns, and they are then found by name
    in any order (``azimuth`` or ``bearing``; ``elevation``, ``altitude``, ``horizon`` or ``mask``).

    Args:
        text: the file's text.
        file: its name, for the errors.

    Raises:
        FileProblem: a line is wrong, naming it, or there is no point at all, or more than a mask has.
    """
    points: list[HorizonPoint] = []
    columns: tuple[int, int] | None = None
    first = True
    unix = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    for number, line in numbered_lines(unix):
        if len(line) > _LONGEST_LINE:
            raise FileProblem(file, f"line {number}", f"is longer than {_LONGEST_LINE} letters")
        fields = _fields(line)
        if not fields:
            continue
        if first and not any(map(_is_number, fields)):
            columns = _columns(fields)
        elif len(points) == MOST_POINTS:
            raise FileProblem(file, f"line {number}", f"is beyond the {MOST_POINTS} points a mask can have")
        else:
            points.append(_point(fields, columns, file, f"line {number}"))
        first = False
    if not points:
        raise FileProblem(file, "", "holds no horizon points; write a bearing and an elevation on each line")
    return tuple(points)


def _fields(line: str) -> list[str]:
    """The cells of a line without comment, blanks, quotes and degree signs; decimal commas as points."""
    line = line.split("#", 1)[0].strip(" \r\n")
    separator = next((mark for mark in ";\t," if mark in line), None)
    cells = [cell.strip().strip("\"'°").strip() for cell in line.split(separator)]
    while cells and not cells[-1]:
        cells.pop()
    return [cell.replace(",", ".") for cell in cells] if separator in (";", "\t") else cells


def _is_number(cell: str) -> bool:
    return len(cell) <= _LONGEST_NUMBER and _NUMBER.fullmatch(cell) is not None


def _columns(heads: list[str]) -> tuple[int, int] | None:
    """The places of bearing and elevation as the column heads tell, or None where they do not."""
    words = [head.casefold() for head in heads]
    azimuth = [i for i, word in enumerate(words) if word.startswith(_AZIMUTH_HEADS)]
    elevation = [i for i, word in enumerate(words) if word.startswith(_ELEVATION_HEADS)]
    return (azimuth[0], elevation[0]) if len(azimuth) == len(elevation) == 1 else None


def _point(fields: list[str], columns: tuple[int, int] | None, file: str, place: str) -> HorizonPoint:
    if columns is None:
        if len(fields) != 2:
            raise FileProblem(
                file, place, f"has {len(fields)} columns where a bearing and an elevation are wanted"
            )
        columns = (0, 1)
    if len(fields) <= max(columns):
        raise FileProblem(file, place, "lacks the bearing or the elevation")
    azimuth, elevation = (fields[column] for column in columns)
    for cell in (azimuth, elevation):
        if not _is_number(cell):
            raise FileProblem(file, place, f"{cell[:40]!r} is not a number of degrees")
    try:
        return HorizonPoint(azimuth_deg=float(azimuth), elevation_deg=float(elevation))
    except ValidationError as error:
        if error.errors()[0]["loc"] == ("azimuth_deg",):
            reason = f"the bearing is {azimuth}, it must be 0 to 360, clockwise from true north"
        else:
            reason = f"the elevation is {elevation}, it must be -10 to 90"
        raise FileProblem(file, place, reason) from None


def _decoded(data: bytes) -> str:
    """Text of a file as editors and spreadsheets write it; figures read the same in all these encodings."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")
