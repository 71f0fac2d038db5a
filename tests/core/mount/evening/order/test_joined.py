"""How far off in azimuth a satellite stays on the beam, against the angle on the sky."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.drive.aim import off_boresight_deg
from core.mount.evening.order.joined import is_outside, reach_deg_of


@pytest.mark.parametrize("limit_deg", [0.5, 5.0, 15.0, 90.0])
def test_the_reach_is_where_the_angle_on_the_sky_is_half_the_beamwidth(limit_deg: float) -> None:
    draw = np.random.default_rng(int(limit_deg * 10))
    held_deg, true_deg = draw.uniform(0.0, 90.0, (2, 4000))
    true_deg[:2000] = np.clip(held_deg[:2000] + draw.normal(0.0, limit_deg, 2000), 0.0, 90.0)
    over = draw.random(4000) < 0.5
    e_deg, elevation_deg = np.where(over, 180.0 - np.array([held_deg, true_deg]), [held_deg, true_deg])
    apart_deg = draw.uniform(-800.0, 800.0, 4000)
    apart_deg[::2] = 360.0 * draw.integers(-2, 3, 2000) + draw.normal(0.0, 2.0 * limit_deg, 2000)
    a, b = np.radians(e_deg), np.radians(elevation_deg)
    height, flat = np.sin((a - b) / 2.0) ** 2, np.cos(a) * np.cos(b)
    off_deg = off_boresight_deg(apart_deg, e_deg, elevation_deg)
    told = np.abs(off_deg - limit_deg) > 1e-6
    outside = is_outside(reach_deg_of(height, flat, limit_deg), apart_deg)
    np.testing.assert_array_equal(outside[told], (off_deg > limit_deg)[told])
    assert 100 < outside.sum() < 3900
