"""An explicit memo of stages, owned by whoever holds the document."""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec, TypeVar

P = ParamSpec("P")
T = TypeVar("T")

#: Results kept per stage: enough for undo and redo and for a drag there and back.
_KEPT = 8
#: What a stage may be handed beside its inputs: no answer depends on them.
_NOT_COMPARED = frozenset({"memo", "progress"})


class Memo:
    """Remembers the latest results of each stage. Use it from one thread.

    Inputs are compared by value: models by their fields, results of earlier stages by being the same
    object. Nothing is hashed, so comparing a long list of unchanged models costs no more than a walk.
    """

    def __init__(self, kept: int = _KEPT) -> None:
        self._kept = kept
        self._results: dict[str, list[tuple[tuple[object, ...], object]]] = {}
        #: How often each stage was computed, for tests and for the foot strip.
        self.computed: dict[str, int] = {}

    def call(self, stage: str, function: Callable[P, T], /, *inputs: P.args, **not_compared: P.kwargs) -> T:
        """``function(*inputs)``, computed now if the stage is not remembered to have had these inputs.

        The function sees nothing but what is written here, so that no input can be missing from the
        comparison: a closure over the plan would go on answering for an old plan. For the same reason only
        ``progress`` and ``memo`` may be given by name; they are handed on and not compared.

        Args:
            stage: under this name the results are remembered; one function a stage.
            function: a stage. It is to be pure, whatever ``memo`` and ``progress`` it is handed.
            inputs: all that its answer depends on.
            not_compared: ``progress``, ``memo``, or both.

        Raises:
            TypeError: anything else is given by name.
        """
        if not not_compared.keys() <= _NOT_COMPARED:
            raise TypeError(f"{stage}: inputs are given by position, not {sorted(not_compared)}")
        known = self._results.setdefault(stage, [])
        for index, (old_inputs, result) in enumerate(known):
            if old_inputs == inputs:
                known.insert(0, known.pop(index))
                return result  # type: ignore[return-value]
        result = function(*inputs, **not_compared)
        self.computed[stage] = self.computed.get(stage, 0) + 1
        known.insert(0, (inputs, result))
        del known[self._kept :]
        return result

    def forget(self, stage: str) -> None:
        """Forget all results of a stage."""
        self._results.pop(stage, None)

    def take_over(self, other: Memo) -> None:
        """Remember what another memo does, ahead of what is remembered already."""
        for stage, results in other._results.items():
            self._results[stage] = [*results, *self._results.get(stage, [])][: self._kept]
        for stage, times in other.computed.items():
            self.computed[stage] = self.computed.get(stage, 0) + times
