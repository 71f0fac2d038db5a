"""Pydantic's kinds of error in this program's words, for plan files and for edits alike."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

#: With pydantic's own figures in braces.
_MUST_BE = {
    "greater_than_equal": "at least {ge:g}",
    "less_than_equal": "at most {le:g}",
    "greater_than": "more than {gt:g}",
    "less_than": "less than {lt:g}",
    "float_type": "a number",
    "float_parsing": "a number",
    "finite_number": "a finite number",
    "int_type": "a whole number",
    "int_parsing": "a whole number",
    "int_parsing_size": "a whole number of a few digits",
    "int_from_float": "a whole number",
    "string_type": "text in quotes",
    "string_unicode": "Unicode text",
    "string_too_short": "at least {min_length} character long",
    "string_too_long": "at most {max_length} characters long",
    "literal_error": "{expected}",
    "model_type": "an object in braces",
    "dict_type": "an object in braces",
    "tuple_type": "a list in square brackets",
    "too_short": "a list of at least {min_length} item",
}


def must_be(error: ErrorDetails) -> str:
    """What a value would have to be, e.g. ``at most 90``; empty where pydantic's own message has to do."""
    allowed = _MUST_BE.get(error["type"])
    return allowed.format(**error.get("ctx", {})) if allowed else ""
