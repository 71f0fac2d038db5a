"""`northkey demo`: the demo plan, its evening and its sheet."""

from __future__ import annotations

import argparse
import hashlib
import json
import time
from pathlib import Path

from app.commands.evening import say_evening
from app.commands.output import say
from core.base.errors import FileProblem
from core.base.files import read_file
from core.base.memo import Memo
from core.base.whole_files import write_bytes
from core.evaluate import evaluate
from core.plan.storage import plan_from_text
from core.studies import explain, orient, study_beside
from resources import bundled

PLAN_NAME = "larch_ridge.northkey.json"
SHEET_NAME = "larch_ridge.pdf"
_RECORD_NAME = ".northkey-demo.json"
#: What the demo writes is far smaller.
_LARGEST_BYTES = 16 * 1024 * 1024


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "demo",
        help="an invented evening: writes its plan and field sheet, prints the evening",
        description="Writes an invented plan into a folder, evaluates it, prints the evening and the best "
        "seat, and writes its field sheet. Needs no network.",
    )
    parser.add_argument(
        "folder", nargs="?", default="northkey-demo", metavar="DIR", help="folder (default: northkey-demo)"
    )
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if plan and sheet were written."""
    from app.commands.orient import best_words
    from core.sheet.render import sheet_pdf

    folder = Path(options.folder)
    written = _written_before(folder)
    text = bundled("demo", PLAN_NAME).read_text("utf-8")
    plan = plan_from_text(text, PLAN_NAME)
    memo = Memo()
    result = evaluate(plan, memo)
    study = orient(plan, result, memo)
    beside = study_beside(plan, result, memo)
    reasons = explain(plan, result, memo)
    sheet = sheet_pdf(plan, result, time.time(), "a4", beside)
    _write_own(folder, written, {PLAN_NAME: text.encode("utf-8"), SHEET_NAME: sheet})
    say_evening(plan, result, reasons)
    say()
    say("Best seat by the passes alone: " + best_words(study.best))
    say()
    say(f"Plan:  {folder / PLAN_NAME}")
    say(f"Sheet: {folder / SHEET_NAME}")
    say(f"Go on with: northkey check {folder / PLAN_NAME}")
    return 0


def _written_before(folder: Path) -> dict[str, str]:
    """Digests of what the demo wrote into this folder before, by name; the folder is made.

    Raises:
        FileProblem: the folder cannot be made, or holds a file of the demo's names that is somebody's.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        reason = error.strerror if isinstance(error, OSError) else str(error)
        raise FileProblem(str(folder), "", f"cannot be made a folder: {reason}") from None
    record = folder / _RECORD_NAME
    try:
        written = json.loads(read_file(record, _LARGEST_BYTES).decode("utf-8"))
    except (ValueError, RecursionError, FileProblem):
        written = {}
    if not isinstance(written, dict):
        written = {}
    _refuse_to_replace(folder, written)
    return written


def _refuse_to_replace(folder: Path, written: dict[str, str]) -> None:
    """A file that is there is replaced only if the demo wrote it and nobody changed it.

    Raises:
        FileProblem: it is somebody's.
    """
    for path in (folder / PLAN_NAME, folder / SHEET_NAME):
        if path.exists() and _digest(path) != written.get(path.name):
            raise FileProblem(
                str(path), "", "is there already and is not the demo's own; name another folder"
            )


def _write_own(folder: Path, written: dict[str, str], files: dict[str, bytes]) -> None:
    """Write the demo's files, and the record of what was written.

    Raises:
        FileProblem: a file has become somebody's meanwhile, or cannot be written.
    """
    _refuse_to_replace(folder, written)
    for name, content in files.items():
        write_bytes(folder / name, content, force=True)
    digests = {name: hashlib.sha256(content).hexdigest() for name, content in files.items()}
    write_bytes(folder / _RECORD_NAME, json.dumps(digests, indent=2).encode(), force=True)


def _digest(path: Path) -> str:
    """Of a file's content; empty where it cannot be read, or is larger than anything the demo writes."""
    try:
        return hashlib.sha256(read_file(path, _LARGEST_BYTES)).hexdigest()
    except FileProblem:
        return ""
