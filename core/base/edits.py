"""Edits of a plan: each gives a new, validated plan and leaves the old one as it is."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from core.base.errors import ValueRangeError
from core.base.model import Model
from core.base.refusals import must_be

M = TypeVar("M", bound=BaseModel)


def changed(model: M, path: str, value: object) -> M:
    """The model with one value set, validated on every level above it.

    Args:
        model: a plan, or any model of one.
        path: keys joined by dots, list places by number from 0: ``"mount.index_holes.1.offset_deg"``.
        value: the new value; models, tuples of models and plain values alike.

    Raises:
        ValueRangeError: the value, or the model with it, is not valid; names the key and says why.
    """
    head, _, rest = path.partition(".")
    inner = value
    if rest:
        try:
            inner = _below(getattr(model, head), rest, value)
        except ValueRangeError as error:
            raise ValueRangeError(path, error.value, error.allowed) from None
    return _rebuilt(model, {head: inner}, path, value)


def changed_together(model: M, updates: Mapping[str, object]) -> M:
    """The model with several of its values set at once, as they may only hold together.

    Raises:
        ValueRangeError: it is not valid with them; names the first of them.
    """
    return _rebuilt(model, updates, next(iter(updates), ""), updates)


def reset(model: M, path: str) -> M:
    """The model with one value left out again, so that it has its default.

    Raises:
        ValueRangeError: the model is not valid without it.
    """
    head, _, rest = path.partition(".")
    if rest:
        return _rebuilt(model, {head: reset(getattr(model, head), rest)}, path)
    return _rebuilt(model, {}, path, without=head)


def _below(node: Any, path: str, value: object) -> object:
    if isinstance(node, tuple):
        place, _, rest = path.partition(".")
        index = int(place)
        inner = _below(node[index], rest, value) if rest else value
        return (*node[:index], inner, *node[index + 1 :])
    return changed(node, path, value)


def _rebuilt(
    model: M, updates: Mapping[str, object], path: str, told: object = "left out", without: str | None = None
) -> M:
    """The model validated afresh from what was set in it; children that did not change stay the same.

    Refused, it is ``told`` that is not valid: what is wrong between values has all of them as its input.
    """
    kept = {name: getattr(model, name) for name in model.model_fields_set if name != without}
    try:
        return type(model).model_validate(kept | dict(updates))
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        reason = str(first["ctx"]["error"]) if "ctx" in first and "error" in first["ctx"] else first["msg"]
        value = first.get("input") if first["loc"] and not _is_plain(told) else told
        shown = value if _is_plain(value) else "not as it can be"
        raise ValueRangeError(path, shown, must_be(first, type(model)) or f"valid: {reason}") from None


def _is_plain(value: object) -> bool:
    """Whether a value can be told as it is; models and lists of them would tell their inner names."""
    return value is None or isinstance(value, str | int | float)


def field_range(model: type[Model], name: str) -> tuple[float, float]:
    """Least and greatest value a number field takes, -inf and inf where it is open."""
    low, high = float("-inf"), float("inf")
    for rule in model.model_fields[name].metadata:
        low = max(low, float(getattr(rule, "ge", low) if getattr(rule, "ge", None) is not None else low))
        low = max(low, float(getattr(rule, "gt", low) if getattr(rule, "gt", None) is not None else low))
        high = min(high, float(getattr(rule, "le", high) if getattr(rule, "le", None) is not None else high))
        high = min(high, float(getattr(rule, "lt", high) if getattr(rule, "lt", None) is not None else high))
    return low, high


def is_given(model: Model, path: str) -> bool:
    """Whether the value at a key path is set in the model, or left to its default; no lists on the way."""
    node: object = model
    for name in path.split("."):
        if not isinstance(node, Model) or name not in node.model_fields_set:
            return False
        node = getattr(node, name)
    return True


def value_at(model: Model, path: str) -> object:
    """The value at a key path that goes through no lists."""
    node: object = model
    for name in path.split("."):
        node = getattr(node, name)
    return node


def default_at(model: Model, path: str) -> object:
    """The value a key path has where the model leaves it out; the model itself must not require it."""
    head, _, name = path.rpartition(".")
    node = value_at(model, head) if head else model
    return type(node).model_fields[name].get_default(call_default_factory=True)  # type: ignore[attr-defined]
