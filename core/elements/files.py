"""Element files from the disk (I/O)."""

from __future__ import annotations

import codecs
from collections.abc import Iterable
from dataclasses import replace
from os import PathLike

from core.base.errors import ElementsError, FileProblem
from core.base.files import read_file
from core.base.units import Progress, no_progress
from core.elements.reading import ElementReading, merge_readings, read_elements

#: Larger files are refused: the whole public catalogue is 5 to 40 MB in any form.
LARGEST_FILE_BYTES = 64 * 1024 * 1024
_UTF_16_MARKS = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def read_element_files(
    paths: Iterable[str | PathLike[str]], progress: Progress = no_progress
) -> ElementReading:
    """Every usable element set of several files, each told by its path as given.

    A file that cannot be read is one refusal; nothing is raised for it. Text is UTF-8 (UTF-16 with a byte
    order mark); what is neither is read as Latin-1, which takes any byte, and noted.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    return merge_readings(_read_file(path, progress) for path in paths)


def _read_file(path: str | PathLike[str], progress: Progress) -> ElementReading:
    file = str(path)
    try:
        content = read_file(path, LARGEST_FILE_BYTES, progress, what="element file")
    except FileProblem as problem:
        return ElementReading(refused=(ElementsError(file, "", "", problem.reason),))
    text, notes = _decoded(content, file)
    reading = read_elements(text, file, progress)
    return replace(reading, notes=(*notes, *reading.notes))


def _decoded(content: bytes, file: str) -> tuple[str, tuple[str, ...]]:
    encoding = "utf-16" if content.startswith(_UTF_16_MARKS) else "utf-8"
    try:
        return content.decode(encoding), ()
    except UnicodeDecodeError:
        return content.decode("latin-1"), (f"{file}: not UTF-8, read as Latin-1",)
