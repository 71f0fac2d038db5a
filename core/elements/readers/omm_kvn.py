"""OMM as keyword = value lines (CCSDS 502.0-B, sections 4 and 7); several messages may follow one another.

Keywords are written in capitals, as the standard has it; a keyword in small letters is one that the
standard does not know.
"""

from __future__ import annotations

from core.base.floods import numbered_lines
from core.elements.readers.harvest import Fault, Harvest, lines_told, shorten
from core.elements.readers.omm import (
    METADATA_KEYWORDS,
    STANDARD_KEYWORDS,
    add_message,
    sort_keywords,
    without_unit,
)

_START = "CCSDS_OMM_VERS"
#: Keywords that stand before the data of a message.
_BEFORE_DATA = frozenset({"CREATION_DATE", "ORIGINATOR", *METADATA_KEYWORDS})
#: A line that begins like a keyword's but has lost its equals sign.
_KEYWORDS = tuple(sorted(STANDARD_KEYWORDS - {"COMMENT"}))


def read_kvn(text: str, harvest: Harvest) -> None:
    """Read every message of a KVN text; a damaged one is refused alone.

    A message begins at ``CCSDS_OMM_VERS``, or, where that line is lost, at the first keyword of a header
    or of metadata after data. Comments may stand anywhere.
    """
    message = _Message(harvest)
    for number, raw in numbered_lines(text):
        line = raw.strip()
        if not line or line == "COMMENT" or line.startswith(("COMMENT ", "COMMENT\t", "COMMENT=")):
            continue
        keyword, equals, value = line.partition("=")
        keyword = keyword.strip()
        if not equals:
            message.take_stray(line, number)
            continue
        if keyword == _START or (message.has_data and keyword in _BEFORE_DATA):
            message.close()
            message = _Message(harvest)
        message.take(keyword, value.strip(), number)
    message.close(cut_off=not text.endswith("\n"))


class _Message:
    """One message as its lines come in."""

    def __init__(self, harvest: Harvest) -> None:
        self._harvest = harvest
        self._fields: dict[str, str] = {}
        self._lines: dict[str, int] = {}
        #: The first line of a keyword that the standard does not know, 0 where there is none.
        self._first = 0
        self._fault: Fault | None = None
        #: First and last line of text without an equals sign, 0 where there is none.
        self._stray = (0, 0)
        self.has_data = False

    def take(self, keyword: str, value: str, number: int) -> None:
        """One ``keyword = value`` line; the first fault of a message is the one told."""
        standard = keyword in STANDARD_KEYWORDS
        if not standard:
            sort_keywords([keyword] if keyword else [], self._harvest)
            self._first = self._first or number
            return
        twice = keyword in self._lines
        fault = Fault(keyword, "is given twice in one message") if twice else None
        self._lines[keyword] = number
        try:
            self._fields[keyword] = without_unit(keyword, value)
        except Fault as wrong_unit:
            fault = fault or wrong_unit
        self._fault = self._fault or fault
        self.has_data = self.has_data or (keyword != _START and keyword not in _BEFORE_DATA)

    def take_stray(self, line: str, number: int) -> None:
        """A line without an equals sign: a damaged keyword line spoils the message, other text does not."""
        if line.startswith(_KEYWORDS):
            damaged = Fault("", f"'{shorten(line, 40)}' has no equals sign")
            self._fault = self._fault or damaged
            self._lines.setdefault("", number)
        else:
            self._stray = (self._stray[0] or number, number)

    def close(self, *, cut_off: bool = False) -> None:
        """Make the message a set or a refusal; a text without a single known keyword is no message.

        ``cut_off`` says that its last line has no end. If the two-line parameters are not complete either,
        the last number itself may be half a number.
        """
        if self._stray[0]:
            self._harvest.refuse(lines_told(*self._stray), "", "text that belongs to no message")
        sort_keywords(self._fields, self._harvest)
        if not self._fault and not self._fields:
            return
        begun = min(self._lines.values())
        start = f"line {min(begun, self._first or begun)}"
        if self._fault:
            at = self._lines.get(self._fault.field)
            self._harvest.refuse(f"line {at}" if at else start, self._fault.field, self._fault.reason)
            return
        if cut_off and not {"BSTAR", "MEAN_MOTION_DOT"} <= self._fields.keys():
            self._harvest.refuse(start, "", "cut short: the file ends within this message")
            return
        if _START not in self._fields:
            self._harvest.assume(f"{_START} missing, taken as an orbit mean-elements message", start)
        add_message(self._fields, start, self._harvest, lines=self._lines, metadata_expected=True)
