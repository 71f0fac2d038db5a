"""An explicit memo of stages, owned by whoever holds the document."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

T = TypeVar("T")

#: Results kept per stage: enough for undo and redo and for a drag there and back.
_KEPT = 8


class Memo:
    """Remembers the latest results of each stage. Use it from one thread.

    Inputs are compared by value: models by their fields, results of earlier stages by being the same
    object. Nothing is hashed, so comparing a long list of unchanged models costs no more than a walk.
    """

    def __init__(self) -> None:
        self._results: dict[str, list[tuple[tuple[object, ...], object]]] = {}
        #: How often each stage was computed, for tests and for the foot strip.
        self.computed: dict[str, int] = {}

    def get(self, stage: str, inputs: tuple[object, ...], compute: Callable[[], T]) -> T:
        """What the stage gave for these inputs, computed now if it is not remembered."""
        known = self._results.setdefault(stage, [])
        for index, (old_inputs, result) in enumerate(known):
            if old_inputs == inputs:
                known.insert(0, known.pop(index))
                return result  # type: ignore[return-value]
        result = compute()
        self.computed[stage] = self.computed.get(stage, 0) + 1
        known.insert(0, (inputs, result))
        del known[_KEPT:]
        return result
