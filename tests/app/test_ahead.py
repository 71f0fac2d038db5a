"""The first plan worked out by a second process: what it hands over, and what becomes of it where it fails.

Each case runs in a process of its own, since a process with threads, as tests have, is not forked.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
pytestmark = pytest.mark.skipif(
    sys.platform != "linux" or len(os.sched_getaffinity(0)) == 1, reason="nothing is forked here"
)

BEGIN = """
import os, pickle, signal
from pathlib import Path
from app.ahead import fork_ahead
from app.kept_code import KeptCode
from core.base.errors import Cancelled
from core.base.memo import Memo
from core.evaluate import evaluate
from tests.plans import plan_of, short_plan_data
def gone(process):
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
def yes(_done, _total, _what):
    return True
plan, memo = plan_of(short_plan_data()), Memo()
kept = KeptCode(Path(os.devnull))
ahead = fork_ahead(kept)
assert ahead is not None
process = ahead._process
"""

ANSWERS = """
ahead.begin(plan)
ahead.fill(memo, yes)
assert gone(process)
handed_over = dict(memo.computed)
warm, cold = evaluate(plan, memo), evaluate(plan)
assert memo.computed == handed_over and set(handed_over.values()) == {1}, memo.computed
assert warm.passes and warm.identity == cold.identity
for name in ("utc_s", "azimuth_deg", "elevation_deg"):
    assert all((getattr(a, name) == getattr(b, name)).all() for a, b in zip(warm.passes, cold.passes))
assert [c.start_utc_s for c in warm.order.contacts] == [c.start_utc_s for c in cold.order.contacts]
assert warm.reasons == cold.reasons and warm.seat.__dict__ == cold.seat.__dict__
ahead.fill(memo, yes)
assert memo.computed == handed_over
"""

KILLED = """
os.kill(process, signal.SIGKILL)
ahead.begin(plan)
ahead.fill(memo, yes)
assert gone(process) and not memo.computed
assert evaluate(plan, memo).passes
"""

CATALOGUE = """
satellites = plan.satellites * 201
ahead.begin(plan.model_copy(update={"satellites": satellites}))
assert gone(process)
ahead.fill(memo, yes)
assert not memo.computed
"""

CANCELLED = """
try:
    ahead.fill(memo, lambda _done, _total, _what: False)
except Cancelled:
    pass
else:
    raise AssertionError("nobody was told that it was cancelled")
assert gone(process) and not memo.computed
"""

KEPT = """
import dataclasses, sys, tempfile
sys.dont_write_bytecode = False
ahead.end()
assert "core.mount.evening.evening" not in sys.modules
with tempfile.TemporaryDirectory() as folder:
    kept = KeptCode(Path(folder, "kept"))
    dataclasses.exec = kept.exec
    ahead = fork_ahead(kept)
    ahead.begin(plan)
    ahead.fill(memo, yes)
    assert memo.computed
    assert len(KeptCode(Path(folder, "kept"))._codes) > 20
"""

THREADS = """
import threading
wait = threading.Event()
other = threading.Thread(target=wait.wait)
other.start()
assert fork_ahead(kept) is None
wait.set()
other.join()
ahead.end()
ahead.end()
assert gone(process)
"""


@pytest.mark.parametrize(
    "case",
    [ANSWERS, KEPT, KILLED, CATALOGUE, CANCELLED, THREADS],
    ids=["answers", "kept", "killed", "catalogue", "cancelled", "threads"],
)
def test_the_second_process(case):
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", BEGIN + case],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert (done.returncode, done.stderr) == (0, "")
