"""OMM keywords in JSON: a list of objects, or one object.

No standard: the form catalogues hand out, with the keywords of CCSDS 502.0-B; numbers or texts as values.

One record is decoded at a time: a list of a million nothings would be hundreds of megabytes at once.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

from core.base.floods import LineCounter
from core.base.words import counted
from core.elements.readers.harvest import Harvest, shorten
from core.elements.readers.omm import add_message, sort_keywords

#: No record is longer: one with every keyword of the standard has some 3,000 letters.
_LONGEST_RECORD = 32 * 1024
#: A text is given up when its damaged objects, which may overlap, together are so many times its length.
_MOST_LOOKS = 8


class _Repeated(dict[str, Any]):
    """An object that names a key twice; which of the two is meant cannot be told."""

    keyword = ""


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    fields = dict(pairs)
    if len(fields) == len(pairs):
        return fields
    repeated = _Repeated(fields)
    seen: set[str] = set()
    for key, _ in pairs:
        if key in seen:
            repeated.keyword = key
            break
        seen.add(key)
    return repeated


#: Numbers stay texts until their keyword is known: that keeps every digit, and no exponent can overflow.
_DECODER = json.JSONDecoder(
    object_pairs_hook=_object, parse_float=str, parse_int=str, parse_constant=str, strict=True
)

#: To the next bracket outside a text; a text ends with its line, as JSON has it.
_TO_BRACKET = re.compile(r'(?:[^{}\[\]"]++|"(?:[^"\\\n]++|\\.)*+")*+')
_BLANKS = re.compile(r"[ \t\r\n]*+")


class _Damage(ValueError):
    """What is no JSON, where in the text, and how far it was looked at."""

    def __init__(self, problem: str, at: int, reached: int) -> None:
        self.problem, self.at, self.reached = problem, at, reached
        super().__init__(problem)


def read_json(text: str, harvest: Harvest) -> None:
    """Read every object of a JSON text; from where it is damaged on, every whole object in it."""
    at = number = 0
    try:
        for number, (record, end) in enumerate(_records(text), start=1):
            _add(record, f"record {number}", harvest)
            at = end
    except _Damage as damage:
        line = LineCounter(text).at(damage.at)
        harvest.remark(
            "not valid JSON as a whole, so its objects were read one by one "
            f"({damage.problem} at line {line}, after {counted(number, 'record')})"
        )
        _salvage(text, at, harvest)


def _records(text: str) -> Iterator[tuple[object, int]]:
    """The records of a sound text, the items of its list or the one object it is, each with where it ends.

    Raises:
        _Damage: from here on it is not sound, or a record is longer than any.
    """
    at = _after_blanks(text, 0)
    if not text.startswith("[", at):
        record, at = _decoded(text, at)
        yield record, at
    else:
        at = _after_blanks(text, at + 1)
        more = not text.startswith("]", at)
        while more:
            if text.startswith("[", at):  # one bracket too many must not make all records one
                raise _Damage("a list within the list", at, at)
            record, at = _decoded(text, at)
            yield record, at
            at = _after_blanks(text, at)
            more = text.startswith(",", at)
            at = _after_blanks(text, at + 1) if more else at
        if not text.startswith("]", at):
            raise _Damage("no comma or end of the list", at, at)
        at += 1
    at = _after_blanks(text, at)
    if at < len(text):
        raise _Damage("more text than one value", at, at)


def _after_blanks(text: str, at: int) -> int:
    blanks = _BLANKS.match(text, at)
    return blanks.end() if blanks else at


def _decoded(text: str, start: int, *, flat: bool = False) -> tuple[object, int]:
    """The value that begins at ``start``, and where it ends; ``flat``: an object within it is damage.

    Raises:
        _Damage: it is none, or longer than any record.
    """
    stop = start
    try:
        if not text.startswith(("{", "["), start):
            value, length = _DECODER.raw_decode(text[start : start + _LONGEST_RECORD])
            return value, start + length
        stop = _end_of(text, start, flat)
        return _DECODER.decode(text[start:stop]), stop
    except json.JSONDecodeError as error:
        raise _Damage(error.msg, start + error.pos, stop) from None
    except RecursionError:
        raise _Damage("nested too deeply to be an element set", start, stop) from None


def _end_of(text: str, start: int, flat: bool) -> int:
    """Past the bracket that closes the one at ``start``.

    Raises:
        _Damage: there is none within the length of a record.
    """
    depth, at = 0, start
    limit = min(start + _LONGEST_RECORD, len(text))
    while at < limit:
        mark = text[at]
        if mark == '"':
            raise _Damage("a text without an end", at, at)
        if flat and mark == "{" and at > start:
            raise _Damage("an object within an object", at, at)
        depth += 1 if mark in "{[" else -1
        at += 1
        if depth == 0:
            return at
        between = _TO_BRACKET.match(text, at, limit)
        at = between.end() if between else limit
    what = "no end" if limit == len(text) else f"no end within {_LONGEST_RECORD} letters"
    raise _Damage(what, start, limit)


def _add(record: object, place: str, harvest: Harvest) -> None:
    if not isinstance(record, dict):
        harvest.refuse(place, "", f"'{shorten(record, 40)}' is not an object with keywords")
        return
    if isinstance(record, _Repeated):
        harvest.refuse(place, shorten(record.keyword, 40), "is given twice in one object")
        return
    fields = record if "EPOCH" in record else {key.upper(): value for key, value in record.items()}
    sort_keywords(list(fields), harvest)
    add_message(fields, place, harvest)


def _salvage(text: str, begin: int, harvest: Harvest) -> None:
    """Decode object by object. Element sets hold no objects, so after damage the next brace begins one."""
    lines = LineCounter(text)
    end, damaged = begin, False
    looks = _MOST_LOOKS * len(text) + _LONGEST_RECORD
    start = text.find("{", begin)
    while start >= 0:
        if not damaged:
            _tell_stray(text, end, start, lines, harvest)
        place = f"line {lines.at(start)}"
        try:
            record, end = _decoded(text, start, flat=True)
        except _Damage as damage:
            told = f"damaged or cut short, not valid JSON here: {damage.problem} (line {lines.at(damage.at)})"
            harvest.refuse(place, "", told)
            damaged = True
            looks -= damage.reached - start
            if looks < 0:
                harvest.give_up(place)
            start = text.find("{", start + 1)
        else:
            damaged = False
            _add(record, place, harvest)
            start = text.find("{", end)
    if not damaged:
        _tell_stray(text, end, len(text), lines, harvest)


def _tell_stray(text: str, start: int, stop: int, lines: LineCounter, harvest: Harvest) -> None:
    """Refuse what stands between objects but separators."""
    between = text[start:stop].strip(" \t\r\n,[]")
    if between:
        at = text.index(between, start)
        harvest.refuse(f"line {lines.at(at)}", "", f"'{shorten(between, 40)}' belongs to no element set")
