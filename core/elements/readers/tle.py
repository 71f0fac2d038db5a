"""Two-line element sets, column by column (AIAA 2006-6753, appendix B; catalogue numbers also Alpha-5)."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from core.base.errors import ValueRangeError
from core.base.floods import numbered_lines
from core.elements.epochs import two_line_epoch
from core.elements.model import ElementSet
from core.elements.readers.harvest import Fault, Harvest, lines_told, shorten
from core.elements.readers.omm import validated

#: The first letters of Alpha-5 numbers in order, A for 10 to Z for 33; I and O are skipped.
_ALPHA_5_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
_NUMBER_FORM = "five digits, or a letter other than I and O and four digits"
_ALPHA_5 = re.compile(r"[A-HJ-NP-Z][0-9]{4}")
_PLAIN_5 = re.compile(r" {0,4}[0-9]{1,5}")

#: What each character adds to a checksum.
_CHECK_VALUES = bytes(mark - 48 if 48 <= mark <= 57 else 1 if mark == ord("-") else 0 for mark in range(256))

#: A line beyond this is no name: two-line files give names 24 places, some give more.
_LONGEST_NAME = 60
_ELEMENT_LINE = re.compile(r"[12] (?:[ 0-9A-Z][ 0-9]{3}[0-9](?:[A-Z ] |$)|.{38})")


def from_alpha5(text: str) -> int:
    """Catalogue number of a five-place field: digits, or a letter (no I, no O) and four digits.

    Raises:
        ValueRangeError: the text is neither.
    """
    if _ALPHA_5.fullmatch(text):
        return (_ALPHA_5_LETTERS.index(text[0]) + 10) * 10_000 + int(text[1:])
    if len(text) == 5 and _PLAIN_5.fullmatch(text):
        return int(text)
    raise ValueRangeError(
        "NORAD_CAT_ID",
        f"'{shorten(text, 20)}'",
        "five digits, or a letter other than I and O and four digits",
    )


def checksum(line: str) -> int:
    """Sum of the digits in the first 68 columns, each minus sign as 1, modulo 10 (appendix B, note 8)."""
    return sum(line[:68].encode("ascii", "replace").translate(_CHECK_VALUES)) % 10


@dataclass(frozen=True)
class _Columns:
    """One field of a line: columns counted from 1, both ends included."""

    field: str
    first: int
    last: int
    pattern: str
    form: str


def _right(width: int) -> str:
    """A pattern for a number set to the right of so many columns, blanks before it."""
    return "(?:" + "|".join(" " * blanks + "[0-9]" * (width - blanks) for blanks in range(width)) + ")"


_ANGLE, _ANGLE_FORM = _right(3) + r"\.[0-9]{4}", "a number such as 160.4574"
_EXPONENT, _EXPONENT_FORM = r"[ +-][0-9]{5}[+-][0-9]", "sign, five digits, exponent, such as ' 27310-3'"
_EPOCH = _right(2) + _right(3) + r"\.[0-9]{8}"
_CATALOGUE = _Columns("NORAD_CAT_ID", 3, 7, _right(5) + "|[A-HJ-NP-Z][0-9]{4}", _NUMBER_FORM)
_LINE_1 = (
    _CATALOGUE,
    _Columns("CLASSIFICATION_TYPE", 8, 8, r"[A-Z ]", "a capital letter or blank"),
    _Columns("OBJECT_ID", 10, 17, r"[0-9]{5}(?:[A-Z][A-Z ]{2}| {3})| {8}", "a designator such as '98067A  '"),
    _Columns("EPOCH", 19, 32, _EPOCH, "year and day such as 24127.82853009"),
    _Columns("MEAN_MOTION_DOT", 34, 43, r"[ +-]\.[0-9]{8}", "sign, point and eight digits"),
    _Columns("MEAN_MOTION_DDOT", 45, 52, _EXPONENT, _EXPONENT_FORM),
    _Columns("BSTAR", 54, 61, _EXPONENT, _EXPONENT_FORM),
    _Columns("EPHEMERIS_TYPE", 63, 63, r"[0-9 ]", "a digit or blank"),
    _Columns("ELEMENT_SET_NO", 65, 68, _right(4) + "| {4}", "a number of up to four digits"),
    _Columns("checksum", 69, 69, r"[0-9]", "a digit"),
)
_LINE_2 = (
    _CATALOGUE,
    _Columns("INCLINATION", 9, 16, _ANGLE, _ANGLE_FORM),
    _Columns("RA_OF_ASC_NODE", 18, 25, _ANGLE, _ANGLE_FORM),
    _Columns("ECCENTRICITY", 27, 33, r"[0-9]{7}", "seven digits, the point implied before them"),
    _Columns("ARG_OF_PERICENTER", 35, 42, _ANGLE, _ANGLE_FORM),
    _Columns("MEAN_ANOMALY", 44, 51, _ANGLE, _ANGLE_FORM),
    _Columns("MEAN_MOTION", 53, 63, _right(2) + r"\.[0-9]{8}", "a number such as 15.50957674"),
    _Columns("REV_AT_EPOCH", 64, 68, _right(5) + "| {5}", "a number of up to five digits"),
    _Columns("checksum", 69, 69, r"[0-9]", "a digit"),
)


def _pattern(columns: tuple[_Columns, ...]) -> re.Pattern[str]:
    """A whole line as one pattern: a group for each field, single blanks between."""
    pattern, end = ".", 1
    for column in columns:
        pattern += " " * (column.first - 1 - end) + f"({column.pattern})"
        end = column.last
    return re.compile(pattern)


_PATTERNS = {"1": _pattern(_LINE_1), "2": _pattern(_LINE_2)}
_COLUMNS = {"1": _LINE_1, "2": _LINE_2}


def _fields(line: str, number: str) -> dict[str, str]:
    """The fields of line 1 or 2 by keyword, each of the right form; the checksum is verified.

    Raises:
        Fault: the line's length, a column to be blank, a field's form or the checksum is wrong.
    """
    if len(line) != 69:
        kind = "is cut short at" if len(line) < 69 else "runs on to"
        raise Fault("", f"line {number} {kind} {len(line)} columns, a two-line set has 69")
    match = _PATTERNS[number].fullmatch(line)
    if match is None:
        raise _form_fault(line, number)
    values = dict(zip((column.field for column in _COLUMNS[number]), match.groups(), strict=True))
    computed = checksum(line)
    if int(values["checksum"]) != computed:
        reason = f"line {number} ends in {values['checksum']}, its columns add up to {computed}"
        raise Fault("checksum", reason)
    return values


def _form_fault(line: str, number: str) -> Fault:
    """The first field of a line that is not of its form, or the first column that should be blank."""
    end = 1
    for column in _COLUMNS[number]:
        between = line[end : column.first - 1]
        if between.strip(" "):
            at = f"line {number}, column {end + 1}"
            return Fault(column.field, f"{at} holds '{shorten(between)}', it must be blank")
        text = line[column.first - 1 : column.last]
        if re.fullmatch(column.pattern, text) is None:
            places = f"columns {column.first} to {column.last}" if len(text) > 1 else f"column {column.last}"
            verb = "hold" if len(text) > 1 else "holds"
            reason = f"line {number}, {places} {verb} '{shorten(text)}', it must be {column.form}"
            return Fault(column.field, reason)
        end = column.last
    return Fault("", f"line {number} is not of the two-line form")


def _exponent_field(text: str) -> float:
    """A mantissa with its point implied before it and a one-digit exponent, e.g. ``-11606-4``."""
    return float(f"{text[0].strip()}.{text[1:6]}e{text[6:]}")


def _object_id(text: str) -> str:
    """The designator's OMM form, e.g. 1998-067A from ``98067A``; years 57 to 99 are 1957 to 1999."""
    if not text.strip():
        return ""
    century = 19 if text[:2] >= "57" else 20
    return f"{century}{text[:2]}-{text[2:].rstrip()}"


