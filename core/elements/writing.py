"""Element sets as OMM in the four forms, every float to its last bit and in the order given.

The same sets and arguments give the same text: the making time is an argument. What is written here reads
back equal through ``core.elements.reading``.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable
from xml.sax.saxutils import escape

from core.base.errors import ValueRangeError
from core.base.text import one_line, text_cell
from core.elements.epochs import canonical_epoch
from core.elements.model import ElementSet
from core.elements.readers.omm import MEAN_ELEMENT_KEYWORDS, METADATA_KEYWORDS, TWO_LINE_KEYWORDS

#: Messages are written to issue 2 of the standard, which every reader of issue 3 takes too.
_VERSION = "2.0"
_CSV_KEYWORDS = ("OBJECT_NAME", "OBJECT_ID", *MEAN_ELEMENT_KEYWORDS, *TWO_LINE_KEYWORDS)


def write_omm_json(sets: Iterable[ElementSet], *, creation_date: str, originator: str) -> str:
    """A JSON list with one object a set, numbers as numbers; no standard, but what catalogues exchange.

    Args:
        sets: the element sets.
        creation_date: UTC moment of making, in any form an epoch may have.
        originator: who made the messages.

    Raises:
        ValueRangeError: the creation date is no moment, or the originator is empty.
    """
    header = _header(creation_date, originator)
    records = [{**header, **_values(elements)} for elements in sets]
    return json.dumps(records, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def write_omm_csv(sets: Iterable[ElementSet], *, creation_date: str, originator: str) -> str:
    """A header row, then one row a set; the form catalogues exchange, so without the constant metadata.

    Arguments and errors as ``write_omm_json``; both make up the last two columns.
    """
    header = _header(creation_date, originator)
    columns = (*_CSV_KEYWORDS, "CREATION_DATE", "ORIGINATOR")
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(columns)
    for elements in sets:
        values = {**header, **_values(elements)}
        rows.writerow([_cell(values[keyword]) for keyword in columns])
    return out.getvalue()


def write_omm_kvn(sets: Iterable[ElementSet], *, creation_date: str, originator: str) -> str:
    """Messages of ``KEYWORD = value`` lines, one after another with a blank line between.

    Arguments and errors as ``write_omm_json``.
    """
    header = _header(creation_date, originator)
    messages = []
    for elements in sets:
        values = {**header, **_values(elements)}
        lines = [f"{keyword:<19} = {_text(value)}" for keyword, value in values.items()]
        messages.append("\n".join(lines) + "\n")
    return "\n".join(messages)


def write_omm_xml(sets: Iterable[ElementSet], *, creation_date: str, originator: str) -> str:
    """One ``ndm`` with an ``omm`` for each set (CCSDS 505.0-B).

    Arguments and errors as ``write_omm_json``.
    """
    header = _header(creation_date, originator)
    lines = ['<?xml version="1.0" encoding="UTF-8"?>', "<ndm>"]
    for elements in sets:
        values = {**header, **_values(elements)}
        lines += [
            f'  <omm id="CCSDS_OMM_VERS" version="{_VERSION}">',
            *_block("header", ("CREATION_DATE", "ORIGINATOR"), values, 4),
            "    <body>",
            "      <segment>",
            *_block("metadata", METADATA_KEYWORDS, values, 8),
            "        <data>",
            *_block("meanElements", MEAN_ELEMENT_KEYWORDS, values, 10),
            *_block("tleParameters", TWO_LINE_KEYWORDS, values, 10),
            "        </data>",
            "      </segment>",
            "    </body>",
            "  </omm>",
        ]
    return "\n".join([*lines, "</ndm>"]) + "\n"


def _header(creation_date: str, originator: str) -> dict[str, str]:
    maker = one_line(originator)
    if not maker:
        raise ValueRangeError("ORIGINATOR", repr(originator), "a name")
    return {
        "CCSDS_OMM_VERS": _VERSION,
        "CREATION_DATE": canonical_epoch(creation_date, "CREATION_DATE"),
        "ORIGINATOR": maker,
    }


def _values(elements: ElementSet) -> dict[str, str | int | float]:
    """Keyword to value in the standard's order; UNKNOWN stands for a missing designator, as it says."""
    values = elements.model_dump(by_alias=True)
    values["OBJECT_ID"] = values["OBJECT_ID"] or "UNKNOWN"
    return {key: values[key] for key in (*METADATA_KEYWORDS, *MEAN_ELEMENT_KEYWORDS, *TWO_LINE_KEYWORDS)}


def _cell(value: str | int | float) -> str:
    return text_cell(value) if isinstance(value, str) else _text(value)


def _text(value: str | int | float) -> str:
    """Shortest text that reads back to the same float; exponents as the standard has them, ``1.5E-05``."""
    text = str(value)
    if isinstance(value, float) and "e" in text:
        mantissa, _, exponent = text.partition("e")
        point = "" if "." in mantissa else ".0"
        return f"{mantissa}{point}E{exponent}"
    return text


def _block(tag: str, keywords: Iterable[str], values: dict[str, str | int | float], indent: int) -> list[str]:
    margin = " " * indent
    leaves = [f"{margin}  <{key}>{escape(_text(values[key]))}</{key}>" for key in keywords]
    return [f"{margin}<{tag}>", *leaves, f"{margin}</{tag}>"]
