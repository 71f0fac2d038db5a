"""Invented evenings for tests of what is drawn: a short one, and one as full as a real list makes it."""

from __future__ import annotations

from typing import Any

from core.plan.document import Plan
from tests.plans import elements_data, plan_of, short_plan_data


def evening_plan(**changes: Any) -> Plan:
    """Two satellites, some passes of each in three hours."""
    return plan_of(short_plan_data(), **changes)


def full_evening_plan(satellites: int = 92, **changes: Any) -> Plan:
    """Many satellites in spread planes: 150 passes in six hours with the default number."""
    records = []
    for index in range(satellites):
        norad_id = 71_000 + index
        elements = elements_data(
            norad_id,
            f"Alder {index + 1}",
            INCLINATION=60.0 + 7.0 * (index % 6),
            RA_OF_ASC_NODE=(137.5 * index) % 360.0,
            MEAN_ANOMALY=(77.0 * index) % 360.0,
            MEAN_MOTION=13.2 + 0.35 * (index % 6),
        )
        records.append({"name": f"Alder {index + 1}", "elements": elements})
    data = short_plan_data() | {
        "satellites": records,
        "evening": {"start": "2024-11-01T16:00:00Z", "end": "2024-11-01T22:00:00Z"},
    }
    return plan_of(data, **changes)