def parse_pair(line_1: str, line_2: str, name: str = "") -> ElementSet:
    """The element set of two lines without trailing blanks; without a name it is ``object <number>``.

    Raises:
        Fault: a line is malformed, the lines belong to different objects, or a value is out of range.
    """
    first = _fields(line_1, "1")
    second = _fields(line_2, "2")
    if first["NORAD_CAT_ID"] != second["NORAD_CAT_ID"]:
        raise Fault(
            "NORAD_CAT_ID",
            f"is '{first['NORAD_CAT_ID']}' in line 1 but '{second['NORAD_CAT_ID']}' in line 2",
        )
    norad_id = from_alpha5(first["NORAD_CAT_ID"])
    epoch = first["EPOCH"]
    try:
        epoch_text = two_line_epoch(int(epoch[:2]), int(epoch[2:5]), int(epoch[6:]))
    except ValueRangeError as error:
        raise Fault("EPOCH", f"is {error.value}, it must be {error.allowed}") from None
    values: dict[str, Any] = {
        "OBJECT_NAME": name or f"object {norad_id}",
        "OBJECT_ID": _object_id(first["OBJECT_ID"]),
        "EPOCH": epoch_text,
        "MEAN_MOTION": float(second["MEAN_MOTION"]),
        "ECCENTRICITY": float("." + second["ECCENTRICITY"]),
        "EPHEMERIS_TYPE": int(first["EPHEMERIS_TYPE"].strip() or 0),
        "CLASSIFICATION_TYPE": first["CLASSIFICATION_TYPE"],
        "NORAD_CAT_ID": norad_id,
        "ELEMENT_SET_NO": int(first["ELEMENT_SET_NO"].strip() or 0),
        "REV_AT_EPOCH": int(second["REV_AT_EPOCH"].strip() or 0),
        "BSTAR": _exponent_field(first["BSTAR"]),
        "MEAN_MOTION_DOT": float(first["MEAN_MOTION_DOT"]),
        "MEAN_MOTION_DDOT": _exponent_field(first["MEAN_MOTION_DDOT"]),
    }
    for keyword in ("INCLINATION", "RA_OF_ASC_NODE", "ARG_OF_PERICENTER", "MEAN_ANOMALY"):
        values[keyword] = float(second[keyword])
    return validated(values)


