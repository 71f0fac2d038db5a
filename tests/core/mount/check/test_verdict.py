from __future__ import annotations

import numpy as np
import pytest

from core.mount.check.splits import SplitBest
from core.mount.check.verdict import WORDS, Means, decide

SECONDS = 600.0


def means(upright: float, over: float, split: float, part: float) -> Means:
    blank = np.zeros(1, dtype=int)
    best = SplitBest(np.array([split]), np.zeros(1), blank, blank, blank, blank)
    one = [np.array([loss]) for loss in (upright, over, split, part)]
    return Means(*one, best_split=best, part_index=blank, parts=())


@pytest.mark.parametrize(
    ("losses", "word"),
    [
        ((0.0, 0.0, 0.0, 0.0), "upright"),
        ((5.0, 0.0, 0.0, 0.0), "upright"),
        ((5.1, 0.0, 50.0, 90.0), "over the top"),
        ((np.inf, np.inf, 50.0, 90.0), "split"),
        ((np.inf, np.inf, 85.0, 90.0), "part"),
        ((np.inf, np.inf, 84.9, 90.0), "split"),
        ((12.0, np.inf, 5.0, 8.0), "upright"),
        ((14.0, np.inf, 3.0, 8.0), "part"),
        ((np.inf, np.inf, np.inf, 450.0), "part"),
        ((np.inf, np.inf, np.inf, 450.1), "out of reach"),
        ((np.inf, np.inf, np.inf, np.inf), "out of reach"),
    ],
)
def test_the_first_within_five_seconds_of_the_least_wins(losses: tuple[float, ...], word: str) -> None:
    """A split must gain more than 5 s on staying in one way; a quarter on the beam at least."""
    index, lost = decide(means(*losses), SECONDS)
    assert WORDS[int(index[0])] == word
    assert lost[0] == (SECONDS if word == "out of reach" else losses[WORDS.index(word)])
