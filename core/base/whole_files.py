"""Files written whole or not at all, and told apart from what others have made of them since.

A file is written beside its final place first and then put there in one step, so that whoever reads it, and
whoever is killed on the way, has the old one or the new one. What a killed process left beside is cleared
away by the next one that writes into the folder.
"""

from __future__ import annotations

import os
import re
import socket
import sys
import tempfile
import time
import zlib
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from core.base.errors import FileProblem
from core.base.files import os_reason
from core.base.text import one_line

#: What is not yet whole: machine and process that write it, so that others know whether they still do.
_BESIDE = re.compile(r"\.northkey-(?P<host>[0-9a-f]{8})-(?P<pid>[0-9]+)-[a-z0-9_]{8}")
#: As files beside were named before they told who writes them.
_BESIDE_BEFORE = re.compile(r"\.northkey-[a-z0-9_]{8}")
#: By then nobody writes a file any more, whoever it was.
_OLD_S = 86_400.0


class Stamp(NamedTuple):
    """By what a file is known again without reading it; two writings have two stamps."""

    modified_ns: int
    size: int
    inode: int


def stamp_of(path: str | Path) -> Stamp | None:
    """The stamp of a file as it is now; None where there is none that can be looked at."""
    try:
        return _stamp(os.stat(path))
    except (OSError, ValueError):
        return None


def _stamp(found: os.stat_result) -> Stamp:
    return Stamp(found.st_mtime_ns, found.st_size, found.st_ino)


def write_bytes(path: str | Path, content: bytes, *, force: bool) -> Stamp:
    """Write a file whole or not at all.

    Args:
        path: where; a link is followed.
        content: what.
        force: replace a file that is there already.

    Returns:
        The stamp of what was written.

    Raises:
        FileProblem: it is there already and ``force`` is off, it is no ordinary file or may not be written,
            or the folder cannot be written to.
    """
    target = _writable_target(path, force)
    try:
        handle, beside = tempfile.mkstemp(dir=target.parent, prefix=f".northkey-{_host()}-{os.getpid()}-")
    except OSError as error:
        raise _not_written(path, error) from None
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, target.stat().st_mode if target.exists() else 0o666 & ~_umask())
        stamp = _stamp(os.stat(beside))
        os.replace(beside, target)
    except BaseException as error:
        with suppress(OSError):
            os.unlink(beside)
        if isinstance(error, OSError):
            raise _not_written(path, error) from None
        raise
    clear_away(target.parent)
    return stamp


def clear_away(folder: Path) -> None:
    """Remove what killed processes left half written in a folder; what is still being written stays."""
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if entry.name.startswith(".northkey-") and _is_left_behind(entry):
                with suppress(OSError):
                    os.unlink(entry.path)


def _is_left_behind(entry: os.DirEntry[str]) -> bool:
    told = _BESIDE.fullmatch(entry.name)
    if told is None and _BESIDE_BEFORE.fullmatch(entry.name) is None:
        return False
    if told is not None and told["host"] == _host() and sys.platform != "win32":
        return not _is_running(int(told["pid"]))
    with suppress(OSError):
        return time.time() - entry.stat(follow_symlinks=False).st_mtime > _OLD_S
    return False


def _is_running(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):  # another user's
        return True
    return True


def _host() -> str:
    return f"{zlib.crc32(socket.gethostname().encode()):08x}"


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
            raise _problem(target, f"is what the answer is made from ({one_line(str(source))}); name another")


def _writable_target(path: str | Path, force: bool) -> Path:
    """The file to be written, links followed: a plan may be a link to where the operator keeps it.

    Raises:
        FileProblem: it is no ordinary file, may not be written, or is there already and ``force`` is off.
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
    if is_there and not _may_be_written(target):
        raise _problem(path, "is read-only; name another file, or allow writing to it")
    return target


def _may_be_written(target: Path) -> bool:
    """By its own marks, which a replacement in one step would pass over, and root would too."""
    try:
        return bool(target.stat().st_mode & 0o222) and os.access(target, os.W_OK)
    except OSError:
        return True  # gone meanwhile: nothing is replaced


def _not_written(path: str | Path, error: Exception) -> FileProblem:
    return _problem(path, f"cannot be written: {os_reason(error)}")


def _problem(path: str | Path, reason: str) -> FileProblem:
    return FileProblem(one_line(str(path)) or "(no name)", "", reason)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
