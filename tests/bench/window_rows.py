"""The table's section "window": where a person waits at the window and the sheet.

Start, sheet and layers have baselines that do as much elsewhere. A hand that drags waits for nobody else: its
baseline is an empty widget of the same size painted again, and what is wanted stands for 16 ms in the median
and 50 ms at worst on a machine that paints the empty one in a sixth of a millisecond.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from statistics import median

from core.base.times import format_iso
from core.evaluate import evaluate
from core.plan.document import Evening, Plan
from tests.bench.evenings import evening, walled
from tests.bench.first_window import race
from tests.bench.peers import plain_loop
from tests.bench.rows import START_UTC_S, Row, amateur_sets, seconds
from tests.bench.window_scenes import (
    Scene,
    Times,
    empty_repaints,
    horizon_point_moved,
    keyway_turned,
    layers_afresh,
    moment_marked,
    scene,
)
from tests.evening_plans import full_evening_plan

EMPTY = "an empty widget repainted"
LOOP = "Skyfield's loop, 24 h"
PASSES = 20
#: How many times the empty widget's time a step, the worst of many steps, and the fixed layers may take.
STEP, WORST, LAYERS = 16.0 / 0.16, 50.0 / 0.16, 50.0 / 0.16
#: In a process of its own: the typesetter remembers what it laid out before.
SHEET = """
import sys
from time import perf_counter
from core.evaluate import evaluate
from core.sheet.render import sheet_pdf
from tests.bench.window_rows import sheet_plan
import typst
plan = sheet_plan()
result = evaluate(plan)
begin = perf_counter()
sheet_pdf(plan, result, plan.evening.start_utc_s)
print(len(result.order.contacts), perf_counter() - begin)
"""


def all_rows() -> Iterator[Row]:
    """The whole section."""
    bare, demo = race()
    yield Row("start to the demo worked out and painted", median(demo), "a bare window", median(bare), 4.0)
    yield from _sheet_rows()
    plan = evening()
    with scene(plan) as here:
        empty_s = median(empty_repaints(here))
        yield from _step_rows("keyway turned by hand", here, keyway_turned, empty_s)
        yield from _step_rows("moment marked on the dial", here, moment_marked, empty_s)
        for what, times in layers_afresh(here).items():
            yield Row(f"Evening page, {what}", median(times), EMPTY, empty_s, LAYERS)
    with scene(plan.model_copy(update={"site": walled(plan.site)})) as here:
        yield from _step_rows("horizon point dragged", here, horizon_point_moved, empty_s)


def _step_rows(what: str, here: Scene, drag: Callable[[Scene], Times], empty_s: float) -> Iterator[Row]:
    times = drag(here)
    passes = len(here.context.result.passes) if here.context.result is not None else 0
    yield Row(f"{what}, {passes} passes", median(times), EMPTY, empty_s, STEP)
    yield Row(f"  the worst of {len(times)} steps", max(times), EMPTY, empty_s, WORST)


def _sheet_rows() -> Iterator[Row]:
    loop_s = seconds(lambda: plain_loop(amateur_sets(), START_UTC_S, 24.0), 3)
    told = [
        subprocess.run([sys.executable, "-c", SHEET], check=True, capture_output=True, text=True).stdout
        for _ in range(3)
    ]
    passes = told[0].split()[0]
    yield Row(
        f"sheet of {passes} passes", median(float(one.split()[1]) for one in told), LOOP, loop_s, 1.0 / 0.16
    )


def sheet_plan() -> Plan:
    """A full evening until so many passes are worked: a shorter one is ordered anew, and works fewer."""
    plan = full_evening_plan()
    contacts = evaluate(plan).order.contacts
    for last in contacts[PASSES - 1 :]:
        hours = Evening(start=plan.evening.start, end=format_iso(last.end_utc_s + 1.0))
        shorter = plan.model_copy(update={"evening": hours})
        if len(evaluate(shorter).order.contacts) >= PASSES:
            return shorter
    return plan
