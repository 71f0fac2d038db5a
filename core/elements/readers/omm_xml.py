"""OMM as XML (CCSDS 505.0-B): one ``omm``, or several in an ``ndm``, under any namespace prefix.

Read as a stream by expat, which follows no reference outside the text. A document type declaration is
refused at its first character, and with it every entity that could be blown up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from xml.parsers import expat

from core.base.floods import LineCounter
from core.elements.readers.harvest import Fault, Harvest, shorten
from core.elements.readers.omm import STANDARD_KEYWORDS, add_message, check_unit, sort_keywords

_LONGEST_VALUE = 10_000
#: Letters given to expat at a time.
_PIECE = 16 * 1024
#: Bytes of one tag or comment; expat holds it whole, with a table of its attributes.
_LONGEST_TAG = 16 * 1024
#: The standard has some 100.
_MOST_NAMES = 1000
#: A message stands four elements deep in an ``ndm``.
_DEEPEST = 64
_OPENING = re.compile(r"<(?:[\w.-]+:)?omm(?=[\s>/])")
_CLOSING = re.compile(r"</(?:[\w.-]+:)?omm\s*>")
_WRAPPER = re.compile(r"</?(?:[\w.-]+:)?ndm\b[^<>]*>|<\?[^<>]*>|<!--[^<>]*-->|\ufeff")
_DOCTYPE = re.compile(r"<!DOCTYPE|<!ENTITY", re.IGNORECASE)
_NO_DOCTYPE = "has a document type declaration, which element files do not need: not read"


class _Refused(Exception):
    """Why a text is not read at all, in words."""


@dataclass(slots=True)
class _Message:
    """One ``omm`` as its elements come in."""

    line: int
    fields: dict[str, str] = field(default_factory=dict)
    lines: dict[str, int] = field(default_factory=dict)
    fault: Fault | None = None


def read_xml(text: str, harvest: Harvest) -> None:
    """Read every message of an XML text; where it is not well-formed, every message that is by itself.

    It is gone through twice, first to see whether it is well-formed: no message is kept until the last.
    """
    try:
        _Parser(1).parse(text)
        found = _Parser(1, lambda message: _add(message, harvest))
        found.parse(text)
        if not found.messages:
            harvest.refuse("", "", "is XML, but without an orbit mean-elements message (omm)")
    except _Refused as refusal:
        harvest.refuse("", "", str(refusal))
    except expat.ExpatError as error:
        if _DOCTYPE.search(text):
            harvest.refuse("", "", _NO_DOCTYPE)
        else:
            _salvage(text, error, harvest)


class _Parser:
    """Expat's callbacks: every element without children inside an ``omm`` is a keyword and its value.

    Without anybody to take the messages it only sees whether the text is well-formed.
    """

    def __init__(self, first_line: int, take: Callable[[_Message], None] | None = None) -> None:
        self._first_line, self._take = first_line, take
        self.messages = 0
        self._current: _Message | None = None
        self._level = self._depth = 0
        self._names: set[str] = set()
        self._leaf = False
        self._text: list[str] = []
        self._attributes: dict[str, str] = {}
        self._expat = expat.ParserCreate("utf-8", None, None)  # no table of names
        self._expat.buffer_text = True
        self._expat.StartDoctypeDeclHandler = self._forbid
        self._expat.EntityDeclHandler = self._forbid
        self._expat.StartElementHandler = self._open
        self._expat.EndElementHandler = self._close
        if take:
            self._expat.CharacterDataHandler = self._characters

    def parse(self, text: str) -> None:
        """Every message of the text, handed on as it ends.

        Raises:
            expat.ExpatError: the text is not well-formed.
            _Refused: it has a document type declaration, or what no message needs, without measure.
        """
        fed = 0
        for start in range(0, len(text), _PIECE):
            piece = text[start : start + _PIECE].encode("utf-8", "replace")
            self._expat.Parse(piece, False)
            fed += len(piece)
            if fed - self._expat.CurrentByteIndex > _LONGEST_TAG:
                raise _Refused(f"has a tag or a comment of more than {_LONGEST_TAG // 1024} kB")
        self._expat.Parse(b"", True)

    def _forbid(self, *_arguments: object) -> None:
        raise _Refused(_NO_DOCTYPE)

    def _line(self) -> int:
        return self._first_line - 1 + self._expat.CurrentLineNumber

    def _open(self, tag: str, attributes: dict[str, str]) -> None:
        self._level += 1
        if self._level > _DEEPEST:
            raise _Refused(f"is nested deeper than {_DEEPEST} elements")
        self._names.add(tag)
        self._names.update(attributes)
        if len(self._names) > _MOST_NAMES:  # expat keeps a table of them, as long as it reads
            raise _Refused(f"has more than {_MOST_NAMES} names of elements and attributes")
        if self._take:
            self._start(tag, attributes)

    def _close(self, tag: str) -> None:
        self._level -= 1
        if self._take:
            self._end(tag, self._take)

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

    def _end(self, tag: str, take: Callable[[_Message], None]) -> None:
        message = self._current
        if message is None:
            return
        if self._depth == 0:
            self.messages += 1
            self._current = None
            take(message)
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
    sort_keywords(message.fields, harvest)
    place = f"line {message.line}"
    if message.fault:
        at = message.lines[message.fault.field]
        harvest.refuse(f"line {at}", message.fault.field, message.fault.reason)
    else:
        add_message(message.fields, place, harvest, lines=message.lines, metadata_expected=True)


def _salvage(text: str, error: expat.ExpatError, harvest: Harvest) -> None:
    """Parse message by message; what stands between them and is no wrapper is refused too."""
    first = _OPENING.search(text)
    if first is None:
        problem = expat.ErrorString(error.code)
        harvest.refuse(f"line {error.lineno}", "", f"is not well-formed XML: {problem}")
        return
    harvest.remark(f"not well-formed XML as a whole, so its messages were read one by one ({error})")
    _tell_stray(text[: first.start()], 1, harvest)
    lines = LineCounter(text)
    for start, stop in pairwise(_starts(text)):
        line, closing = lines.at(start), _CLOSING.search(text, start, stop)
        if closing is None:
            harvest.refuse(f"line {line}", "", "damaged or cut short: no </omm> ends this message")
        else:
            _add_chunk(text[start : closing.end()], line, harvest)
            _tell_stray(text[closing.end() : stop], lines.at(closing.end()), harvest)


def _starts(text: str) -> Iterator[int]:
    """Where messages begin, and where the text ends."""
    for match in _OPENING.finditer(text):
        yield match.start()
    yield len(text)


def _add_chunk(chunk: str, line: int, harvest: Harvest) -> None:
    messages: list[_Message] = []
    try:
        _Parser(line, messages.append).parse(chunk)
    except _Refused as refusal:
        harvest.refuse(f"line {line}", "", str(refusal))
    except expat.ExpatError as error:
        at, problem = line - 1 + error.lineno, expat.ErrorString(error.code)
        harvest.refuse(f"line {line}", "", f"damaged message, not well-formed XML at line {at}: {problem}")
    else:
        for message in messages:
            _add(message, harvest)


def _tell_stray(between: str, line: int, harvest: Harvest) -> None:
    """Refuse text outside the messages; ``line`` is where it begins."""
    stray = _WRAPPER.sub("", between).strip()
    if stray:
        harvest.refuse(f"line {line}", "", f"'{shorten(stray, 40)}' belongs to no message")