def read_two_line(text: str, harvest: Harvest) -> None:
    """Read every two-line set of a text, with or without name lines; a damaged one is refused alone.

    A name line may begin with ``0 ``. Blank lines and lines that begin with ``#`` are passed over.
    """
    reader = _Reader(harvest)
    for number, raw in numbered_lines(text):
        line = raw.rstrip()
        if not line or line.startswith("#"):
            continue
        if reader.awaits_line_2 and line.startswith("2 "):
            reader.take_line_2(line, number)  # however short: no name is due here
        elif not _ELEMENT_LINE.match(line):
            reader.take_other(line, number)
        elif line[0] == "1":
            reader.take_line_1(line, number)
        else:
            reader.take_line_2(line, number)
    reader.finish()


class _Reader:
    """Puts names, first and second lines together; line numbers count from 1, 0 is none."""

    def __init__(self, harvest: Harvest) -> None:
        self._harvest = harvest
        #: The lines that may be names: number of the first, the last but one and the last, and its text.
        self._names: tuple[int, int, int, str] | None = None
        self._line_1 = ""
        self._line_1_at = 0
        self._line_1_name = ""
        #: An unreadable line stood where line 1 was due: the line 2 after it shares its refusal.
        self._after_unreadable = False

    @property
    def awaits_line_2(self) -> bool:
        """A line 1 has been taken."""
        return bool(self._line_1)

    def take_line_1(self, line: str, number: int) -> None:
        self._drop_line_1("line 1 of a two-line set without a line 2 after it")
        self._line_1_name = self._last_name()
        self._line_1, self._line_1_at, self._after_unreadable = line, number, False

    def take_line_2(self, line: str, number: int) -> None:
        if self._line_1:
            place = f"line {self._line_1_at}"
            try:
                self._harvest.add(place, parse_pair(self._line_1, line, self._line_1_name))
            except Fault as fault:
                self._harvest.refuse(place, fault.field, fault.reason)
        elif not self._after_unreadable:
            reason = "line 2 of a two-line set without its line 1 before it"
            self._harvest.refuse(f"line {number}", "", reason)
            self._names = None
        self._line_1, self._after_unreadable = "", False

    def take_other(self, line: str, number: int) -> None:
        """A name, or an unreadable line; several in a row are told once, and the last may be a name."""
        if len(line) <= _LONGEST_NAME:
            self._drop_line_1("line 1 of a two-line set without a line 2 after it")
            self._note(number, line.removeprefix("0 ").strip())
            self._after_unreadable = False
        elif self._line_1:
            self._drop_line_1(f"its line 2 was due at line {number}, which is unreadable")
        else:
            self._note(number, "")
            self._drop_names()
            self._after_unreadable = True

    def finish(self) -> None:
        self._drop_line_1("line 1 of a two-line set without a line 2 after it")
        self._drop_names()

    def _drop_line_1(self, reason: str) -> None:
        if self._line_1:
            self._harvest.refuse(f"line {self._line_1_at}", "", reason)
        self._line_1 = ""

    def _note(self, number: int, name: str) -> None:
        first, _, before, _ = self._names or (number, 0, number, "")
        self._names = first, before, number, name

    def _last_name(self) -> str:
        """The last of the names, which is the set's; what stands before it is refused."""
        if self._names is None:
            return ""
        first, before, last, name = self._names
        self._names = (first, first, before, "") if first < last else None
        self._drop_names()
        return name

    def _drop_names(self) -> None:
        if self._names is not None:
            first, _, last, _ = self._names
            self._harvest.refuse(lines_told(first, last), "", "no two-line set belongs to this text")
        self._names = None
