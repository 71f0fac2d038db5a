"""Invented plans for the tests: plain JSON data to be changed at will, and the plans they make."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

from core.plan.document import Plan
from core.plan.storage import plan_from_text

START, END = "2024-11-01T17:00:00Z", "2024-11-01T20:00:00Z"


def elements_data(norad_id: int, name: str = "", **changes: Any) -> dict[str, Any]:
    """OMM keywords of an invented low satellite; a value of None leaves a keyword out."""
    fields = {
        "OBJECT_NAME": name or f"HILLTOP {norad_id}",
        "OBJECT_ID": "2021-007B",
        "EPOCH": "2024-11-01T06:28:48.432",
        "MEAN_MOTION": 14.81234567,
        "ECCENTRICITY": 0.0012345,
        "INCLINATION": 97.5,
        "RA_OF_ASC_NODE": 330.0,
        "ARG_OF_PERICENTER": 45.125,
        "MEAN_ANOMALY": 120.0,
        "NORAD_CAT_ID": norad_id,
        "BSTAR": 0.00012345,
    } | changes
    return {keyword: value for keyword, value in fields.items() if value is not None}


def satellites_data() -> list[dict[str, Any]]:
    """Two satellites in different planes, two passes each in the three hours."""
    return [
        {"name": "Alder", "elements": elements_data(70001)},
        {
            "name": "Birch",
            "elements": elements_data(70002, INCLINATION=64.0, RA_OF_ASC_NODE=180.0),
        },
    ]


def transponders_data() -> list[dict[str, Any]]:
    """A channel with every key, and a beacon."""
    return [
        {
            "name": "voice",
            "downlink_hz": 436.212e6,
            "uplink_hz": 145.954e6,
            "mode": "FM",
            "bandwidth_hz": 16_000.0,
            "inverting": True,
            "tone_hz": 71.9,
            "status": "only in sunlight",
            "status_date": "2024-10-20",
            "notes": "Call once.",
        },
        {"name": "beacon", "downlink_hz": 145.868e6},
    ]


def short_plan_data() -> dict[str, Any]:
    """A site, two element sets and an evening: all else is left out."""
    return {
        "format": "northkey-plan",
        "version": 1,
        "site": {"latitude_deg": 47.2, "longitude_deg": 9.1},
        "evening": {"start": START, "end": END},
        "satellites": satellites_data(),
    }


def plate_data() -> dict[str, Any]:
    """An invented adapter plate; its index holes are the mount's."""
    return {
        "material": "6061-T6",
        "thickness_mm": 22.0,
        "outside_diameter_mm": 176.0,
        "step": {
            "inner_diameter_mm": 40.0,
            "outer_diameter_mm": 62.0,
            "height_mm": 5.0,
            "clearance_mm": 0.1,
        },
        "bolts": {"thread": "M8", "count": 4, "circle_diameter_mm": 124.0, "first_angle_deg": 45.0},
        "centre_thread": "1/2-13 UNC",
        "index_pin": {"thread": "M6", "circle_radius_mm": 47.0},
        "keyway": {"width_mm": 10.5, "depth_mm": 7.0},
    }


