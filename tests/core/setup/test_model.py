"""What is written down on site: what is read, and what is refused."""

from __future__ import annotations

import pytest

from core.base.errors import PlanError
from core.evaluate import identity
from core.plan.document import Plan
from tests.plans import plan_of, plate_data, short_plan_data

SIGHTING = {"time": "2024-11-01T15:00:00Z", "target": "Sun", "azimuth_dial_deg": 212.5}


def with_sighting(**fields: object) -> Plan:
    return plan_of(short_plan_data(), sightings=[{**SIGHTING, **fields}])


def test_a_sighting_reads_one_dial_at_least():
    assert (
        with_sighting(azimuth_dial_deg=None, elevation_dial_deg=11.0).sightings[0].elevation_dial_deg == 11.0
    )
    assert with_sighting(azimuth_dial_deg=None, half_power_dials_deg=[200, 230]).sightings[0].used
    with pytest.raises(PlanError, match="a reading of one dial at least"):
        with_sighting(azimuth_dial_deg=None)
    with pytest.raises(PlanError, match="not both"):
        with_sighting(half_power_dials_deg=[200, 230])


def test_two_landmarks_of_one_name_are_refused():
    mark = {"name": "mast", "latitude_deg": 47.0, "longitude_deg": 8.0}
    with pytest.raises(PlanError, match="the same name"):
        plan_of(short_plan_data(), landmarks=[mark, mark])


def test_what_is_written_down_on_site_does_not_change_what_the_evening_was_computed_from():
    plain = plan_of(short_plan_data())
    set_up = plan_of(
        short_plan_data(),
        sightings=[SIGHTING],
        landmarks=[{"name": "mast", "latitude_deg": 47.0, "longitude_deg": 8.0}],
        level_readings=[{"bearing_deg": 10.0, "rise_deg": 0.5}],
        compass={"reading_deg": 140.0},
        pointing={"wind_deg": 1.0},
        plate=plate_data(),
    )
    assert identity(plain) == identity(set_up)
