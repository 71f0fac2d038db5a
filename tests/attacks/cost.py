"""What reading a text costs: memory against its size, and time at one size against time at another."""

from __future__ import annotations

import time
import tracemalloc
from collections.abc import Callable

from tests.attacks.makers import Maker

Reader = Callable[[str], object]


def peak_bytes(read: Reader, text: str) -> int:
    """The most memory that reading takes beside the text."""
    tracemalloc.start()
    try:
        read(text)
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


def memory_growth(read: Reader, make: Maker, small: int, large: int) -> float:
    """Bytes of memory for every byte by which a text grows from one size to another."""
    texts = [make(size) for size in (small, large)]
    sizes = [len(text.encode("utf-8", "replace")) for text in texts]
    peaks = [peak_bytes(read, text) for text in texts]
    return (peaks[1] - peaks[0]) / (sizes[1] - sizes[0])


def seconds(read: Reader, text: str, times: int = 1) -> float:
    """Processor time of the best of so many readings."""
    best = float("inf")
    for _ in range(times):
        begun = time.process_time()
        read(text)
        best = min(best, time.process_time() - begun)
    return best


def time_growth(read: Reader, make: Maker, size: int, enough: float) -> float:
    """How many times as long a text of four times the size takes; 1 ms counts as the least.

    One that takes longer than ``enough`` is looked at again more carefully: the machine has other work too.
    """
    small, large = make(size), make(4 * size)
    for times in (1, 3):
        growth = seconds(read, large, times) / max(seconds(read, small, times), 1e-3)
        if growth <= enough:
            break
    return growth
