"""The demo's stand: every dimension invented."""

from __future__ import annotations

from typing import Any

STAND: dict[str, Any] = {
    "gust_factor": 1.6,
    "legs": [
        {"from_keyway_deg": 0.0, "radius_mm": 700.0},
        {"from_keyway_deg": 120.0, "radius_mm": 700.0},
        {"from_keyway_deg": 240.0, "radius_mm": 700.0},
    ],
    "tripod_mass_kg": 11.5,
    "tripod_height_mm": 600.0,
    "tripod_rating_kg": 34.0,
    "masses": [
        {"name": "rotator", "mass_kg": 7.4, "height_mm": 1300.0},
        {"name": "crossboom and yagis", "mass_kg": 4.6, "height_mm": 1550.0},
        {
            "name": "boom out of balance",
            "mass_kg": 1.2,
            "height_mm": 1550.0,
            "radius_mm": 180.0,
            "turns": True,
        },
        {
            "name": "control box",
            "mass_kg": 1.9,
            "height_mm": 500.0,
            "from_keyway_deg": 120.0,
            "radius_mm": 300.0,
        },
    ],
    "areas": [
        {"name": "2 m crossed yagi", "area_m2": 0.13, "drag": 1.2, "height_mm": 1550.0},
        {"name": "70 cm crossed yagi", "area_m2": 0.08, "drag": 1.2, "height_mm": 1550.0},
        {"name": "crossboom", "area_m2": 0.06, "drag": 1.2, "height_mm": 1550.0},
        {"name": "rotator", "area_m2": 0.05, "drag": 1.2, "height_mm": 1300.0},
        {"name": "legs", "area_m2": 0.11, "drag": 1.2, "height_mm": 600.0},
    ],
    "hung": [{"name": "battery", "mass_kg": 6.5, "height_mm": 250.0}],
    "guys": [
        {"from_keyway_deg": 60.0, "height_mm": 1150.0, "peg_radius_mm": 1700.0},
        {"from_keyway_deg": 180.0, "height_mm": 1150.0, "peg_radius_mm": 1700.0},
        {"from_keyway_deg": 300.0, "height_mm": 1150.0, "peg_radius_mm": 1700.0},
    ],
    "highest_mm": 2550.0,
    "near": [
        {"name": "power line", "bearing_deg": 304.0, "distance_m": 42.0, "height_m": 9.0},
        {"name": "footpath", "bearing_deg": 88.0, "distance_m": 3.0, "height_m": 0.0},
        {"name": "car park", "bearing_deg": 150.0, "distance_m": 26.0, "height_m": 0.0},
    ],
    "forecast": {"mean_m_s": 4.5, "gust_m_s": 7.5},
    "wishes": {"wind_from_deg": 245.0},
}
