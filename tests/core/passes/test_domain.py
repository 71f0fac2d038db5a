"""Far from their epoch element sets are refused, by age and by the orbit that the theory makes of them."""

from __future__ import annotations

import numpy as np
import pytest

from core.base.times import parse_iso
from core.base.units import DAY_S
from core.elements.model import ElementSet
from core.elements.propagator import satrec
from core.elements.reading import read_elements
from core.passes.domain import ANOTHER_ORBIT, resembles, too_low, with_other_orbits
from core.passes.exact import Orbits
from core.passes.frames import Observer
from core.passes.search import find_stays
from tests.core.elements.samples import element_set
from tests.propagator_calls import counted_calls
from tests.shared_data import shared_file

MU = 398600.8
START = parse_iso("2024-11-01T16:00:00Z")
HILL = Observer(47.2, 9.1, 1300.0)


def state(axis_km: float, e: float, at_apogee: bool = False) -> tuple[np.ndarray, np.ndarray]:
    """A state (1, 1, 3) each at one end of an orbit's long axis."""
    r = axis_km * (1.0 + e if at_apogee else 1.0 - e)
    v = np.sqrt(MU * (2.0 / r - 1.0 / axis_km))
    return np.array([[[r, 0.0, 0.0]]]), np.array([[[0.0, v, 0.0]]])


def mean(axis_km: float, e: float) -> Orbits:
    nothing = np.zeros(1)
    return Orbits(np.array([e]), np.array([axis_km]), nothing, nothing)


@pytest.mark.parametrize(
    ("mean_orbit", "now", "same"),
    [
        ((7000.0, 0.001), (7000.0, 0.001), True),
        ((7000.0, 0.001), (7009.0, 0.002), True),  # the oblate Earth's swing
        ((7000.0, 0.001), (7200.0, 0.001), False),  # drag raises no orbit
        ((7000.0, 0.001), (6700.0, 0.001), True),  # a month of drag
        ((7000.0, 0.001), (5700.0, 0.001), False),
        ((7000.0, 0.001), (7e14, 0.001), False),
        ((24000.0, 0.72), (9000.0, 0.25), True),  # a transfer orbit rounded off
        ((24000.0, 0.72), (5700.0, 0.0), False),
        ((26600.0, 0.74), (26750.0, 0.74), True),
        ((70000.0, 0.85), (70000.0, 0.8), True),  # the Moon's doing
        ((7000.0, 0.001), (7000.0, 0.4), False),
    ],
)
@pytest.mark.parametrize("at_apogee", [False, True])
def test_an_orbit_is_held_to_what_the_theory_may_make_of_it(mean_orbit, now, same, at_apogee):
    assert resembles(mean(*mean_orbit), *state(*now, at_apogee))[0, 0] == same


def test_open_orbits_and_no_numbers_are_others():
    r, v = state(7000.0, 0.0)
    assert not resembles(mean(7000.0, 0.0), r, 2.0 * v)[0, 0]
    assert not resembles(mean(7000.0, 0.0), r * np.nan, v)[0, 0]


def test_a_block_is_looked_into_where_an_end_has_strayed():
    orbits = mean(7000.0, 0.0)
    axes = [7000.0, 7010.0, 7300.0, 9000.0]
    states = [state(axis, 0.0) for axis in axes]
    r = np.concatenate([one[0] for one in states], axis=1)
    v = np.concatenate([one[1] for one in states], axis=1)
    code = np.zeros((1, 4), dtype=np.uint8)
    assert with_other_orbits(orbits, code, r, v).tolist() == [[0, 0, ANOTHER_ORBIT, ANOTHER_ORBIT]]
    assert with_other_orbits(orbits, code[:, :2], r[:, :2], v[:, :2]).tolist() == [[0, 0]]
    assert not code.any()


def runaway() -> ElementSet:
    """A low satellite whose drag term runs away within two months, without an error code."""
    changes = {"MEAN_MOTION": 16.0, "ECCENTRICITY": 0.0005, "BSTAR": 0.003}
    return element_set(OBJECT_NAME="RUNAWAY", EPOCH="2024-11-01T12:00:00", **changes)


def test_a_set_that_ran_away_gives_no_pass_and_says_so():
    start = START + 55.0 * DAY_S
    search = find_stays([runaway()], HILL, start, start + DAY_S)
    assert not search.stays
    (refusal,) = search.refused
    assert "no longer that of the elements, 55.2 days old" in refusal.reason


def test_before_its_epoch_nothing_has_decayed():
    start = START - 55.0 * DAY_S
    search = find_stays([runaway()], HILL, start, start + DAY_S)
    assert all("decayed" not in refusal.reason for refusal in search.refused)


