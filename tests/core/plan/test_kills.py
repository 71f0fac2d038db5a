"""Killed at any moment while it saves, keeps a spare copy or writes a sheet: all files stay whole.

The writers are forked from a process that has all it needs, so that a kill comes within milliseconds; there
is no window in them.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from pathlib import Path

import pytest

from core.base.whole_files import clear_away, write_bytes
from core.plan.spare import Spare, read_spare, write_spare
from core.plan.storage import read_plan, write_plan
from tests.plans import full_plan_data, plan_of

KILLS = 500
LATEST_S = 0.02
PLANS = tuple(plan_of(full_plan_data(), title=f"plan {number}" + "x" * number) for number in range(3))
SHEETS = tuple(b"%PDF" + bytes([65 + number]) * (200_000 + number) + b"%%EOF" for number in range(3))

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="forks its writers")


def write_for_ever(folder: Path) -> None:
    number = 0
    while True:
        plan = PLANS[number % 3]
        write_plan(folder / "evening.json", plan)
        write_spare(folder / "1-a.spare.json", Spare(folder / "evening.json", plan, 1e9 + number))
        write_bytes(folder / "sheet.pdf", SHEETS[number % 3], force=True)
        number += 1


def kill_a_writer(folder: Path, after_s: float) -> None:
    pid = os.fork()
    if pid == 0:
        try:
            write_for_ever(folder)
        finally:
            os._exit(1)
    time.sleep(after_s)
    os.kill(pid, signal.SIGKILL)
    os.waitpid(pid, 0)


def assert_whole(folder: Path) -> None:
    assert read_plan(folder / "evening.json") in PLANS
    assert read_spare(folder / "1-a.spare.json").plan in PLANS
    assert (folder / "sheet.pdf").read_bytes() in SHEETS


@pytest.mark.filterwarnings("ignore:.*multi-threaded, use of fork:DeprecationWarning")
@pytest.mark.parametrize(
    "kills", [pytest.param(KILLS // 100, id="some"), pytest.param(KILLS, id="all", marks=pytest.mark.long)]
)
def test_nothing_is_lost_and_nothing_half_written_stays(tmp_path, kills):
    write_plan(tmp_path / "evening.json", PLANS[0])
    write_spare(tmp_path / "1-a.spare.json", Spare(None, PLANS[0], 1e9))
    write_bytes(tmp_path / "sheet.pdf", SHEETS[0], force=False)
    chance, left = random.Random(2026), 0
    for _ in range(kills):
        kill_a_writer(tmp_path, chance.uniform(0.0, LATEST_S))
        assert_whole(tmp_path)
        left += len(list(tmp_path.glob(".northkey-*")))
    clear_away(tmp_path)
    assert {path.name for path in tmp_path.iterdir()} == {"evening.json", "1-a.spare.json", "sheet.pdf"}
    assert kills < KILLS or left > 0  # the kills did come while something was being written
