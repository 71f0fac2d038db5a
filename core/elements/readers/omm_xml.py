"""OMM as XML (CCSDS 505.0-B): one ``omm``, or several in an ``ndm``, under any namespace prefix.

Read as a stream by expat, which follows no reference outside the text. A document type declaration is
refused at its first character, and with it every entity that could be blown up.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from xml.parsers import expat

from core.elements.readers.harvest import Fault, Harvest, shorten
from core.elements.readers.omm import STANDARD_KEYWORDS, add_message, check_unit, sort_keywords

_LONGEST_VALUE = 10_000
_OPENING = re.compile(r"<(?:[\w.-]+:)?omm(?=[\s>/])")
_CLOSING = re.compile(r"</(?:[\w.-]+:)?omm\s*>")
_WRAPPER = re.compile(r"</?(?:[\w.-]+:)?ndm\b[^<>]*>|<\?[^<>]*>|<!--[^<>]*-->|\ufeff")
_DOCTYPE = re.compile(r"<!DOCTYPE|<!ENTITY", re.IGNORECASE)
_NO_DOCTYPE = "has a document type declaration, which element files do not need: not read"


class _Forbidden(Exception):
    """A document type declaration."""


@dataclass
class _Message:
    """One ``omm`` as its elements come in."""

    line: int
    fields: dict[str, str] = field(default_factory=dict)
    lines: dict[str, int] = field(default_factory=dict)
    fault: Fault | None = None


def read_xml(text: str, harvest: Harvest) -> None:
    """Read every message of an XML text; where it is not well-formed, every message that is by itself."""
    try:
        messages = _Parser(1).parse(text)
    except _Forbidden:
        harvest.refuse("", "", _NO_DOCTYPE)
        return
    except expat.ExpatError as error:
        if _DOCTYPE.search(text):
            harvest.refuse("", "", _NO_DOCTYPE)
        else:
            _salvage(text, error, harvest)
        return
    if not messages:
        harvest.refuse("", "", "is XML, but without an orbit mean-elements message (omm)")
    for message in messages:
        _add(message, harvest)


class _Parser:
    """Expat's callbacks: every element without children inside an ``omm`` is a keyword and its value."""

    def __init__(self, first_line: int) -> None:
        self._first_line = first_line
        self._messages: list[_Message] = []
        self._current: _Message | None = None
        self._depth = 0
        self._leaf = False
        self._text: list[str] = []
        self._attributes: dict[str, str] = {}
        self._expat = expat.ParserCreate("utf-8")
        self._expat.buffer_text = True
        self._expat.StartDoctypeDeclHandler = self._forbid
        self._expat.EntityDeclHandler = self._forbid
        self._expat.StartElementHandler = self._start
        self._expat.EndElementHandler = self._end
        self._expat.CharacterDataHandler = self._characters

    def parse(self, text: str) -> list[_Message]:
        """Every message of the text.

        Raises:
            expat.ExpatError: the text is not well-formed.
            _Forbidden: it has a document type declaration.
        """
        self._expat.Parse(text.encode("utf-8", "replace"), True)
        return self._messages

    def _forbid(self, *_arguments: object) -> None:
        raise _Forbidden

    def _line(self) -> int:
        return self._first_line - 1 + self._expat.CurrentLineNumber

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        self._leaf, self._attributes = True, attributes
        self._text.clear()
        if self._current is not None:
            self._depth += 1
        elif tag.rpartition(":")[2] == "omm":
            self._current, self._depth = _Message(self._line()), 0

    def _characters(self, text: str) -> None:
        if len(self._text) < 64:
            self._text.append(text[:_LONGEST_VALUE])

    def _end(self, tag: str) -> None:
        message = self._current
        if message is None:
            return
        if self._depth == 0:
            self._messages.append(message)
            self._current = None
        elif self._leaf:
            self._keyword(message, tag.rpartition(":")[2], "".join(self._text).strip())
        self._depth -= 1
        self._leaf = False

    def _keyword(self, message: _Message, keyword: str, value: str) -> None:
        fault = None
        if keyword in STANDARD_KEYWORDS and keyword != "COMMENT" and keyword in message.fields:
            fault = Fault(keyword, "is given twice in one message")
        message.fields[keyword] = value
        message.lines[keyword] = self._line()
        try:
            if "units" in self._attributes:
                check_unit(keyword, self._attributes["units"])
        except Fault as wrong_unit:
            fault = fault or wrong_unit
        message.fault = message.fault or fault


def _add(message: _Message, harvest: Harvest) -> None:
    sort_keywords(list(message.fields), harvest)
    place = f"line {message.line}"
    if message.fault:
        at = message.lines[message.fault.field]
        harvest.refuse(f"line {at}", message.fault.field, message.fault.reason)
    else:
        add_message(message.fields, place, harvest, lines=message.lines, metadata_expected=True)


def _salvage(text: str, error: expat.ExpatError, harvest: Harvest) -> None:
    """Parse message by message; what stands between them and is no wrapper is refused too."""
    starts = [match.start() for match in _OPENING.finditer(text)]
    if not starts:
        problem = expat.ErrorString(error.code)
        harvest.refuse(f"line {error.lineno}", "", f"is not well-formed XML: {problem}")
        return
    harvest.remark(f"not well-formed XML as a whole, so its messages were read one by one ({error})")
    line = 1 + text.count("\n", 0, starts[0])
    _tell_stray(text[: starts[0]], 1, harvest)
    for start, stop in zip(starts, [*starts[1:], len(text)], strict=True):
        chunk = text[start:stop]
        closing = _CLOSING.search(chunk)
        if closing is None:
            harvest.refuse(f"line {line}", "", "damaged or cut short: no </omm> ends this message")
        else:
            _add_chunk(chunk[: closing.end()], line, harvest)
            after = line + chunk.count("\n", 0, closing.end())
            _tell_stray(chunk[closing.end() :], after, harvest)
        line += chunk.count("\n")


def _add_chunk(chunk: str, line: int, harvest: Harvest) -> None:
    try:
        messages = _Parser(line).parse(chunk)
    except expat.ExpatError as error:
        at, problem = line - 1 + error.lineno, expat.ErrorString(error.code)
        harvest.refuse(f"line {line}", "", f"damaged message, not well-formed XML at line {at}: {problem}")
        return
    for message in messages:
        _add(message, harvest)


def _tell_stray(between: str, line: int, harvest: Harvest) -> None:
    """Refuse text outside the messages; ``line`` is where it begins."""
    stray = _WRAPPER.sub("", between).strip()
    if stray:
        harvest.refuse(f"line {line}", "", f"'{shorten(stray, 40)}' belongs to no message")
