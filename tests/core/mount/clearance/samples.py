"""Stations of the tests, invented."""

from __future__ import annotations

from typing import Any

from core.mount.clearance.lengths import Clearance

#: Two crossed yagis over a tripod with one guy.
TWO_YAGIS: dict[str, Any] = {
    "axis_height_mm": 1500.0,
    "axis_forward_mm": 40.0,
    "crossboom_left_mm": 650.0,
    "crossboom_right_mm": 650.0,
    "booms": [
        {
            "name": "70 cm yagi",
            "side_mm": 600.0,
            "front_mm": 1600.0,
            "tail_mm": 700.0,
            "front_half_element_mm": 150.0,
            "tail_half_element_mm": 170.0,
            "elements": "X",
        },
        {
            "name": "2 m yagi",
            "side_mm": -600.0,
            "front_mm": 1100.0,
            "tail_mm": 900.0,
            "front_half_element_mm": 480.0,
            "tail_half_element_mm": 520.0,
            "elements": "vertical",
        },
    ],
    "legs": [
        {"from_keyway_deg": angle, "radius_mm": 850.0, "top_radius_mm": 60.0, "top_height_mm": 1150.0}
        for angle in (60.0, 180.0, 300.0)
    ],
    "guys": [{"from_keyway_deg": 0.0, "height_mm": 1200.0, "peg_radius_mm": 1500.0}],
    "gap_mm": 50.0,
}


def station(**changes: Any) -> Clearance:
    """`TWO_YAGIS` with some keys changed."""
    return Clearance.model_validate(TWO_YAGIS | changes)
