"""The program's door: a command, or the window."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from app.commands.output import tell
from app.kept_code import KeptCode, code_kept
from app.start import without_algebra_threads, without_plugins
from core.base.errors import NorthkeyError


def joined_negatives(arguments: Sequence[str]) -> list[str]:
    """``--site -33.9,151.2`` as ``--site=-33.9,151.2``: argparse takes a leading minus for an option."""
    joined: list[str] = []
    for argument in arguments:
        negative = re.match(r"-[\d.]", argument) is not None
        if negative and joined and re.fullmatch(r"--[a-z-]+", joined[-1]):
            joined[-1] += f"={argument}"
        else:
            joined.append(argument)
    return joined


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code."""
    without_algebra_threads()
    without_plugins()
    words = joined_negatives(sys.argv[1:] if arguments is None else list(arguments))
    try:
        with code_kept() as kept:
            return _run(words, kept)
    except BrokenPipeError:
        # The reader went away (a pager, head): nothing to say, and nothing left to flush to.
        _drop_output()
        return 0
    except OSError as error:
        what = error.filename
        if what is None:
            _drop_output()
            what = "the answer cannot be written"
        tell(f"{what}: {(error.strerror or str(error)).lower()}")
        return 2


def _run(words: list[str], kept: KeptCode) -> int:
    """Parse and run, the answer written out; an `OSError` without a file's name is standard output's."""
    try:
        if _asks_for_window(words):
            return _window(words, kept)
        from app.commands.parser import build_parser  # the window starts without it

        options = build_parser().parse_args(words)
        return int(options.run(options))
    except NorthkeyError as error:
        tell(str(error))
        return 2
    except KeyboardInterrupt:
        return 130
    except OSError:
        raise
    except Exception as error:
        if os.environ.get("NORTHKEY_TRACEBACK"):
            raise
        tell(f"unexpected {type(error).__name__}: {error}; set NORTHKEY_TRACEBACK=1 to see where")
        return 2
    finally:
        if sys.stdout is not None:
            sys.stdout.flush()


def _asks_for_window(words: list[str]) -> bool:
    """No command at all, or nothing but a plan file."""
    return not words or (len(words) == 1 and words[0].endswith(".json"))


def _window(words: list[str], kept: KeptCode) -> int:
    """The workbench; the order of its imports is what a start takes."""
    from app.window.state.collector import defer_collection

    defer_collection()
    from app.ahead import fork_ahead

    ahead = fork_ahead(kept)
    try:
        from app.opening import opening

        first = opening(Path(words[0]) if words else None, ahead)
        from app.window.launch import open_workbench

        return open_workbench(first)
    except ImportError as error:
        tell(
            f"the window needs PySide6 (extra 'window'): {error}; every command works without it, see --help"
        )
        return 2
    finally:
        if ahead is not None:
            ahead.end()


def _drop_output() -> None:
    """What is left in the buffer goes nowhere, so that closing it at exit does not fail again."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


if __name__ == "__main__":
    sys.exit(main())
