"""JSON documents of this program: read strictly, each with its format and version; what is wrong is named."""

from __future__ import annotations

import json
from typing import Any

from core.base.document_refusals import Refuse, key_path, shown
from core.base.model import Model

#: An element set has some 20 keys, the mount some 20.
_MOST_KEYS = 200
#: Of more lists and objects than the first, a document has one in the second number of letters at most.
_MOST_BRACKETS, _LETTERS_A_BRACKET = 1000, 16


def read_document(content: bytes, refuse: Refuse, noun: str) -> Any:
    """What is written in a file of UTF-8 text; `read_text_document` for the rest."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refuse("", "is not a text file in UTF-8; is it the right file?") from None
    return read_text_document(text, refuse, noun)


def read_text_document(text: str, refuse: Refuse, noun: str) -> Any:
    """What is written as JSON: no key twice, no number that is none, nothing nested or crowded.

    Args:
        text: of the file.
        refuse: makes the error.
        noun: what the document is: "plan".

    Raises:
        FileProblem: as ``refuse`` makes it.
    """
    _refuse_crowds(text, refuse, noun)
    try:
        return json.loads(text, object_pairs_hook=_Doubles(noun), parse_constant=_no_constants(noun))
    except json.JSONDecodeError as error:
        what = "is empty" if not text.strip() else f"is not JSON: {error.msg}, column {error.colno}"
        raise refuse(f"line {error.lineno}", what) from None
    except _Refused as error:
        raise refuse("", str(error)) from None
    except RecursionError:
        raise refuse("", f"is nested deeper than any {noun}") from None
    except ValueError:  # whole numbers of more than 4300 digits
        raise refuse("", "holds a number of thousands of digits") from None


def version_of(
    data: object, format_: str, newest: int, refuse: Refuse, noun: str
) -> tuple[dict[str, Any], int]:
    """The document as an object, and its version.

    Raises:
        FileProblem: it is of another format, says no version, or a newer one than this program reads.
    """
    if not isinstance(data, dict) or data.get("format") != format_:
        raise refuse("format", f'is no {noun} file: it does not say "format": "{format_}"')
    version = data.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise refuse("version", f"must be a whole number, at present {newest}")
    if version > newest:
        reason = f"is {shown(version)}, this program reads up to {newest}; open it with a newer one"
        raise refuse("version", reason)
    return data, version


def refuse_loose_values(
    node: object,
    data: object,
    refuse: Refuse,
    may_be_quoted: tuple[type[Model], ...] = (),
    path: tuple[int | str, ...] = (),
) -> None:
    """Refuse what validation takes in its stride: true for 1, "47.2" for 47.2, text that is no Unicode.

    Args:
        node: what was made of the data.
        data: as it was read.
        refuse: makes the error.
        may_be_quoted: models whose numbers may stand in quotes, as other programs write them.
        path: where the data stands in the document.

    Raises:
        FileProblem: something is one of these.
    """
    if isinstance(data, dict) and isinstance(node, Model):
        names = {field.alias or name: name for name, field in type(node).model_fields.items()}
        for key, value in data.items():
            quoted = isinstance(node, may_be_quoted) and isinstance(value, str)
            held = value if quoted else getattr(node, names[key])
            refuse_loose_values(held, value, refuse, may_be_quoted, (*path, key))
    elif isinstance(data, list) and isinstance(node, tuple):
        for index, (held, value) in enumerate(zip(node, data, strict=True)):
            refuse_loose_values(held, value, refuse, may_be_quoted, (*path, index))
    elif reason := _loose(node, data):
        raise refuse(key_path(path), f"is {shown(data)}, it must be {reason}")


def _loose(node: object, data: object) -> str:
    """What a value would have to be that was taken for another; empty where it is what it is."""
    if isinstance(node, bool):
        return "" if isinstance(data, bool) else "true or false"
    if isinstance(node, int | float) and isinstance(data, str | bool):
        return "a number without quotes"
    return "Unicode text" if isinstance(data, str) and not _is_unicode(data) else ""


def _is_unicode(text: str) -> bool:
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _refuse_crowds(text: str, refuse: Refuse, noun: str) -> None:
    """Refuse a text of lists and objects with next to nothing in them: each costs 100 bytes and more."""
    crowd = text.count("{") + text.count("[")
    if crowd > _MOST_BRACKETS and crowd * _LETTERS_A_BRACKET > len(text):
        raise refuse("", f"holds {crowd} lists and objects with next to nothing in them: no {noun} does")


class _Refused(Exception):
    """JSON that parses but must not pass."""


class _Doubles:
    """Takes the pairs of an object, no key twice and no more than there are keys of."""

    def __init__(self, noun: str) -> None:
        self._noun = noun

    def __call__(self, pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        if len(pairs) > _MOST_KEYS:
            raise _Refused(f"{len(pairs)} keys in one object, more than any part of a {self._noun} has")
        found: dict[str, Any] = {}
        for key, value in pairs:
            if key in found:
                raise _Refused(f"the key {shown(key)} stands twice in one object")
            found[key] = value
        return found


def _no_constants(noun: str) -> Any:
    def refused(text: str) -> float:
        raise _Refused(f"{text} is no number a {noun} can hold")

    return refused
