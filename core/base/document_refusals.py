"""What is wrong with a JSON document, in words: one line of printable text, whatever stands in it."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from functools import cache

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from core.base.errors import FileProblem
from core.base.refusals import must_be
from core.base.text import one_line

#: Makes the refusal of one file, of a place in it and a reason.
Refuse = Callable[[str, str], FileProblem]

_LONGEST_SHOWN = 60
#: Of a part of a refusal; a name in the file may have a million letters.
_LONGEST = 2000


def told(text: str) -> str:
    """A part of a refusal, brought to one line of no more than can be read."""
    return one_line(text[:_LONGEST])


def document_error(
    refuse: Refuse, errors: Sequence[ErrorDetails], model: type[BaseModel], noun: str
) -> FileProblem:
    """The first thing wrong, and how many more there are.

    Args:
        refuse: makes the error.
        errors: what validation found.
        model: that was to be made of the document.
        noun: what the document is: "plan".
    """
    # Of a list whose first item is wrong none was taken: that it is too short is no fault of its own.
    errors = [error for error in errors if not (error["type"] == "too_short" and error["input"])]
    first = min(errors, key=lambda error: error["type"] == "missing")
    more = f" ({len(errors) - 1} more)" if len(errors) > 1 else ""
    return refuse(key_path(first["loc"]), _in_words(first, model, noun) + more)


def key_path(location: tuple[int | str, ...]) -> str:
    """``satellites[2].name``: list items are counted from 1, as an operator counts them."""
    path = ""
    for part in location:
        if isinstance(part, int):
            path += f"[{part + 1}]"
        else:
            path += ("." if path else "") + part[:_LONGEST_SHOWN]
    return path


def _in_words(error: ErrorDetails, model: type[BaseModel], noun: str) -> str:
    kind, context = error["type"], error.get("ctx", {})
    if kind == "extra_forbidden":
        return f"is no key of a {noun} here; " + _spelling(str(error["loc"][-1]), model)
    if kind == "missing":
        return "is missing"
    if kind == "value_error":
        return str(context.get("error", error["msg"]))
    allowed = must_be(error, model)
    said = error["msg"][:1].lower() + error["msg"][1:]
    must = f"it must be {allowed}" if allowed else said
    return f"is {shown(error.get('input'))}, {must}"


def _spelling(key: str, model: type[BaseModel]) -> str:
    import difflib  # only where something was misspelt

    near = difflib.get_close_matches(key[:_LONGEST_SHOWN], _known_keys(model) - {key}, n=1, cutoff=0.75)
    return f'perhaps "{near[0]}" is meant' if near else "check its spelling or leave it out"


@cache
def _known_keys(model: type[BaseModel]) -> frozenset[str]:
    """Every key of a document, wherever it stands."""
    schema = model.model_json_schema(by_alias=True)
    parts = (schema, *schema.get("$defs", {}).values())
    return frozenset(name for part in parts for name in part.get("properties", {}))


def shown(value: object) -> str:
    """A value as JSON has it, cut short; no more of it is gone through than is shown."""
    if isinstance(value, str):
        value = value[: _LONGEST_SHOWN + 1]
    text = ""
    try:
        for part in json.JSONEncoder(ensure_ascii=True, default=str).iterencode(value):
            text += part[:_LONGEST_SHOWN]
            if len(text) > _LONGEST_SHOWN:
                break
    except (RecursionError, ValueError):
        return "something beyond measure"
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 3] + "..."
