"""The faults are real ones: they parse, they differ, and the same seed gives the same."""

from __future__ import annotations

import ast
import os
import runpy
import subprocess
import sys

import pytest

from tests.mutants.__main__ import ROOT, drawn, modules_of, put, shares
from tests.mutants.faults import faults_of
from tests.mutants.nearness import near_tests

SAMPLE = '''
"""A docstring with 1 + 1 in it."""
LIMIT = 5.0
TINY = 1e-6


def far(a: float, b: float = 2.0) -> float:
    """Sum, 3 or 4."""
    if not a < b:
        return abs(a) % 360.0
    total = 0
    total += min(a, b)
    return -total if a and b else far(a, b)
'''


def test_every_kind_of_fault_is_found():
    news = {fault.new for fault in faults_of(SAMPLE)}
    wanted = {
        "(7.5)",
        "(3.0)",
        "(a > b)",
        "(a < b)",
        "(abs(a))",
        "(a)",
        "(1)",
        "(max(a, b))",
        "(a or b)",
        "pass",
    }
    assert wanted | {"(total)", "(far(b, a))"} <= news
    assert not any("e-06" in fault.old or "docstring" in fault.old for fault in faults_of(SAMPLE))


def test_each_fault_parses_and_is_another_module():
    for source in (SAMPLE, modules_of(ROOT)["core.mount.check.ways"], modules_of(ROOT)["core.base.times"]):
        plain = ast.dump(ast.parse(source))
        for fault in faults_of(source):
            assert ast.dump(ast.parse(fault.planted(source))) != plain


def test_the_same_seed_draws_the_same_and_every_module_has_its_share():
    once = drawn(ROOT, 7, 200, [])
    assert once == drawn(ROOT, 7, 200, [])
    assert once != drawn(ROOT, 8, 200, [])
    assert len(once) == 200 == len(set(once))
    changeable = {name for name, source in modules_of(ROOT).items() if faults_of(source)}
    assert {name for name, _fault in once} == changeable or len(changeable) > 200


def test_shares_add_up_and_follow_the_sizes():
    assert shares({"a": 100, "b": 10, "c": 0}, 11) == {"a": 9, "b": 2}
    assert shares({"a": 5, "b": 3}, 1) == {"a": 1}


def test_the_nearest_tests_come_first():
    files = near_tests(ROOT, "core.mount.check.ways")
    assert files[0].startswith("tests/core/mount/check/")
    assert files.index("tests/core/mount/check/test_ways_oracle.py") < files.index(
        "tests/core/test_replan.py"
    )
    assert any(file.startswith("tests/app/commands/") for file in files)
    assert not any(file.startswith("tests/app/window/") for file in files)


def test_a_fault_is_run_though_the_module_was_compiled_in_the_same_second(tmp_path, monkeypatch):
    module = tmp_path / "faulty_of_these_tests.py"
    monkeypatch.syspath_prepend(str(tmp_path))
    for answer in (1, 2):
        put(module, f"ANSWER = {answer}\n")
        os.utime(module, (1e9, 1e9))
        assert runpy.run_module(module.stem)["ANSWER"] == answer


@pytest.mark.skipif(sys.platform == "win32", reason="no limit of memory there")
def test_a_fault_that_wants_memory_without_end_is_refused_it(tmp_path):
    greedy = tmp_path / "test_greedy.py"
    greedy.write_text("def test_it():\n    assert bytearray(9 * 2**30)\n", encoding="utf-8")
    words = ["-m", "pytest", "-q", "-n", "0", "-p", "no:cacheprovider", "-p", "tests.mutants.clock"]
    done = subprocess.run(
        [sys.executable, *words, str(greedy)], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 1
    assert "MemoryError" in done.stdout
