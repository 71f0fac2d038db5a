"""Element files from the disk (I/O)."""

from __future__ import annotations

import codecs
from collections.abc import Iterable
from dataclasses import replace
from os import PathLike
from pathlib import Path

from core.base.errors import ElementsError
from core.base.units import Progress, no_progress
from core.elements.reading import ElementReading, merge_readings, read_elements

#: Larger files are refused: the whole public catalogue is 5 to 30 MB in any form.
LARGEST_FILE_BYTES = 256 * 1024 * 1024
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
        source = Path(path)
        if source.is_dir():
            return _refused(file, "is a folder, name the files in it")
        with source.open("rb") as stream:
            content = stream.read(LARGEST_FILE_BYTES + 1)
    except FileNotFoundError:
        return _refused(file, "does not exist")
    except PermissionError:
        return _refused(file, "may not be read (no permission)")
    except (OSError, ValueError) as error:  # ValueError: a path with a NUL in it
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        return _refused(file, f"cannot be read: {reason}")
    if len(content) > LARGEST_FILE_BYTES:
        return _refused(file, f"is larger than {LARGEST_FILE_BYTES // 1024**2} MiB, so it is no element file")
    text, notes = _decoded(content, file)
    reading = read_elements(text, file, progress)
    return replace(reading, notes=(*notes, *reading.notes))


def _decoded(content: bytes, file: str) -> tuple[str, tuple[str, ...]]:
    encoding = "utf-16" if content.startswith(_UTF_16_MARKS) else "utf-8"
    try:
        return content.decode(encoding), ()
    except UnicodeDecodeError:
        return content.decode("latin-1"), (f"{file}: not UTF-8, read as Latin-1",)


def _refused(file: str, reason: str) -> ElementReading:
    return ElementReading(refused=(ElementsError(file, "", "", reason),))
