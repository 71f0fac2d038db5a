"""An invented evening on which the seat matters: six satellites, no overlap, no over the top."""

from __future__ import annotations

from functools import cache

from core.evaluate import Result
from core.mount.seat.study import SeatStudy
from core.plan.document import Plan
from core.studies import orient
from tests.lasting import MEMO, result_of
from tests.plans import elements_data, plan_of, short_plan_data


def seat_plan(**changes: object) -> Plan:
    """The plan; changes as in `tests.plans.changed`."""
    satellites = [
        {
            "name": f"TARN-{number}",
            "elements": elements_data(
                71000 + number,
                f"TARN-{number}",
                INCLINATION=[97.5, 64.0, 51.0, 82.0, 98.7, 70.0][number],
                RA_OF_ASC_NODE=[330.0, 180.0, 60.0, 200.0, 20.0, 300.0][number],
                MEAN_ANOMALY=[120.0, 10.0, 200.0, 300.0, 80.0, 40.0][number],
            ),
        }
        for number in range(6)
    ]
    settings: dict[str, object] = {
        "satellites": satellites,
        "mount__keyway_bearing_deg": 60.0,
        "mount__index_holes": [{"name": "A", "offset_deg": 0.0}, {"name": "B", "offset_deg": -45.0}],
        "mount__index_hole": "A",
        "mount__azimuth__travel_deg": 360.0,
        "mount__azimuth__guard_deg": 5.0,
        "mount__elevation__maximum_deg": 90.0,
    }
    return plan_of(short_plan_data(), **(settings | changes))


@cache
def seat_evening() -> tuple[Plan, Result, SeatStudy]:
    """Plan, result and study, made once."""
    plan = seat_plan()
    result = result_of(plan)
    return plan, result, orient(plan, result, MEMO)
