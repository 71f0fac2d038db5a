"""The one door through which files come in (I/O): regular files only, in pieces, up to a size that is told.

What a name stands for is a stranger's choice: a pipe would be waited for without end, a device never ends.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from os import PathLike

from core.base.errors import Cancelled, FileProblem
from core.base.units import Progress, no_progress

#: Read at a time; between two pieces the caller may cancel.
_PIECE_BYTES = 1024 * 1024
_MIB = 1024 * 1024
_KINDS = (
    (stat.S_ISDIR, "is a folder; name a file"),
    (stat.S_ISFIFO, "is a pipe; name an ordinary file"),
    (stat.S_ISSOCK, "is a socket; name an ordinary file"),
    (lambda mode: not stat.S_ISREG(mode), "is a device; name an ordinary file"),
)
#: Opening a pipe to read waits for a writer unless this is asked for; ordinary files do not mind.
_FLAGS = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)


def read_file(
    path: str | PathLike[str], largest_bytes: int, progress: Progress = no_progress, *, what: str = "file"
) -> bytes:
    """The content of an ordinary file, links followed.

    Args:
        path: as the operator gave it.
        largest_bytes: a larger file is refused, at once where its size is known and else after so much.
        progress: called before every piece with bytes read and bytes in all.
        what: what it is to be, for the message: ``"plan"`` gives ``is larger than any plan (64 MiB)``.

    Raises:
        FileProblem: it is not there, no ordinary file, too large, or cannot be read.
        Cancelled: ``progress`` returned False.
    """
    try:
        handle = _opened(path)
        try:
            size = os.fstat(handle).st_size
            if size > largest_bytes:
                raise _too_large(path, largest_bytes, what)
            return b"".join(_pieces(handle, path, size, largest_bytes, progress, what))
        finally:
            os.close(handle)
    except (OSError, ValueError) as error:  # ValueError: a NUL in the path
        raise _unreadable(path, error) from None


def read_head(path: str | PathLike[str], most_bytes: int) -> bytes:
    """The beginning of an ordinary file.

    Raises:
        FileProblem: it is not there, no ordinary file, or cannot be read.
    """
    try:
        handle = _opened(path)
        try:
            return os.read(handle, most_bytes)
        finally:
            os.close(handle)
    except (OSError, ValueError) as error:
        raise _unreadable(path, error) from None


def size_words(largest_bytes: int) -> str:
    """``64 MiB``, or ``512 kB`` below one."""
    return f"{largest_bytes // _MIB} MiB" if largest_bytes >= _MIB else f"{largest_bytes // 1024} kB"


def os_reason(error: Exception) -> str:
    """Why the system refused, in small letters: ``no such file or directory``."""
    reason = error.strerror if isinstance(error, OSError) else str(error)
    return (reason or "unknown reason").lower()


def _opened(path: str | PathLike[str]) -> int:
    """A handle on an ordinary file; looked at before it is opened, since opening a device may do something.

    Raises:
        FileProblem: it is of another kind.
        OSError, ValueError: it cannot be opened.
    """
    _refuse_kind(path, os.stat(path).st_mode)
    handle = os.open(path, _FLAGS)
    try:
        _refuse_kind(path, os.fstat(handle).st_mode)  # it may have been exchanged since
    except BaseException:
        os.close(handle)
        raise
    return handle


def _refuse_kind(path: str | PathLike[str], mode: int) -> None:
    for is_kind, reason in _KINDS:
        if is_kind(mode):
            raise FileProblem(str(path), "", reason)


def _pieces(
    handle: int, path: str | PathLike[str], size: int, largest_bytes: int, progress: Progress, what: str
) -> Iterator[bytes]:
    done = 0
    while True:
        if not progress(done, max(size, done), f"reading {what}"):
            raise Cancelled
        piece = os.read(handle, min(_PIECE_BYTES, largest_bytes + 1 - done))
        if not piece:
            return
        done += len(piece)
        if done > largest_bytes:  # it grew, or its size is not told, as of files that the system makes up
            raise _too_large(path, largest_bytes, what)
        yield piece


def _unreadable(path: str | PathLike[str], error: Exception) -> FileProblem:
    if isinstance(error, FileNotFoundError):
        reason = "does not exist"
    elif isinstance(error, PermissionError):
        reason = "may not be read (no permission)"
    else:
        reason = f"cannot be read: {os_reason(error)}"
    return FileProblem(str(path) or "(no name)", "", reason)


def _too_large(path: str | PathLike[str], largest_bytes: int, what: str) -> FileProblem:
    reason = f"is larger than any {what} ({size_words(largest_bytes)}); is it the right file?"
    return FileProblem(str(path), "", reason)
