"""Plan files: read with migration and clear refusals, written whole. The I/O of plans lives here."""

from __future__ import annotations

import difflib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from core.base.errors import PlanError
from core.base.model import Model
from core.base.refusals import must_be
from core.base.text import one_line
from core.base.whole_files import Stamp, os_reason, write_bytes
from core.elements.model import ElementSet
from core.plan.document import FORMAT, VERSION, Plan

#: One step each: from this version to the next. None yet, since the first version is the present one.
_MIGRATIONS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}
_LARGEST_BYTES = 128 * 1024 * 1024


def read_plan(path: str | Path) -> Plan:
    """The plan in a file.

    Raises:
        PlanError: it cannot be read, is no plan, is newer than this program, or holds something wrong.
    """
    name = str(path) or "(no name)"
    try:
        with Path(path).open("rb") as file:
            content = file.read(_LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:  # ValueError: a path with a NUL in it
        raise _refusal(name, "", f"cannot be read: {os_reason(error)}") from None
    if len(content) > _LARGEST_BYTES:
        raise _refusal(name, "", "is larger than any plan (128 MiB); is it the right file?")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise _refusal(name, "", "is not a text file in UTF-8; is it the right file?") from None
    return plan_from_text(text, name)


def plan_from_text(text: str, file: str = "(text)") -> Plan:
    """The plan written in ``text``; ``file`` names it in errors.

    Raises:
        PlanError: as `read_plan`.
    """
    try:
        data = json.loads(text, object_pairs_hook=_no_doubles, parse_constant=_no_constants)
    except json.JSONDecodeError as error:
        what = "is empty" if not text.strip() else f"is not JSON: {error.msg}, column {error.colno}"
        raise _refusal(file, f"line {error.lineno}", what) from None
    except _Refused as error:
        raise _refusal(file, "", str(error)) from None
    except RecursionError:
        raise _refusal(file, "", "is nested deeper than any plan") from None
    except ValueError:  # whole numbers of more than 4300 digits
        raise _refusal(file, "", "holds a number of thousands of digits") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise _refusal(file, "format", f'is no plan file: it does not say "format": "{FORMAT}"')
    migrated = _migrated(data, file)
    try:
        plan = Plan.model_validate(migrated, by_alias=True, by_name=False)
    except ValidationError as error:
        raise _plan_error(file, error.errors(include_url=False)) from None
    _refuse_loose_values(plan, migrated, file, ())
    return plan


def plan_to_text(plan: Plan) -> str:
    """The plan as JSON text; what the plan leaves to its defaults stays left out."""
    content = {"format": FORMAT, "version": VERSION}
    content |= plan.model_dump(mode="json", by_alias=True, exclude_unset=True)
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def write_plan(path: str | Path, plan: Plan) -> Stamp:
    """Write a plan so that the file is either the old one or the new one, never half of one.

    Returns:
        The stamp of the file written.

    Raises:
        FileProblem: the file is read-only, or the folder cannot be written to.
    """
    return write_bytes(path, plan_to_text(plan).encode("utf-8"), force=True)


class _Refused(Exception):
    """JSON that parses but must not pass."""


def _no_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise _Refused(f'the key "{key}" stands twice in one object')
        found[key] = value
    return found


def _no_constants(text: str) -> float:
    raise _Refused(f"{text} is no number a plan can hold")


def _migrated(data: dict[str, Any], file: str) -> dict[str, Any]:
    version = data.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise _refusal(file, "version", f"must be a whole number, at present {VERSION}")
    if version > VERSION:
        reason = f"is {_shown(version)}, this program reads up to {VERSION}; open it with a newer one"
        raise _refusal(file, "version", reason)
    while version < VERSION:
        data = _MIGRATIONS[version](data)
        version += 1
    return data | {"version": VERSION}


def _refuse_loose_values(node: object, data: object, file: str, path: tuple[int | str, ...]) -> None:
    """Refuse what validation takes in its stride: true for 1, "47.2" for 47.2, text that is no Unicode.

    Numbers in quotes are common in element sets that other programs write, and pass there.
    """
    if isinstance(data, dict) and isinstance(node, Model):
        names = {field.alias or name: name for name, field in type(node).model_fields.items()}
        for key, value in data.items():
            quoted = isinstance(node, ElementSet) and isinstance(value, str)
            held = value if quoted else getattr(node, names[key])
            _refuse_loose_values(held, value, file, (*path, key))
    elif isinstance(data, list) and isinstance(node, tuple):
        for index, (held, value) in enumerate(zip(node, data, strict=True)):
            _refuse_loose_values(held, value, file, (*path, index))
    elif isinstance(node, bool):
        if not isinstance(data, bool):
            raise _refusal(file, _key_path(path), f"is {_shown(data)}, it must be true or false")
    elif isinstance(node, int | float) and isinstance(data, str | bool):
        raise _refusal(file, _key_path(path), f"is {_shown(data)}, it must be a number without quotes")
    elif isinstance(data, str) and not _is_unicode(data):
        raise _refusal(file, _key_path(path), f"is {_shown(data)}, it must be Unicode text")


def _is_unicode(text: str) -> bool:
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _refusal(file: str, place: str, reason: str) -> PlanError:
    """One line of printable text, whatever stands in the file or in its name."""
    return PlanError(*(one_line(part) for part in (file, place, reason)))


def _plan_error(file: str, errors: list[ErrorDetails]) -> PlanError:
    """The first thing wrong, and how many more there are."""
    first = min(errors, key=lambda error: error["type"] == "missing")
    more = f" ({len(errors) - 1} more)" if len(errors) > 1 else ""
    return _refusal(file, _key_path(first["loc"]), _in_words(first) + more)


def _key_path(location: tuple[int | str, ...]) -> str:
    """``satellites[2].name``: list items are counted from 1, as an operator counts them."""
    path = ""
    for part in location:
        path += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if path else part
    return path


def _in_words(error: ErrorDetails) -> str:
    kind, context = error["type"], error.get("ctx", {})
    if kind == "extra_forbidden":
        return "is no key of a plan here; " + _spelling(str(error["loc"][-1]))
    if kind == "missing":
        return "is missing"
    if kind == "value_error":
        return str(context.get("error", error["msg"]))
    allowed = must_be(error)
    said = error["msg"][:1].lower() + error["msg"][1:]
    must = f"it must be {allowed}" if allowed else said
    return f"is {_shown(error.get('input'))}, {must}"


def _spelling(key: str) -> str:
    schema = Plan.model_json_schema(by_alias=True)
    known = {name for part in (schema, *schema["$defs"].values()) for name in part.get("properties", {})}
    near = difflib.get_close_matches(key, known - {key}, n=1, cutoff=0.75)
    return f'perhaps "{near[0]}" is meant' if near else "check its spelling or leave it out"


def _shown(value: object) -> str:
    try:
        text = json.dumps(value, ensure_ascii=True, default=str)
    except (RecursionError, ValueError):
        return "something beyond measure"
    return text if len(text) <= 60 else text[:57] + "..."