def test_too_far_from_the_start_is_refused_without_asking_the_propagator():
    start = START + 61.0 * DAY_S
    with counted_calls() as counted:
        search = find_stays([runaway()], HILL, start, start + DAY_S, maximum_age_days=60.0)
    assert (counted.calls, len(search.refused)) == (0, 1)


def test_an_orbit_that_comes_back_after_it_was_lost_is_refused():
    """Lost after 26 days; after 104 the theory makes it the right size again for some hours."""
    changes = {"MEAN_MOTION": 16.0, "ECCENTRICITY": 0.0005, "BSTAR": 0.001}
    elements = element_set(OBJECT_NAME="RETURNED", EPOCH="2024-11-01T12:00:00", **changes)
    day, fraction = elements.epoch_jd
    _code, *state = satrec(elements).sgp4(day, fraction + 104.2)
    assert resembles(Orbits.of([elements]), *(np.array([[part]]) for part in state))[0, 0]
    start = elements.epoch_utc_s + 104.2 * DAY_S
    search = find_stays([elements], HILL, start, start + 1800.0)
    assert not search.stays
    (refusal,) = search.refused
    assert "so far: its orbit is lost at 52.1 days old" in refusal.reason


@pytest.mark.parametrize(("date", "most"), [("2025-02-01", 3), ("2027-02-01", 20)])
def test_real_sets_far_from_their_epoch_stay_on_their_orbits(date, most):
    text = shared_file("data/amateur_20241101.csv").read_text(encoding="utf-8")
    sets, start = read_elements(text, "sets").sets, parse_iso(f"{date}T00:00:00Z")
    apogee_km = {
        one.norad_id: axis * (1.0 + one.eccentricity)
        for one, axis in zip(sets, Orbits.of(sets).axis_km, strict=True)
    }
    search = find_stays(sets, HILL, start, start + DAY_S)
    assert 1 <= len(search.refused) <= most
    assert all(stay.tca.range_km < 1.1 * apogee_km[stay.norad_id] for stay in search.stays)


@pytest.mark.parametrize(
    ("position_km", "low"),
    [
        ((6378.135 + 89.9, 0.0, 0.0), True),
        ((0.0, 6378.135 + 90.1, 0.0), False),
        ((0.0, 0.0, 6356.75 + 89.9), True),
        ((0.0, 0.0, -6356.75 - 90.1), False),
        ((np.nan, 0.0, 0.0), False),  # told as no number
    ],
)
def test_ninety_km_are_over_the_oblate_earth(position_km, low):
    assert bool(too_low(np.array(position_km))) == low


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        (
            {"ECCENTRICITY": 0.9},
            "its elements are of no orbit: perigee 5678 km below the ground, less than 90 km",
        ),
        (
            {"MEAN_MOTION": 16.7, "ECCENTRICITY": 0.0},
            "its elements are of no orbit: perigee 87 km high, less than 90 km",
        ),
        ({"MEAN_MOTION": 1e-6}, "its elements are of no orbit round the Earth: apogee 4.2e+08 km out"),
    ],
)
def test_elements_of_no_orbit_ask_the_propagator_nothing(changes, reason):
    elements = element_set(**changes)
    with counted_calls() as counted:
        search = find_stays([elements], HILL, START, START + DAY_S)
    assert counted.calls == 0
    assert [str(refusal) for refusal in search.refused] == [f"{elements.name}: {reason}"]
    assert not search.stays


@pytest.mark.parametrize("changes", [{"MEAN_MOTION": 16.5, "ECCENTRICITY": 0.0}, {"MEAN_MOTION": 0.05}])
def test_the_lowest_and_the_furthest_orbits_there_are_stay(changes):
    assert not find_stays([element_set(**changes)], HILL, START, START + 3600.0).refused


def test_a_satellite_is_followed_down_to_ninety_km_and_no_further():
    """Before, a satellite on its way down gave passes 40 km high, which took the place of real ones."""
    changes = {"MEAN_MOTION": 16.03399839, "ECCENTRICITY": 0.0001202, "BSTAR": 0.0011995}
    elements = element_set(OBJECT_NAME="FALLING", **changes)
    search = find_stays([elements], HILL, START, START + 20.0 * DAY_S)
    (refusal,) = search.refused
    assert "decayed (below 90 km) from 2024-11-" in refusal.reason
    assert search.stays
    for stay in search.stays:
        sines = np.sin(np.radians(stay.peak.elevation_deg))
        ground_km = 6371.0
        radius_km = np.sqrt(
            ground_km**2 + stay.peak.range_km**2 + 2.0 * ground_km * stay.peak.range_km * sines
        )
        assert radius_km - ground_km > 85.0
