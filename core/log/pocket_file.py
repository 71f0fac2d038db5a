"""What the pocket page saved in the field, read back. The I/O of such files lives here."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Literal

from pydantic import Field, ValidationError, field_validator

from core.base.document_refusals import Refuse, document_error, told
from core.base.errors import FileProblem
from core.base.files import read_file
from core.base.json_documents import read_document, read_text_document, refuse_loose_values, version_of
from core.base.model import Many, Model
from core.base.text import Line
from core.base.units import Progress, no_progress
from core.log.model import MOST_LOG, LogEntry

FORMAT = "northkey-log"
VERSION = 1
NOUN = "log"
#: Ten times what the longest log takes.
_LARGEST_BYTES = 16 * 1024 * 1024
_IDENTITY = re.compile(r"[0-9a-f]{8}")


class PocketLog(Model):
    """A saved log: of which plan it is, and what was noted."""

    format: Literal["northkey-log"] = "northkey-log"
    version: Literal[1] = 1
    identity: str
    title: Line = ""
    log: Many[LogEntry] = Field(default=(), max_length=MOST_LOG)

    @field_validator("identity")
    @classmethod
    def _of_a_plan(cls, value: str) -> str:
        if not _IDENTITY.fullmatch(value):
            raise ValueError("must be the eight hex digits of the plan that the page was made from")
        return value

    @property
    def entries(self) -> tuple[LogEntry, ...]:
        """Those that say something: the page may save a line for every contact."""
        return tuple(entry for entry in self.log if not entry.says_nothing)


def read_pocket_log(path: str | Path, progress: Progress = no_progress) -> PocketLog:
    """The log in a file.

    Raises:
        FileProblem: it cannot be read, is no log, is newer than this program, or holds something wrong.
        Cancelled: ``progress`` returned False.
    """
    name = str(path) or "(no name)"
    content = read_file(path, _LARGEST_BYTES, progress, what=NOUN)
    refuse = _refusals_of(name)
    return _log(read_document(content, refuse, NOUN), refuse)


def pocket_log_from_text(text: str, file: str = "(text)") -> PocketLog:
    """The log written in ``text``; ``file`` names it in errors.

    Raises:
        FileProblem: as `read_pocket_log`.
    """
    refuse = _refusals_of(file)
    return _log(read_text_document(text, refuse, NOUN), refuse)


def _refusals_of(file: str) -> Refuse:
    return lambda place, reason: FileProblem(told(file), told(place), told(reason))


def _log(data: object, refuse: Refuse) -> PocketLog:
    found, _version = version_of(data, FORMAT, VERSION, refuse, NOUN)
    try:
        log = PocketLog.model_validate(found)
    except ValidationError as error:
        raise document_error(refuse, error.errors(include_url=False), PocketLog, NOUN) from None
    refuse_loose_values(log, found, refuse)
    return log
