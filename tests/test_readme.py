"""README's table of a plan's keys, held against the models."""

from __future__ import annotations

import types
import typing
from pathlib import Path
from typing import Any

from core.base.model import Model
from core.elements.model import ElementSet
from core.plan.document import Plan

README = Path(__file__).resolve().parents[1] / "README.md"
HEAD = "| key | left out | takes | what it says |"


def model_in(annotation: Any) -> tuple[type[Model] | None, bool]:
    """The model a field holds, and whether in a list."""
    origin = typing.get_origin(annotation)
    if origin is typing.Annotated:
        return model_in(typing.get_args(annotation)[0])
    if origin in (types.UnionType, typing.Union):
        return next(
            (found for part in typing.get_args(annotation) if (found := model_in(part))[0]), (None, False)
        )
    if origin is tuple:
        return model_in(typing.get_args(annotation)[0])[0], True
    is_model = isinstance(annotation, type) and issubclass(annotation, Model)
    return (annotation if is_model else None), False


def left_out(field: Any) -> str:
    if field.is_required():
        return "needed"
    default = field.get_default(call_default_factory=True)
    if isinstance(default, bool):
        return "true" if default else "false"
    return f"{default:g}" if isinstance(default, int | float) else str(default or "none")


def takes(field: Any) -> str:
    choices = [part for part in typing.get_args(field.annotation) if isinstance(part, str)]
    for part in typing.get_args(field.annotation):
        choices += [word for word in typing.get_args(part) if isinstance(word, str)]
    if choices:
        return ", ".join(choices)
    words = {"ge": "{:.12g}", "gt": "above {:.12g}", "le": "to {:.12g}", "lt": "to below {:.12g}"}
    found = [
        text.format(value)
        for rule in field.metadata
        for kind, text in words.items()
        if (value := getattr(rule, kind, None)) is not None
    ]
    return " ".join(found)


def keys(model: type[Model] = Plan, before: str = "") -> dict[str, tuple[str, str]]:
    """Every key of a plan: what holds where it is left out, and what it takes. No keyword of elements."""
    found: dict[str, tuple[str, str]] = {}
    for name, field in model.model_fields.items():
        path = before + name
        inner, many = model_in(field.annotation)
        if inner is None or inner is ElementSet:
            in_file = path in ("format", "version")  # a value has them, a file must say them
            found[path] = "needed" if in_file else left_out(field), takes(field)
        else:
            found |= keys(inner, path + ("[]." if many else "."))
    return found


def listed() -> dict[str, tuple[str, str]]:
    text = README.read_text("utf-8")
    assert text.count(HEAD) == 1
    rows = text.split(HEAD)[1].split("\n\n")[0].splitlines()[2:]
    found: dict[str, tuple[str, str]] = {}
    for row in rows:
        names, default, taken, words = (cell.strip() for cell in row.strip("|").split("|"))
        assert words
        for name in names.split(", "):
            assert name.strip("`") not in found
            found[name.strip("`")] = default, taken
    return found


def test_readme_lists_every_key_of_a_plan_with_its_default_and_range():
    assert listed() == keys()


def test_readme_names_every_keyword_of_an_element_set():
    text = README.read_text("utf-8")
    missing = [
        f.alias
        for f in ElementSet.model_fields.values()
        if f"`{f.alias}`" not in text and f.alias not in text
    ]
    assert missing == []
