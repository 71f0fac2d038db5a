"""The pieces drawings are made of."""

import math

import pytest

from core.base.drawing import arrow


@pytest.mark.parametrize("angle", [0.0, 0.7, 2.0, -2.5])
def test_an_arrow_head_is_as_wide_on_either_side_and_lies_behind_its_tip(angle):
    tip, *wings = arrow((10.0, 20.0), angle, 3.0).points_mm
    assert len(wings) == 2
    ahead = math.cos(angle), math.sin(angle)
    along = [(x - tip[0]) * ahead[0] + (y - tip[1]) * ahead[1] for x, y in wings]
    across = [(x - tip[0]) * -ahead[1] + (y - tip[1]) * ahead[0] for x, y in wings]
    assert max(along) < -2.0
    assert across[0] == pytest.approx(-across[1], abs=0.02)
    assert abs(across[0]) > 1.0
