from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.seat.limits import SeatLimit
from core.mount.seat.season.best import AS_GOOD, best_stretch
from core.mount.seat.season.not_clear import StepCurve


def curve_of(*pieces: tuple[float, float]) -> StepCurve:
    start, value = np.array(pieces).T
    return StepCurve(start, value)


@pytest.mark.parametrize(
    ("pieces", "limits", "told"),
    [
        ([(0, 0.2), (100, 0.1), (140, 0.3)], [], (120.0, 40.0, False)),
        ([(0, 0.1), (30, 0.2), (350, 0.1)], [], (10.0, 40.0, False)),
        ([(0, 0.1), (20, 0.2), (100, 0.1), (140, 0.3)], [], (120.0, 40.0, False)),
        ([(0, 0.3), (100, 0.1), (110, 0.1 + AS_GOOD / 2), (150, 0.3)], [], (125.0, 50.0, False)),
        ([(0, 0.2)], [], (0.0, 360.0, False)),
        ([(0, 0.2), (100, 0.1), (140, 0.3)], [(110, 200)], (105.0, 10.0, False)),
        ([(0, 0.2), (100, 0.1), (140, 0.3)], [(90, 150)], (45.0, 90.0, False)),
        ([(0, 0.2), (100, 0.1), (140, 0.3)], [(0, 360)], (120.0, 40.0, True)),
    ],
)
def test_the_widest_stretch_as_good_as_the_best(pieces, limits, told):
    found = best_stretch(curve_of(*pieces), tuple(SeatLimit(from_deg=a, to_deg=b) for a, b in limits))
    assert tuple(found) == pytest.approx(told)


@given(
    st.lists(
        st.tuples(st.integers(1, 359), st.integers(0, 5)), min_size=2, max_size=12, unique_by=lambda p: p[0]
    )
)
def test_no_bearing_is_better_than_the_best(pieces):
    curve = curve_of((0.0, 0.3), *[(float(start), value / 10.0) for start, value in sorted(pieces)])
    found = best_stretch(curve, ())
    at = curve.at(found.middle_deg + np.linspace(-0.49, 0.49, 9) * found.width_deg)
    assert at.max() <= curve.value.min() + AS_GOOD
