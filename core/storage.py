"""Plan files: read with migration and clear refusals, written atomically. The I/O of plans lives here."""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from core.errors import FileProblem, PlanError
from core.plan import FORMAT, VERSION, Plan

#: One step each: from this version to the next. None yet, since the first version is the present one.
_MIGRATIONS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}
_LARGEST_BYTES = 128 * 1024 * 1024


def read_plan(path: str | Path) -> Plan:
    """The plan in a file.

    Raises:
        PlanError: it cannot be read, is no plan, is newer than this program, or holds something wrong.
    """
    name = str(path)
    try:
        if Path(path).stat().st_size > _LARGEST_BYTES:
            raise PlanError(name, "", "is larger than any plan (128 MiB); is it the right file?")
        text = Path(path).read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        raise PlanError(name, "", "is not a text file in UTF-8; is it the right file?") from None
    except OSError as error:
        raise PlanError(name, "", _os_reason(error)) from None
    return plan_from_text(text, name)


def plan_from_text(text: str, file: str = "(text)") -> Plan:
    """The plan written in ``text``; ``file`` names it in errors.

    Raises:
        PlanError: as `read_plan`.
    """
    try:
        data = json.loads(text, object_pairs_hook=_no_doubles, parse_constant=_no_constants)
    except json.JSONDecodeError as error:
        raise PlanError(file, f"line {error.lineno}", f"is not JSON: {error.msg}") from None
    except _Refused as error:
        raise PlanError(file, "", str(error)) from None
    except RecursionError:
        raise PlanError(file, "", "is nested deeper than any plan") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise PlanError(file, "format", f'is no plan file: it does not say "format": "{FORMAT}"')
    migrated = _migrated(data, file)
    try:
        return Plan.model_validate(migrated)
    except ValidationError as error:
        raise _plan_error(file, error.errors(include_url=False), migrated) from None


def plan_to_text(plan: Plan) -> str:
    """The plan as JSON text; what the plan leaves to its defaults stays left out."""
    content = {"format": FORMAT, "version": VERSION}
    content |= plan.model_dump(mode="json", by_alias=True, exclude_unset=True)
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def write_plan(path: str | Path, plan: Plan) -> None:
    """Write a plan so that the file is either the old one or the new one, never half of one.

    Raises:
        FileProblem: the folder cannot be written to.
    """
    write_bytes(path, plan_to_text(plan).encode("utf-8"), force=True)


def write_bytes(path: str | Path, content: bytes, *, force: bool) -> None:
    """Write a file atomically, beside its final place first.

    Args:
        path: where.
        content: what.
        force: replace a file that is there already.

    Raises:
        FileProblem: it is there already and ``force`` is off, or the folder cannot be written to.
    """
    target = Path(path)
    if target.is_dir():
        raise FileProblem(str(path), "", "is a folder; name a file")
    if target.exists() and not force:
        raise FileProblem(str(path), "", "is there already; use --force to replace it")
    try:
        handle, beside = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    except OSError as error:
        raise FileProblem(str(path), "", _os_reason(error)) from None
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, target.stat().st_mode if target.exists() else 0o666 & ~_umask())
        os.replace(beside, target)
    except OSError as error:
        Path(beside).unlink(missing_ok=True)
        raise FileProblem(str(path), "", _os_reason(error)) from None


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


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
        raise PlanError(file, "version", f"must be a whole number from 1 to {VERSION}")
    if version > VERSION:
        raise PlanError(
            file, "version", f"is {version}, this program reads up to {VERSION}; open it with a newer one"
        )
    while version < VERSION:
        data = _MIGRATIONS[version](data)
        version += 1
    return data | {"version": VERSION}


def _os_reason(error: OSError) -> str:
    return (error.strerror or "cannot be read").lower()


def _plan_error(file: str, errors: list[ErrorDetails], data: dict[str, Any]) -> PlanError:
    """The first thing wrong, and how many more there are."""
    first = min(errors, key=lambda error: error["type"] == "missing")
    place = _key_path(first["loc"])
    more = f" ({len(errors) - 1} more)" if len(errors) > 1 else ""
    return PlanError(file, place, _in_words(first, data) + more)


def _key_path(location: tuple[int | str, ...]) -> str:
    path = ""
    for part in location:
        path += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if path else part
    return path


def _in_words(error: ErrorDetails, data: dict[str, Any]) -> str:
    kind = error["type"]
    if kind == "extra_forbidden":
        return "is no key of a plan; check its spelling or leave it out"
    if kind == "missing":
        return "is missing"
    if kind == "value_error":
        return str(error["ctx"]["error"]) if "ctx" in error else error["msg"]
    given = error.get("input")
    shown = json.dumps(given, ensure_ascii=False, default=str)
    shown = shown if len(shown) <= 60 else shown[:57] + "..."
    return f"is {shown}: {error['msg'][:1].lower()}{error['msg'][1:]}"
