"""The curve of what splits lose against the very function it was sampled from."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.angles import Floats
from core.base.errors import Cancelled
from core.mount.seat.losses.sampling import NONE_S
from core.mount.seat.losses.splits import SplitLosses

#: Edges are known to this much, in bearing.
NEAR_EDGE_DEG = 0.1
#: What the curve may be out by elsewhere.
OUT_BY_S = 2.0
PIECES = ((10.0, 170.0), (200.0, 290.0))
FINE = np.arange(0.0, 360.5, 0.5)


class Ramps:
    """A split loss that falls and is level by turns, worth while only under what the others lose.

    Args:
        corners: (C,) zetas, rising, between which it is straight.
        levels: (C,) seconds lost there.
        others: seconds lost by other means.
    """

    def __init__(self, corners: list[float], levels: list[float], others: float) -> None:
        self.corners, self.levels, self.others = np.array(corners), np.array(levels), others
        self.asked = 0

    def loss(self, zeta: Floats) -> Floats:
        return np.interp(zeta, self.corners, self.levels)

    def found(self, zeta: Floats, others: Floats) -> Floats:
        self.asked += zeta.size
        loss = self.loss(zeta)
        return np.where(loss < others, loss, NONE_S)

    def curve(self) -> tuple[Floats, Floats]:
        return SplitLosses(self.found, PIECES, FINE, np.full(FINE.size, self.others)).sample(lambda: None)

    def wrong(self) -> list[tuple[float, float, float]]:
        """Zeta, curve and function, wherever they differ and no edge or end of a piece is near."""
        at, split = self.curve()
        zeta = np.concatenate([np.arange(start + 0.05, end, 0.11) for start, end in PIECES])
        right = np.searchsorted(at, zeta)
        share = (zeta - at[right - 1]) / (at[right] - at[right - 1])
        said = split[right - 1] + share * (split[right] - split[right - 1])
        spare = self.others - np.stack([self.loss(zeta + by) for by in (-NEAR_EDGE_DEG, 0.0, NEAR_EDGE_DEG)])
        clear_of_edges = (spare > 0.0).all(axis=0) | (spare <= 0.0).all(axis=0)
        true = np.where(spare[1] > 0.0, self.loss(zeta), NONE_S)
        off = np.flatnonzero(clear_of_edges & (np.abs(said - true) > OUT_BY_S))
        return [(float(zeta[k]), float(said[k]), float(true[k])) for k in off]


@settings(max_examples=200, deadline=None)
@given(
    edge=st.floats(13.0, 167.0),
    level=st.floats(20.0, 60.0),
    length=st.floats(1.0, 60.0),
    slope=st.floats(1.0, 12.0),
    down=st.booleans(),
)
def test_a_level_then_a_ramp_beside_an_edge(edge, level, length, slope, down):
    """Level (just worth while) from the edge on, then down: nothing at the edge foretells the ramp."""
    way = 1.0 if down else -1.0
    stretch = level / slope
    zetas = [edge - way * 0.001, edge, edge + way * length, edge + way * (length + stretch)]
    levels = [level + 20.0, level - 0.5, level - 0.6, 0.0]
    order = np.argsort(zetas)
    ramps = Ramps([zetas[k] for k in order], [levels[k] for k in order], level)
    assert ramps.wrong() == []


def test_a_bend_beside_an_edge_that_no_even_sample_shows():
    """As a pass that was 8 s out: none until 219.45, level to 222.1, then 10 s down for every degree."""
    ramps = Ramps([219.44, 219.45, 222.1, 227.4], [90.0, 53.6, 53.3, 0.0], 60.0)
    assert ramps.wrong() == []
    assert ramps.asked < 150


def test_nothing_is_found_where_nothing_is_worth_while():
    at, split = Ramps([0.0, 360.0], [50.0, 80.0], 40.0).curve()
    assert (split == NONE_S).all()
    assert (at.min(), at.max()) == (PIECES[0][0], PIECES[-1][1])


def test_it_can_be_cancelled():
    def tick() -> None:
        raise Cancelled

    ramps = Ramps([0.0, 100.0, 360.0], [50.0, 0.0, 80.0], 40.0)
    with pytest.raises(Cancelled):
        SplitLosses(ramps.found, PIECES, FINE, np.full(FINE.size, 40.0)).sample(tick)
