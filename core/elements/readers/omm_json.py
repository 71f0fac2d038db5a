"""OMM keywords in JSON: a list of objects, or one object.

No standard: the form catalogues hand out, with the keywords of CCSDS 502.0-B; numbers or texts as values.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_left
from collections.abc import Iterator
from typing import Any

from core.elements.readers.harvest import Harvest, shorten
from core.elements.readers.omm import add_message, sort_keywords


class _Repeated(dict[str, Any]):
    """An object that names a key twice; which of the two is meant cannot be told."""

    keyword = ""


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    fields = dict(pairs)
    if len(fields) == len(pairs):
        return fields
    repeated = _Repeated(fields)
    keys = [key for key, _ in pairs]
    repeated.keyword = next(key for key in keys if keys.count(key) > 1)
    return repeated


#: Numbers stay texts until their keyword is known: that keeps every digit, and no exponent can overflow.
_DECODER = json.JSONDecoder(
    object_pairs_hook=_object, parse_float=str, parse_int=str, parse_constant=str, strict=True
)


#: After so many damaged objects a text is given up, since each failure costs time that grows with its size.
_MOST_FAILURES = 1000


def read_json(text: str, harvest: Harvest) -> None:
    """Read every object of a JSON text; where the text as a whole is damaged, every whole object in it."""
    try:
        whole = _DECODER.decode(text)
    except RecursionError:
        harvest.refuse("", "", "is nested too deeply to be a list of element sets")
        return
    except ValueError as error:
        harvest.remark(f"not valid JSON as a whole, so its objects were read one by one ({error})")
        _salvage(text, harvest)
        return
    records = whole if isinstance(whole, list) else [whole]
    for number, record in enumerate(records, start=1):
        _add(record, f"record {number}", harvest)


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


def _salvage(text: str, harvest: Harvest) -> None:
    """Decode object by object. Element sets hold no objects, so after damage the next brace begins one."""
    lines = _LineCounter(text)
    end, damaged, failures = 0, False, 0
    for start in _braces(text):
        if start < end:
            continue
        if not damaged:
            _tell_stray(text, end, start, lines, harvest)
        try:
            record, end = _DECODER.raw_decode(text, start)
        except RecursionError:
            harvest.refuse(f"line {lines.at(start)}", "", "is nested too deeply to be an element set")
            return
        except ValueError as error:
            problem = error.msg if isinstance(error, json.JSONDecodeError) else str(error)
            reason = f"damaged or cut short, not valid JSON here: {problem}"
            at = error.pos if isinstance(error, json.JSONDecodeError) else start
            harvest.refuse(f"line {lines.at(start)}", "", f"{reason} (line {lines.at(max(at, start))})")
            damaged, failures = True, failures + 1
            if failures == _MOST_FAILURES:
                harvest.refuse(f"line {lines.at(start)}", "", "so much damage: the rest was not read")
                return
            continue
        damaged = False
        _add(record, f"line {lines.at(start)}", harvest)
    if not damaged:
        _tell_stray(text, end, len(text), lines, harvest)


def _braces(text: str) -> Iterator[int]:
    start = text.find("{")
    while start >= 0:
        yield start
        start = text.find("{", start + 1)


def _tell_stray(text: str, start: int, stop: int, lines: _LineCounter, harvest: Harvest) -> None:
    """Refuse what stands between objects but separators."""
    between = text[start:stop].strip(" \t\r\n,[]")
    if between:
        at = text.index(between, start)
        harvest.refuse(f"line {lines.at(at)}", "", f"'{shorten(between, 40)}' belongs to no element set")


class _LineCounter:
    """Line numbers of positions in a text."""

    def __init__(self, text: str) -> None:
        self._ends = [match.start() for match in re.finditer("\n", text)]

    def at(self, position: int) -> int:
        """The line, from 1, of a position in the text."""
        return bisect_left(self._ends, position) + 1
