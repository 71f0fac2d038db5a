"""How hypothesis draws: the suite the same each time, so that red is about the change; a hunt at random.

And in which order files are run: the longest first. A worker takes file after file, so a long one that is
begun last would keep it busy while the other has nothing left to do.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Generator
from pathlib import Path

import pytest
from hypothesis import settings

# No deadline: how long an example takes tells of the machine, and the first one pays for what is kept.
settings.register_profile("suite", derandomize=True, deadline=None)
settings.register_profile("hunt", derandomize=False, deadline=None)
settings.load_profile("suite")

# Whatever the machine is told: the tests start some fifty processes, and each would compile the program anew.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

#: Set by `.ci/run` where the same code has passed with all examples a moment before: a tenth of them will do.
TENTH = "NORTHKEY_TENTH"

TESTS = Path(__file__).resolve().parent
#: Files of seven seconds of processor time and more, the longest first; the others follow in their own order.
LONGEST = (
    "app/window/frame/test_main_window.py",
    "core/mount/seat/test_seat_oracle.py",
    "attacks/test_readers.py",
    "core/sheet/test_render.py",
    "app/window/pages/sheet/test_page.py",
    "core/test_evaluate.py",
    "app/window/test_accessible_names.py",
    "app/test_main.py",
    "app/window/test_whole_job.py",
    "app/window/test_first_screen.py",
    "app/window/frame/test_end.py",
    "core/mount/seat/test_by_evening.py",
    "app/window/pages/mount/test_page.py",
    "app/window/pages/keyway/test_season.py",
    "core/elements/readers/test_damage.py",
    "app/commands/test_orient.py",
    "reference/test_pass_search.py",
    "core/mount/check/test_splits.py",
    "core/mount/check/test_ways_oracle.py",
    "mutants/test_mutants.py",
    "app/window/test_cancel.py",
    "core/mount/test_plants.py",
    "core/mount/seat/losses/test_table.py",
    "app/window/test_monkey.py",
    "core/setup/sightings/test_campaign.py",
    "core/mount/evening/order/test_exhaustive.py",
)


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, object, object]:
    """Gather the tests while nothing is collected, and let what is there then be out of the collector's way.

    All modules stay until the end: to walk through their objects again and again frees nothing.
    """
    gc.disable()
    found = yield
    gc.enable()
    gc.freeze()
    return found


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The long files first."""
    places = {TESTS / name: place for place, name in enumerate(LONGEST)}
    items.sort(key=lambda item: places.get(item.path, len(places)))
    if os.environ.get(TENTH):
        for test in {getattr(item, "obj", None) for item in items}:
            _draw_a_tenth(test)


def _draw_a_tenth(test: object) -> None:
    # Hypothesis has no public way to lower what a test's own settings ask for.
    asked = getattr(test, "_hypothesis_internal_use_settings", None)
    if asked is not None:
        fewer = settings(asked, max_examples=max(asked.max_examples // 10, 1))
        test._hypothesis_internal_use_settings = fewer  # type: ignore[attr-defined]
