"""Whatever elements say, no pass is told that cannot be."""

from __future__ import annotations

import random

import numpy as np
import pytest

from core.base.times import parse_iso
from core.base.units import DAY_S
from core.elements.files import read_element_files
from core.elements.model import ElementSet
from core.passes.exact import Orbits
from core.passes.track import predict
from core.place.site import Site
from tests.core.elements.samples import element_set
from tests.shared_data import shared_file

SITE = Site(latitude_deg=47.2, longitude_deg=9.1, height_m=1300.0)
START = parse_iso("2024-11-01T16:00:00Z")
#: The station's distance from the Earth's centre, and how much less that is elsewhere.
STATION_KM, FLATTER_KM = 6368.0, 12.0
SETS = 40_000


def mutated(seed: int) -> ElementSet:
    """An invented satellite, one to three of its elements anything at all."""
    dice = random.Random(seed)
    fields: dict[str, float] = {
        "MEAN_MOTION": dice.choice([15.5, 14.8, 13.1, 12.4, 2.0056, 1.0027]),
        "INCLINATION": dice.uniform(0.0, 180.0),
        "RA_OF_ASC_NODE": dice.uniform(0.0, 360.0),
        "MEAN_ANOMALY": dice.uniform(0.0, 360.0),
    }
    anything = {
        "ECCENTRICITY": [dice.random(), dice.random() ** 4, 0.9999],
        "MEAN_MOTION": [
            dice.uniform(0.001, 19.99),
            dice.uniform(15.5, 17.2),
            10.0 ** dice.uniform(-9.0, 1.3),
        ],
        "BSTAR": [dice.choice([-1.0, 1.0]) * 10.0 ** dice.uniform(-6.0, 2.0)],
        "ARG_OF_PERICENTER": [dice.uniform(0.0, 360.0)],
    }
    for keyword in dice.sample(sorted(anything), dice.choice([1, 1, 2, 3])):
        fields[keyword] = dice.choice(anything[keyword])
    return element_set(OBJECT_NAME=f"MADE {seed}", NORAD_CAT_ID=100_000 + seed, **fields)


def absurd(sets: list[ElementSet], start_utc_s: float, hours: float) -> list[str]:
    """What is wrong with the passes of some satellites."""
    table, _refused = predict(sets, SITE, start_utc_s, start_utc_s + hours * 3600.0)
    by_number = {one.norad_id: one for one in sets}
    wrong = []
    for pass_ in table.passes:
        orbit = Orbits.of([by_number[pass_.norad_id]])
        apogee_km = float(orbit.axis_km[0] * (1.0 + orbit.eccentricity[0]))
        events = (pass_.aos, pass_.peak, pass_.tca, pass_.los)
        sines = np.sin(np.radians([event.elevation_deg for event in events]))
        ranges_km = np.array([event.range_km for event in events])
        radii_km = np.sqrt(STATION_KM**2 + ranges_km**2 + 2.0 * STATION_KM * ranges_km * sines)
        told = [
            "a peak outside" if not pass_.aos.utc_s <= pass_.peak.utc_s <= pass_.los.utc_s else "",
            "an end above the peak" if sines.max() > sines[1] + 1e-6 else "",
            "below 90 km" if radii_km.min() < STATION_KM - FLATTER_KM + 90.0 else "",
            "beyond its apogee" if radii_km.max() > 1.3 * apogee_km + 100.0 else "",
        ]
        wrong += [f"{pass_.satellite} at {pass_.aos.utc_s:.0f}: {one}" for one in told if one]
    return wrong


@pytest.mark.parametrize("first", [0, SETS // 200])
def test_mutated_elements_give_no_absurd_pass(first):
    assert absurd([mutated(first + at) for at in range(SETS // 200)], START, 12.0) == []


@pytest.mark.long
def test_the_campaign_of_mutated_elements():
    wrong = []
    for first in range(0, SETS, 1000):
        wrong += absurd([mutated(first + at) for at in range(1000)], START, 12.0)
    print(f"\n{SETS} mutated sets, {len(wrong)} absurd passes", *wrong[:20], sep="\n")
    assert wrong == []


@pytest.mark.long
@pytest.mark.parametrize("days", [0.0, 14.0, 60.0])
def test_the_campaign_of_the_whole_catalogue(days):
    sets = list(read_element_files([shared_file("data/gp_20241101.csv")]).sets)
    wrong = []
    for first in range(0, len(sets), 1000):
        wrong += absurd(sets[first : first + 1000], START + days * DAY_S, 12.0)
    print(f"\n{len(sets)} sets, {days:g} days on: {len(wrong)} absurd passes", *wrong[:20], sep="\n")
    assert wrong == []
