"""The program's door: a command, or the window."""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

from app.commands.output import tell
from app.start import without_algebra_threads
from core.base.errors import NorthkeyError

_DESCRIPTION = """Plans an evening at a portable az-el satellite station: which passes can be followed,
which way the tripod's keyway should point, and what to read off the dial at each minute, on paper."""

_EPILOG = """Without a command, or with a plan file alone, the workbench window opens.
Start with "northkey demo", or with elements and a place:
  northkey passes --elements FILE --site 47.2,9.1,1300 --start 2024-11-01T16:00:00Z --hours 8
Every answer has --json for scripts. Times are UTC, bearings degrees true."""


class _Parser(argparse.ArgumentParser):
    """Errors are one line on standard error, exit code 2."""

    def error(self, message: str) -> NoReturn:
        tell(f"{message}; see {self.prog} --help")
        sys.exit(2)


def build_parser() -> argparse.ArgumentParser:
    """All commands and their words."""
    # Here, since the window starts without them.
    from app.commands import check, demo, evening, export, orient, passes, plan, sheet

    parser = _Parser(
        prog="northkey",
        description=_DESCRIPTION,
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", dest="command", required=True)
    for command in (passes, plan, check, orient, evening, sheet, export, demo):
        command.add_parser(commands)
    return parser


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
    words = joined_negatives(sys.argv[1:] if arguments is None else list(arguments))
    try:
        return _run(words)
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


def _run(words: list[str]) -> int:
    """Parse and run, the answer written out; an `OSError` without a file's name is standard output's."""
    try:
        if _asks_for_window(words):
            return _window(words)
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


def _window(words: list[str]) -> int:
    try:
        from app.window.state.collector import defer_collection

        defer_collection()
        from app.window.launch import open_workbench
    except ImportError as error:
        tell(
            f"the window needs PySide6 (extra 'window'): {error}; every command works without it, see --help"
        )
        return 2
    return open_workbench(Path(words[0]) if words else None)


def _drop_output() -> None:
    """What is left in the buffer goes nowhere, so that closing it at exit does not fail again."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


if __name__ == "__main__":
    sys.exit(main())
