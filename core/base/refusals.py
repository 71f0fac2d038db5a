"""Pydantic's kinds of error in this program's words, for plan files and for edits alike."""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args

from pydantic import BaseModel

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo
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
    "too_long": "a list of at most {max_length} items",
}


#: Errors of a number that is beyond one end of its range; both ends are told.
_OUT_OF_RANGE = frozenset({"greater_than_equal", "less_than_equal", "greater_than", "less_than"})
_ENDS = (("ge", "{:.12g}"), ("gt", "above {:.12g}"), ("le", "to {:.12g}"), ("lt", "to below {:.12g}"))


def must_be(error: ErrorDetails, model: type[BaseModel] | None = None) -> str:
    """What a value would have to be, e.g. ``-90 to 90``; empty where pydantic's own message has to do.

    Args:
        error: what is wrong.
        model: that was to be made, so that a range is told from end to end.
    """
    if model is not None and error["type"] in _OUT_OF_RANGE:
        field = _field_at(model, error["loc"])
        words = range_words(field) if field else ""
        if " to " in words:
            return words
    allowed = _MUST_BE.get(error["type"])
    return allowed.format(**error.get("ctx", {})) if allowed else ""


def range_words(field: FieldInfo) -> str:
    """The range of a number field: ``0.05 to 360``, ``-10 to below 90``; empty where it is open."""
    found = [
        text.format(value)
        for rule in field.metadata
        for kind, text in _ENDS
        if (value := getattr(rule, kind, None)) is not None
    ]
    return " ".join(found)


def _field_at(model: type[BaseModel], location: tuple[int | str, ...]) -> FieldInfo | None:
    """The field that a place in a model's data stands for; None where there is none."""
    inner: type[BaseModel] | None = model
    field = None
    for key in location:
        if isinstance(key, int):
            continue
        if inner is None:
            return None
        fields = inner.model_fields
        field = next((each for name, each in fields.items() if key in (name, each.alias)), None)
        inner = _model_in(field.annotation) if field else None
    return field


def _model_in(annotation: object) -> type[BaseModel] | None:
    """The model that a field holds, in a list or not."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in get_args(annotation) if (found := _model_in(part))), None)
