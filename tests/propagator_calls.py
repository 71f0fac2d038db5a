"""Counts what is asked of the propagator, from outside: calls, and states in all of them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any
from unittest.mock import patch

import sgp4.api

from core.elements import propagator


@dataclass
class Calls:
    """How often the propagator was called, and for how many states."""

    calls: int = 0
    states: int = 0

    def add(self, states: int) -> None:
        self.calls += 1
        self.states += states


@contextmanager
def counted_calls() -> Iterator[Calls]:
    """Everything the library propagates meanwhile, by one record or by many; no record is kept."""
    counted = Calls()

    class OneRecord(sgp4.api.Satrec):
        def sgp4(self, *moment: float) -> Any:
            counted.add(1)
            return super().sgp4(*moment)

        def sgp4_tsince(self, *moment: float) -> Any:
            counted.add(1)
            return super().sgp4_tsince(*moment)

        def sgp4_array(self, day: Any, fraction: Any) -> Any:
            counted.add(len(day))
            return super().sgp4_array(day, fraction)

    class ManyRecords(sgp4.api.SatrecArray):
        def __init__(self, records: Any) -> None:
            super().__init__(records)
            self.count = len(records)

        def sgp4(self, day: Any, fraction: Any) -> Any:
            counted.add(self.count * len(day))
            return super().sgp4(day, fraction)

    with (
        patch.object(sgp4.api, "Satrec", OneRecord),
        patch.object(sgp4.api, "SatrecArray", ManyRecords),
        patch.object(propagator, "_record", propagator._record.__wrapped__),
    ):
        yield counted
