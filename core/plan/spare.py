"""Spare copies: what a window had that was in no file, kept beside the settings so that no work is lost. I/O.

A window keeps one file while it is open: which plan file it works on, and the plan where that is in no file.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from core.base.errors import NorthkeyError, PlanError
from core.base.files import read_file, read_head
from core.base.times import format_iso, parse_iso
from core.base.whole_files import write_bytes
from core.plan.document import Plan
from core.plan.storage import plan_from_text, plan_to_text

_FORMAT = "northkey-spare"
#: What stands before the plan, which comes last; in a file's name its quotation marks would be escaped.
_BEFORE_PLAN = b', "plan": '
#: Longer than any path is, written in escapes.
_HEAD_BYTES = 64 * 1024
#: A plan's largest, and half as much again for its quotation marks.
_LARGEST_BYTES = 96 * 1024 * 1024


@dataclass(frozen=True)
class Spare:
    """What one window keeps.

    Attributes:
        file: the plan file it works on, or None.
        plan: edits that are in no file, or None where there are none.
        kept_utc_s: when it was kept, POSIX seconds.
    """

    file: Path | None
    plan: Plan | None
    kept_utc_s: float


def write_spare(path: Path, spare: Spare) -> None:
    """Keep it, whole or not at all.

    Raises:
        FileProblem: the folder cannot be written to.
    """
    head = {
        "format": _FORMAT,
        "file": None if spare.file is None else str(spare.file),
        "kept": format_iso(spare.kept_utc_s),
        "plan": None if spare.plan is None else plan_to_text(spare.plan),
    }
    # Names of files may hold bytes that are no text: they survive as escapes.
    write_bytes(path, json.dumps(head, ensure_ascii=True).encode("ascii"), force=True)


def file_of_spare(path: Path) -> Path | None:
    """The plan file that a window works on, without reading the plan in its copy.

    Raises:
        PlanError: it cannot be read or is no spare copy.
    """
    try:
        head, mark, _ = read_head(path, _HEAD_BYTES).partition(_BEFORE_PLAN)
        file = json.loads(head + b"}")["file"] if mark else json.loads(head)["file"]
        return None if file is None else Path(file)
    except (ValueError, TypeError, KeyError, RecursionError, NorthkeyError):
        raise PlanError(str(path), "", "is no spare copy") from None


def read_spare(path: Path) -> Spare:
    """What was kept in a file.

    Raises:
        PlanError: it cannot be read or is no spare copy; the plan in it does not hold.
    """
    try:
        kept = json.loads(read_file(path, _LARGEST_BYTES, what="spare copy").decode("ascii"))
        if kept["format"] != _FORMAT:
            raise ValueError
        file, text = kept["file"], kept["plan"]
        return Spare(
            file=None if file is None else Path(file),
            plan=None if text is None else plan_from_text(text, str(path)),
            kept_utc_s=parse_iso(kept["kept"]),
        )
    except PlanError:
        raise
    except (ValueError, TypeError, KeyError, RecursionError, NorthkeyError):
        raise PlanError(str(path), "", "is no spare copy") from None
