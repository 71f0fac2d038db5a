"""Invented evenings that were worked with a station which stood otherwise than planned."""

from __future__ import annotations

from functools import cache
from typing import Any

from core.afterwards.planned import planned_at
from core.afterwards.rows import evening_log
from core.base.times import format_iso
from core.evaluate import Result
from core.mount.dial.readings import round_to_half_division
from core.plan.document import Plan
from tests.lasting import result_of
from tests.plans import changed, elements_data, plan_of, short_plan_data

#: Satellites of the evening; more of them than fit, so that some passes are not planned.
SATELLITES = [
    {"name": "Alder", "elements": elements_data(70001)},
    {"name": "Birch", "elements": elements_data(70002, INCLINATION=64.0, RA_OF_ASC_NODE=180.0)},
    {"name": "Cedar", "elements": elements_data(70003, RA_OF_ASC_NODE=300.0, MEAN_ANOMALY=200.0)},
    {"name": "Hazel", "elements": elements_data(70004, INCLINATION=64.0, RA_OF_ASC_NODE=30.0)},
    {"name": "Larch", "elements": elements_data(70005, RA_OF_ASC_NODE=350.0, MEAN_ANOMALY=80.0)},
]


def evening_data(**changes: Any) -> dict[str, Any]:
    """An evening of five satellites with a dial that wraps."""
    data = changed(
        short_plan_data(),
        satellites=SATELLITES,
        title="Larch ridge",
        mount__keyway_bearing_deg=143.0,
        mount__azimuth__dial_wraps_at_deg=360.0,
        mount__azimuth__dial_wraps_to_deg=0.0,
    )
    return changed(data, **changes)


@cache
def evening() -> tuple[Plan, Result]:
    """The evening as planned; nothing was noted yet."""
    plan = plan_of(evening_data())
    return plan, result_of(plan)


def noted(plan: Plan, true_correction_deg: float, later_s: float = 0.0) -> list[dict[str, Any]]:
    """The log of the plan's evening by a station whose true correction is another one than the plan's.

    The dials are those at which the boom is on the satellite, rounded as a hand reads them.
    """
    true = plan_of(
        plan.model_dump(mode="json", by_alias=True, exclude_unset=True),
        mount__sighting_correction={
            "deg": true_correction_deg,
            "keyway_bearing_deg": plan.mount.keyway_bearing_deg,
            "index_hole": plan.mount.index_hole,
        },
    )
    entries = []
    for row in evening_log(true, result_of(true)).rows:
        utc_s = round(row.pass_.peak.utc_s) + later_s
        there = planned_at(row, utc_s, true.mount)
        assert there is not None
        if there.off_deg > 1.0:
            continue
        entries.append(
            {
                "norad_id": row.pass_.norad_id,
                "near": format_iso(row.pass_.peak.utc_s),
                "worked": True,
                "azimuth_dial_deg": there.azimuth.shown_deg,
                "elevation_dial_deg": round_to_half_division(there.e_deg, 2.0),
                "time": format_iso(utc_s),
            }
        )
    return entries
