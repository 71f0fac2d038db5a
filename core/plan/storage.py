"""Plan files: read with migration and clear refusals, written atomically. The I/O of plans lives here."""

from __future__ import annotations

import difflib
import json
import os
import tempfile
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from core.base.errors import FileProblem, PlanError
from core.base.model import Model
from core.base.refusals import must_be
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
        raise _refusal(name, "", f"cannot be read: {_os_reason(error)}") from None
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
        FileProblem: it is there already and ``force`` is off, it is no ordinary file, or the folder cannot
            be written to.
    """
    target = _writable_target(path, force)
    try:
        handle, beside = tempfile.mkstemp(dir=target.parent, prefix=".northkey-")
    except OSError as error:
        raise _not_written(path, error) from None
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, target.stat().st_mode if target.exists() else 0o666 & ~_umask())
        os.replace(beside, target)
    except BaseException as error:
        with suppress(OSError):
            os.unlink(beside)
        if isinstance(error, OSError):
            raise _not_written(path, error) from None
        raise


def refuse_source(target: str | Path, sources: Iterable[str | Path]) -> None:
    """An answer never replaces what it was made from, whatever is forced and however the file is spelled.

    Args:
        target: where the answer is to be written.
        sources: the files it is made from.

    Raises:
        FileProblem: they are one file, by its name, through links of either kind, or by its case alone.
    """
    for source in sources:
        try:
            same = os.path.samefile(target, source)
        except (OSError, ValueError):  # one of them is not there; a NUL in the path
            continue
        if same:
            raise _problem(
                target, f"is what the answer is made from ({_one_line(str(source))}); name another"
            )


def _writable_target(path: str | Path, force: bool) -> Path:
    """The file to be written, links followed: a plan may be a link to where the operator keeps it.

    Raises:
        FileProblem: it is no ordinary file, or is there already and ``force`` is off.
    """
    try:
        target = Path(path).resolve()
        is_there, is_folder, is_file = target.exists(), target.is_dir(), target.is_file()
    except (OSError, ValueError, RuntimeError) as error:  # a NUL in the path; links in a circle
        raise _not_written(path, error) from None
    if is_folder:
        raise _problem(path, "is a folder; name a file")
    if is_there and not is_file:
        raise _problem(path, "is no ordinary file; name another one")
    if is_there and not force:
        raise _problem(path, "is there already; use --force to replace it")
    return target


def _not_written(path: str | Path, error: Exception) -> FileProblem:
    return _problem(path, f"cannot be written: {_os_reason(error)}")


def _problem(path: str | Path, reason: str) -> FileProblem:
    return FileProblem(_one_line(str(path)) or "(no name)", "", reason)


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


def _os_reason(error: Exception) -> str:
    reason = error.strerror if isinstance(error, OSError) else str(error)
    return (reason or "unknown reason").lower()


def _refusal(file: str, place: str, reason: str) -> PlanError:
    """One line of printable text, whatever stands in the file or in its name."""
    return PlanError(*(_one_line(part) for part in (file, place, reason)))


def _one_line(text: str) -> str:
    printable = "".join(mark if mark.isprintable() else " " for mark in text)
    return " ".join(printable.split())


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
