"""Element files of every form into element sets, with what was refused and why.

The form is told from the content, never from the file's name. A damaged set is refused with file, place,
field and reason and never stops the good ones; no text whatever makes the readers raise.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass

from core.base.errors import ElementsError
from core.base.units import Progress, no_progress
from core.elements.found import Found, Origin
from core.elements.model import ElementSet
from core.elements.readers.harvest import Enough, Harvest
from core.elements.readers.omm import STANDARD_KEYWORDS
from core.elements.readers.omm_csv import read_csv
from core.elements.readers.omm_json import read_json
from core.elements.readers.omm_kvn import read_kvn
from core.elements.readers.omm_xml import read_xml
from core.elements.readers.tle import read_two_line

FORMS_READ = "two-line element sets, and orbit mean-elements messages (OMM) as KVN, XML, JSON or CSV"


@dataclass(frozen=True)
class ElementReading:
    """What was read from one or several files.

    Attributes:
        sets: one element set an object, in the order of the files.
        refused: what could not be used, and why; in the order of the files, duplicates last. Of a flood of
            them the first thousand of each kind, and one that counts the rest.
        notes: sentences about what was dropped, left aside or assumed.
        origins: for each of ``sets`` where it stood.
    """

    sets: tuple[ElementSet, ...] = ()
    refused: tuple[ElementsError, ...] = ()
    notes: tuple[str, ...] = ()
    origins: tuple[Origin, ...] = ()


def read_elements(text: str, file: str, progress: Progress = no_progress) -> ElementReading:
    """Every usable element set of one file's text.

    Args:
        text: the content; a byte order mark and any line ends are taken.
        file: the name to tell in refusals and notes.
        progress: called every so many sets with their number; how many there are in all is not known (0).

    Returns:
        At most one set an object: of several with one catalogue number the newest is kept and the others
        are refused, each naming the one it gave way to. A text of no known form gives one refusal.

    Raises:
        Cancelled: ``progress`` returned False; nothing else is ever raised.
    """
    text = text.removeprefix("\ufeff")
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    harvest = Harvest(file, progress)
    reader = _reader(text)
    if reader is None:
        what = "is empty" if not text.strip() else "holds no element sets in a known form"
        harvest.refuse("", "", f"{what}; read are {FORMS_READ}")
    else:
        with suppress(Enough):
            reader(text, harvest)
        if not harvest.found and not harvest.refused:
            harvest.refuse("", "", f"holds no element sets; read are {FORMS_READ}")
    refused = harvest.refused.kept + _rest(file, harvest.refused.more, "are refused")
    return _reading(harvest.found, refused, harvest.notes(), file)


def merge_readings(readings: Iterable[ElementReading]) -> ElementReading:
    """Several readings as one; an object in more than one of them is kept once, the newest set."""
    found = Found()
    refused: list[ElementsError] = []
    notes: list[str] = []
    for reading in readings:
        for origin, elements in zip(reading.origins, reading.sets, strict=True):
            found.take(origin, elements)
        refused += reading.refused
        notes += reading.notes
    return _reading(found, refused, notes, "all files")


def _reading(
    found: Found, refused: Iterable[ElementsError], notes: Iterable[str], file: str
) -> ElementReading:
    gave_way = found.gave_way.kept + _rest(file, found.gave_way.more, "gave way to others of their object")
    return ElementReading(
        sets=found.sets, refused=(*refused, *gave_way), notes=tuple(notes), origins=found.origins
    )


def _rest(file: str, more: int, verb: str) -> list[ElementsError]:
    """One refusal that counts those that are not told one by one; none where all are."""
    return [ElementsError(file, "", "", f"{more} more {verb}; they are not listed")] if more else []


_XML = re.compile(r"<(?:[\w.-]+:)?(?:omm|ndm)\b")
_JSON = re.compile(r'"[A-Z_]{2,40}"[ \t\r\n]{0,20}:')
_KVN = re.compile(r"^[ \t]*(?:CCSDS_OMM_VERS|OBJECT_NAME|EPOCH|MEAN_MOTION|NORAD_CAT_ID)[ \t]*=", re.M)
_TWO_LINE = re.compile(r"^[12] (?:[ 0-9A-Z][ 0-9]{3}[0-9]|.{38})", re.M)
#: The columns of a header beyond so many letters do not tell a form.
_FIRST_LINE = re.compile(r"\s*([^\n]{0,20000})")
#: What only one form contains. The first to appear tells the form, since names come after such signs.
_SIGNS = ((_XML, read_xml), (_JSON, read_json), (_KVN, read_kvn), (_TWO_LINE, read_two_line))


def _reader(text: str) -> Callable[[str, Harvest], None] | None:
    """The reader for a text's form, told by what only that form contains; None where none fits."""
    first_line = _FIRST_LINE.match(text)
    columns = first_line.group(1).upper().split(",") if first_line else []
    if sum(column.strip(' "') in STANDARD_KEYWORDS for column in columns) >= 3:
        return read_csv
    signs = [(match.start(), reader) for pattern, reader in _SIGNS if (match := pattern.search(text))]
    if signs:
        return min(signs, key=lambda sign: sign[0])[1]
    start = text.lstrip()[:1]
    return read_xml if start == "<" else read_json if start and start in "[{" else None
