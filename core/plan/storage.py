"""Plan files: read with migration and clear refusals, written whole. The I/O of plans lives here."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from core.base.document_refusals import document_error
from core.base.errors import FileProblem
from core.base.files import read_file
from core.base.json_documents import read_document, read_text_document, refuse_loose_values, version_of
from core.base.units import Progress, no_progress
from core.base.whole_files import Stamp, write_bytes
from core.elements.model import ElementSet
from core.plan.document import FORMAT, VERSION, Plan
from core.plan.refused import refusal, refusals_of

#: One step each: from this version to the next. None yet, since the first version is the present one.
_MIGRATIONS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}
_LARGEST_BYTES = 64 * 1024 * 1024
#: What the documents are, in refusals.
NOUN = "plan"


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
    return _plan(read_document(content, refusals_of(name), NOUN), name)


def plan_from_text(text: str, file: str = "(text)") -> Plan:
    """The plan written in ``text``; ``file`` names it in errors.

    Raises:
        PlanError: as `read_plan`.
    """
    return _plan(read_text_document(text, refusals_of(file), NOUN), file)


def _plan(data: object, file: str) -> Plan:
    """The plan in a document as it was read."""
    refuse = refusals_of(file)
    migrated = _migrated(*version_of(data, FORMAT, VERSION, refuse, NOUN))
    try:
        plan = Plan.model_validate(migrated, by_alias=True, by_name=False)
    except ValidationError as error:
        raise document_error(refuse, error.errors(include_url=False), Plan, NOUN) from None
    refuse_loose_values(plan, migrated, refuse, (ElementSet,))
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


def _migrated(data: dict[str, Any], version: int) -> dict[str, Any]:
    while version < VERSION:
        data = _MIGRATIONS[version](data)
        version += 1
    return data | {"version": VERSION}