def full_plan_data() -> dict[str, Any]:
    """Every key of the plan file, none at its default."""
    return {
        "format": "northkey-plan",
        "version": 1,
        "title": "Föhrenkamm, first evening",
        "site": {
            "name": "Föhrenkamm",
            "latitude_deg": 47.2,
            "longitude_deg": 9.1,
            "height_m": 1300.0,
            "time_zone": "Europe/Zurich",
            "minimum_elevation_deg": 7.5,
            "horizon": [
                {"azimuth_deg": 0.0, "elevation_deg": 4.0},
                {"azimuth_deg": 120.0, "elevation_deg": 14.0},
                {"azimuth_deg": 200.0, "elevation_deg": 9.0},
            ],
        },
        "evening": {"start": "2024-11-01T17:00:00.000Z", "end": "2024-11-01T20:00:00.000Z"},
        "mount": {
            "keyway_bearing_deg": 143.0,
            "index_holes": [{"name": "A", "offset_deg": -30.0}, {"name": "B", "offset_deg": 60.0}],
            "index_hole": "B",
            "datum_to_stop_deg": 12.5,
            "elevation_unit_offset_deg": -1.5,
            "sighting_correction": {
                "deg": 0.8,
                "keyway_bearing_deg": 143.0,
                "index_hole": "B",
                "posture": "upright",
            },
            "tilt": {"angle_deg": 1.5, "toward_deg": 220.0},
            "azimuth": {
                "travel_deg": 430.0,
                "guard_deg": 4.0,
                "rate_deg_s": 5.0,
                "dial_at_stop_deg": 180.0,
                "dial_scale": 0.98,
                "dial_wraps_at_deg": 360.0,
                "dial_wraps_to_deg": 0.0,
                "dial_division_deg": 5.0,
                "rate_back_deg_s": 4.5,
                "acceleration_deg_s2": 3.0,
                "deadband_deg": 0.5,
                "least_nudge_deg": 0.25,
                "readout_step_deg": 0.5,
                "calibration": [
                    {"axis_deg": 0.0, "dial_deg": 180.0},
                    {"axis_deg": 200.0, "dial_deg": 377.0},
                    {"axis_deg": 430.0, "dial_deg": 601.0},
                ],
            },
            "elevation": {
                "minimum_deg": -2.0,
                "maximum_deg": 170.0,
                "rate_deg_s": 2.0,
                "dial_offset_deg": 0.5,
                "dial_division_deg": 2.0,
                "rate_back_deg_s": 2.5,
                "acceleration_deg_s2": 2.0,
                "deadband_deg": 0.25,
                "least_nudge_deg": 0.5,
                "readout_step_deg": 1.0,
                "calibration": [
                    {"axis_deg": 0.0, "dial_deg": 0.5},
                    {"axis_deg": 90.0, "dial_deg": 91.0},
                    {"axis_deg": 170.0, "dial_deg": 170.0},
                ],
            },
            "drive": {
                "both_axes_at_once": False,
                "settle_s": 2.0,
                "duty": 0.5,
                "duty_window_s": 300.0,
            },
        },
        "antennas": [
            {"name": "long", "frequency_hz": 435e6, "beamwidth_deg": 24.0, "skew_deg": 0.5},
            {"name": "short", "frequency_hz": 145e6, "beamwidth_deg": 38.0, "skew_deg": 1.0},
        ],
        "satellites": [{**satellites_data()[0], "transponders": transponders_data()}, satellites_data()[1]],
        "clearance": None,
        "steering": "chased",
        "shortest_contact_s": 240.0,
        "picks": [
            {
                "norad_id": 70001,
                "near": "2024-11-01T18:00:00.000Z",
                "worth": 3.0,
                "way": {"posture": "over the top", "turn": 0},
            }
        ],
        "evening_rules": {
            "move_margin_s": 5.0,
            "change_cost_s": 20.0,
            "idle_m_deg": 200.0,
            "stow_elevation_deg": 90.0,
        },
        "seat_limits": [{"from_deg": 300.0, "to_deg": 340.0, "why": "the wall"}],
        "sightings": [
            {
                "time": "2024-11-01T15:00:00.000Z",
                "target": "Sun",
                "azimuth_dial_deg": 212.5,
                "elevation_dial_deg": 11.0,
            }
        ],
        "notes": "Bring the long spanner.",
    }


def plan_of(data: dict[str, Any], **changes: Any) -> Plan:
    """The plan of such data; a change is named by its key path with ``__`` for the dots."""
    return plan_from_text(json.dumps(changed(data, **changes)))


def changed(data: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """A copy of the data with some values set; ``site__height_m=3`` sets a deep one."""
    copied = copy.deepcopy(data)
    for path, value in changes.items():
        *folders, last = path.split("__")
        node = copied
        for folder in folders:
            node = node.setdefault(folder, {})
        node[last] = value
    return copied


def write_plan_file(folder: Path, data: dict[str, Any] | None = None, **changes: Any) -> Path:
    """A plan file in a folder."""
    path = folder / "evening.northkey.json"
    content = changed(short_plan_data() if data is None else data, **changes)
    path.write_text(json.dumps(content, ensure_ascii=False), encoding="utf-8")
    return path


def write_elements_file(folder: Path, *records: dict[str, Any]) -> Path:
    """An element file in JSON; without records, of the two satellites."""
    path = folder / "elements.json"
    chosen = list(records) or [satellite["elements"] for satellite in satellites_data()]
    path.write_text(json.dumps(chosen), encoding="utf-8")
    return path
