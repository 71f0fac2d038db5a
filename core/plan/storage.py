"""Plan files: read with migration and clear refusals, written whole. The I/O of plans lives here."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from core.base.errors import FileProblem
from core.base.files import read_file
from core.base.model import Model
from core.base.units import Progress, no_progress
from core.base.whole_files import Stamp, write_bytes
from core.elements.model import ElementSet
from core.plan.document import FORMAT, VERSION, Plan
from core.plan.refused import key_path, plan_error, refusal, shown

#: One step each: from this version to the next. None yet, since the first version is the present one.
_MIGRATIONS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}
_LARGEST_BYTES = 64 * 1024 * 1024
#: An element set has some 20 keys, the mount some 20.
_MOST_KEYS = 200
#: Of more lists and objects than the first, a plan has one in the second number of letters at most.
_MOST_BRACKETS, _LETTERS_A_BRACKET = 1000, 16


def read_plan(path: str | Path, progress: Progress = no_progress) -> Plan:
    """The plan in a file.

    Raises:
        PlanError: it cannot be read, is no plan, is newer than this program, or holds something wrong.
        Cancelled: ``progress`` returned False.
    """
    name = str(path) or "(no name)"
    try:
        content = read_file(path, _LARGEST_BYTES, progress, what="plan")
    except FileProblem as problem:
        raise refusal(name, "", problem.reason) from None
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refusal(name, "", "is not a text file in UTF-8; is it the right file?") from None
    return plan_from_text(text, name)


def plan_from_text(text: str, file: str = "(text)") -> Plan:
    """The plan written in ``text``; ``file`` names it in errors.

    Raises:
        PlanError: as `read_plan`.
    """
    _refuse_crowds(text, file)
    try:
        data = json.loads(text, object_pairs_hook=_no_doubles, parse_constant=_no_constants)
    except json.JSONDecodeError as error:
        what = "is empty" if not text.strip() else f"is not JSON: {error.msg}, column {error.colno}"
        raise refusal(file, f"line {error.lineno}", what) from None
    except _Refused as error:
        raise refusal(file, "", str(error)) from None
    except RecursionError:
        raise refusal(file, "", "is nested deeper than any plan") from None
    except ValueError:  # whole numbers of more than 4300 digits
        raise refusal(file, "", "holds a number of thousands of digits") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise refusal(file, "format", f'is no plan file: it does not say "format": "{FORMAT}"')
    migrated = _migrated(data, file)
    try:
        plan = Plan.model_validate(migrated, by_alias=True, by_name=False)
    except ValidationError as error:
        raise plan_error(file, error.errors(include_url=False)) from None
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


def _refuse_crowds(text: str, file: str) -> None:
    """Refuse a text of lists and objects with next to nothing in them: each costs a hundred bytes and more.

    Raises:
        PlanError: it is one.
    """
    crowd = text.count("{") + text.count("[")
    if crowd > _MOST_BRACKETS and crowd * _LETTERS_A_BRACKET > len(text):
        raise refusal(file, "", f"holds {crowd} lists and objects with next to nothing in them: no plan does")


class _Refused(Exception):
    """JSON that parses but must not pass."""


def _no_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len(pairs) > _MOST_KEYS:
        raise _Refused(f"{len(pairs)} keys in one object, more than any part of a plan has")
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise _Refused(f"the key {shown(key)} stands twice in one object")
        found[key] = value
    return found


def _no_constants(text: str) -> float:
    raise _Refused(f"{text} is no number a plan can hold")


def _migrated(data: dict[str, Any], file: str) -> dict[str, Any]:
    version = data.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise refusal(file, "version", f"must be a whole number, at present {VERSION}")
    if version > VERSION:
        reason = f"is {shown(version)}, this program reads up to {VERSION}; open it with a newer one"
        raise refusal(file, "version", reason)
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
            raise refusal(file, key_path(path), f"is {shown(data)}, it must be true or false")
    elif isinstance(node, int | float) and isinstance(data, str | bool):
        raise refusal(file, key_path(path), f"is {shown(data)}, it must be a number without quotes")
    elif isinstance(data, str) and not _is_unicode(data):
        raise refusal(file, key_path(path), f"is {shown(data)}, it must be Unicode text")


def _is_unicode(text: str) -> bool:
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True
