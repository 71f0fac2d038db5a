"""Where the targets of sightings stand, against the rest of the program and against plain geometry."""

from __future__ import annotations

import numpy as np
import pytest

from core.base.times import format_iso, parse_iso
from core.elements.model import ElementSet
from core.passes.frames import Observer
from core.passes.search import find_stays
from core.place.position import landmark_bearing
from core.setup.model import Landmark, Sighting
from core.setup.sightings.refused import SightingRefused
from core.setup.sightings.targets import Known, Target, targets_of
from core.setup.sky import directions
from tests.core.setup.sightings.made import SITE

NOON = "2024-06-01T11:00:00.000Z"
MAST = Landmark(name="Mast", latitude_deg=47.3, longitude_deg=8.6, height_m=900.0, sigma_m=15.0)
EMBER = ElementSet(
    name="EMBER 3",
    norad_id=90003,
    epoch="2024-06-01T00:00:00",
    mean_motion_rev_day=14.6,
    eccentricity=0.001,
    inclination_deg=98.0,
    raan_deg=40.0,
    arg_perigee_deg=10.0,
    mean_anomaly_deg=20.0,
)
KNOWN = Known(SITE, 5.0, (MAST,), (EMBER,))


def found(target: str, time: str = NOON, later_s: float = 0.0, **fields: object) -> Target | SightingRefused:
    sighting = Sighting.model_validate({"time": time, "target": target, "azimuth_dial_deg": 0.0, **fields})
    (one,) = targets_of(KNOWN, [(0, sighting)], [later_s])
    return one


@pytest.mark.parametrize("name", ["Sun", "sun", "Polaris"])
def test_bodies_are_where_they_appear_in_the_air(name):
    (sky,) = directions(SITE, ("Polaris" if name == "Polaris" else "Sun",), np.array([parse_iso(NOON)]))
    one = found(name)
    assert isinstance(one, Target)
    assert one.azimuth_deg == pytest.approx(float(sky.azimuth_deg[0]))
    assert one.elevation_deg == pytest.approx(float(sky.apparent_deg[0]))
    assert one.moves


def test_a_landmark_has_the_geodesics_bearing_and_the_earths_curve():
    one = found("mast")
    assert isinstance(one, Target)
    geodesic = landmark_bearing(SITE, MAST.latitude_deg, MAST.longitude_deg)
    assert one.azimuth_deg == geodesic.azimuth_deg
    assert one.azimuth_sigma_deg == pytest.approx(np.degrees(np.hypot(5.0, 15.0) / geodesic.distance_m))
    fall_m = 0.87 * geodesic.distance_m**2 / 2.0 / 6.371e6  # the air bends the line of sight
    level = np.degrees(np.arctan((MAST.height_m - SITE.height_m - fall_m) / geodesic.distance_m))
    assert one.elevation_deg == pytest.approx(level, abs=0.005)
    assert not one.moves


def test_a_satellite_is_where_its_pass_has_it():
    start = parse_iso("2024-06-01T00:00:00Z")
    stays = find_stays([EMBER], Observer.of_site(SITE), start, start + 86_400.0).stays
    high = max(stays, key=lambda one: one.peak.elevation_deg)
    for name in ("ember 3", "90003"):
        one = found(name, format_iso(high.peak.utc_s))
        assert isinstance(one, Target)
        assert one.azimuth_deg == pytest.approx(high.peak.azimuth_deg, abs=0.01)
        assert one.elevation_deg == pytest.approx(high.peak.elevation_deg, abs=0.01)
        assert one.by_signal


def test_what_cannot_be_sighted_is_refused_with_its_reason():
    night = found("Sun", "2024-06-01T00:00:00.000Z")
    assert isinstance(night, SightingRefused)
    assert night.field == "time"
    assert night.hidden_azimuth_deg is not None
    later = found("Sun", "2024-06-01T00:00:00.000Z", later_s=39_600.0)
    assert isinstance(later, Target)
    unknown = found("steeple")
    assert isinstance(unknown, SightingRefused)
    assert "give bearing_deg" in unknown.reason
    assert str(unknown).startswith("sighting 1 (steeple), target: ")


def test_a_landmark_on_the_site_itself_is_refused():
    here = Landmark(name="here", latitude_deg=SITE.latitude_deg, longitude_deg=SITE.longitude_deg)
    sighting = Sighting(time=NOON, target="here", azimuth_dial_deg=0.0)
    (one,) = targets_of(Known(SITE, 5.0, (here,), ()), [(4, sighting)], [0.0])
    assert isinstance(one, SightingRefused)
    assert one.index == 4


def test_a_typed_bearing_makes_any_name_a_target():
    one = found("steeple", bearing_deg=-10.0)
    assert isinstance(one, Target)
    assert (one.azimuth_deg, one.elevation_deg, one.typed) == (350.0, None, True)
