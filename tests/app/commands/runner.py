"""Runs commands in this process, and in processes of their own."""

from __future__ import annotations

import contextlib
import io
import json
import os
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple
from unittest.mock import patch

from app.commands import compare, demo, parser, plan_input
from app.main import main
from tests.lasting import MEMO

ROOT = Path(__file__).resolve().parents[3]
#: Parsing leaves a parser as it was; to put all commands' words together takes longer than most refusals.
PARSER = cache(parser.build_parser)


class Answer(NamedTuple):
    """Exit code, standard output, standard error."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out, parse_constant=lambda text: (_ for _ in ()).throw(ValueError(text)))

    @property
    def errors(self) -> list[str]:
        """The lines on standard error, which all begin with the program's name."""
        lines = self.err.splitlines()
        assert all(line.startswith("northkey: ") and line.isprintable() for line in lines), self.err
        return [line.removeprefix("northkey: ") for line in lines]


def run(*words: object) -> Answer:
    """One command in this process, by the memo that lasts (`run_alone` begins with an empty one)."""
    out, err = io.StringIO(), io.StringIO()
    with (
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        patch.object(parser, "build_parser", PARSER),
        patch.object(plan_input, "Memo", lambda: MEMO),
        patch.object(compare, "Memo", lambda: MEMO),
        patch.object(demo, "Memo", lambda: MEMO),
    ):
        try:
            code = main([str(word) for word in words])
        except SystemExit as left:
            code = int(left.code or 0)
    return Answer(code, out.getvalue(), err.getvalue())


def run_alone(*words: object, folder: Path, **more: Any) -> Answer:
    """One command in a process of its own, started in a folder."""
    done = subprocess.run(
        [sys.executable, "-m", "app.main", *(str(word) for word in words)],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=False,
        timeout=120,
        **more,
    )
    return Answer(done.returncode, done.stdout.decode(), done.stderr.decode())


def refused(*words: object) -> str:
    """The one line with which a command is refused: exit code 2 and nothing on standard output."""
    answer = run(*words)
    assert (answer.code, answer.out) == (2, ""), answer
    assert len(answer.errors) == 1, answer.err
    return answer.errors[0]
