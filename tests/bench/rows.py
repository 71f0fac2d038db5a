"""A line of the benchmarks' one table, and how a job is timed."""

from __future__ import annotations

from collections.abc import Callable
from statistics import median
from time import perf_counter
from typing import NamedTuple

from core.base.times import parse_iso
from core.elements.files import read_element_files
from core.elements.model import ElementSet
from tests.shared_data import shared_file

START_UTC_S = parse_iso("2024-11-01T16:00:00Z")
RUNS = 7


class Row(NamedTuple):
    """One line: seconds beside a baseline's, and by how much it may be longer or has to be shorter."""

    what: str
    seconds: float
    against: str
    baseline_s: float
    wanted: float | None = None

    @property
    def ratio(self) -> float:
        """How many times the baseline."""
        return self.seconds / self.baseline_s

    def __str__(self) -> str:
        wanted = "" if self.wanted is None else f"  wanted {self.wanted:.2f}"
        late = "" if self.wanted is None or self.ratio <= self.wanted else "  TOO LONG"
        return (
            f"{self.what:44} {1e3 * self.seconds:9.1f} ms {self.ratio:9.3f} of {self.against}{wanted}{late}"
        )


def seconds(job: Callable[[], object], runs: int = RUNS) -> float:
    """The median of some runs, after one that is not counted."""
    taken = []
    for _ in range(runs + 1):
        begin = perf_counter()
        job()
        taken.append(perf_counter() - begin)
    return median(taken[1:])


def amateur_sets() -> tuple[ElementSet, ...]:
    """The amateur satellites of the shared data."""
    return read_element_files([shared_file("data/amateur_20241101.csv")]).sets
