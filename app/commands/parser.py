"""The words of the command line."""

from __future__ import annotations

import argparse
import sys
from typing import NoReturn

from app.commands import (
    check,
    compare,
    demo,
    evening,
    export,
    log,
    orient,
    passes,
    plan,
    plate,
    season,
    setup,
    sheet,
    stand,
)
from app.commands.output import tell

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
    parser = _Parser(
        prog="northkey",
        description=_DESCRIPTION,
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", dest="command", required=True)
    for command in (
        passes,
        plan,
        check,
        orient,
        evening,
        season,
        compare,
        setup,
        plate,
        stand,
        sheet,
        export,
        log,
        demo,
    ):
        command.add_parser(commands)
    return parser
