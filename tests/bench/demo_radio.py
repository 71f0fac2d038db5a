"""What can be heard of the demo's satellites: invented, within the bands of the amateur satellite service."""

from __future__ import annotations

from typing import Any

TRANSPONDERS: dict[str, list[dict[str, Any]]] = {
    "ALDER-1": [
        {
            "name": "voice",
            "downlink_hz": 436.212e6,
            "uplink_hz": 145.954e6,
            "mode": "FM",
            "tone_hz": 71.9,
            "status": "active",
            "status_date": "2026-11-20",
        },
    ],
    "CEDAR-3": [
        {"name": "telemetry", "downlink_hz": 437.0875e6, "mode": "FSK 4k8", "notes": "Every 30 s."},
    ],
    "EMBER-1": [
        {"name": "voice", "downlink_hz": 435.671e6, "uplink_hz": 145.983e6, "mode": "FM", "tone_hz": 107.2},
        {
            "name": "beacon",
            "downlink_hz": 145.812e6,
            "mode": "CW",
            "status": "only in sunlight",
            "status_date": "2026-11-14",
        },
    ],
    "EMBER-3": [
        {
            "name": "voice",
            "downlink_hz": 435.671e6,
            "uplink_hz": 145.983e6,
            "mode": "FM",
            "status": "off",
            "status_date": "2026-11-02",
        },
        {"name": "beacon", "downlink_hz": 145.822e6, "mode": "CW"},
    ],
    "FURROW-1": [
        {
            "name": "linear",
            "downlink_hz": 145.889e6,
            "uplink_hz": 437.512e6,
            "mode": "SSB",
            "bandwidth_hz": 30_000.0,
            "inverting": True,
        },
    ],
}
