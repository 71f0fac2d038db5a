"""The search for stays: its properties on invented orbits, grazing, failing and standing satellites."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.base.errors import Cancelled, ValueRangeError
from core.base.times import parse_iso
from core.base.units import DAY_S, UNIX_EPOCH_JD
from core.elements.model import ElementSet
from core.elements.propagator import satrec
from core.passes.domain import too_low
from core.passes.frames import EarthTurn, Observer, azimuth_elevation, slant_range, topocentric
from core.passes.search import CHUNK_OBJECTS, find_stays
from core.passes.stays import Stay, stay_at

START = parse_iso("2024-11-01T16:00:00Z")
HOUR = 3600.0
HILL = Observer(47.2, 9.1, 1300.0)


def invented(name: str = "INVENTED", **changes: object) -> ElementSet:
    """An invented element set: a low polar orbit unless told otherwise."""
    values: dict[str, object] = {
        "OBJECT_NAME": name,
        "OBJECT_ID": "2024-999A",
        "EPOCH": "2024-11-01T12:00:00",
        "MEAN_MOTION": 15.0,
        "ECCENTRICITY": 0.001,
        "INCLINATION": 97.5,
        "RA_OF_ASC_NODE": 20.0,
        "ARG_OF_PERICENTER": 90.0,
        "MEAN_ANOMALY": 10.0,
        "NORAD_CAT_ID": 90001,
    }
    return ElementSet.model_validate(values | changes)


@st.composite
def orbits(draw: st.DrawFn) -> ElementSet:
    """Any orbit that stays 200 km clear of the ground, circular to very eccentric, low to synchronous."""
    perigee_km = draw(st.floats(6578.0, 20000.0))
    eccentricity = draw(st.one_of(st.floats(0.0, 0.02), st.floats(0.0, 0.8)))
    axis_km = perigee_km / (1.0 - eccentricity)
    if axis_km > 60000.0:
        axis_km, eccentricity = perigee_km, 0.0
    mean_motion = DAY_S / (2.0 * np.pi) * np.sqrt(398600.8 / axis_km**3)
    return invented(
        MEAN_MOTION=mean_motion,
        ECCENTRICITY=eccentricity,
        # Between zero and a thousandth of a degree SGP4 can lose its numbers.
        INCLINATION=draw(st.one_of(st.just(0.0), st.floats(0.001, 180.0))),
        RA_OF_ASC_NODE=draw(st.floats(0.0, 360.0)),
        ARG_OF_PERICENTER=draw(st.floats(0.0, 360.0)),
        MEAN_ANOMALY=draw(st.floats(0.0, 360.0)),
    )


observers = st.builds(
    Observer, st.floats(-90.0, 90.0), st.floats(-180.0, 180.0), st.sampled_from([0.0, 1300.0, 4000.0])
)


def seen(elements: ElementSet, observer: Observer, utc_s: np.ndarray) -> np.ndarray:
    """ENU positions (N, 3), state by state."""
    day = np.floor(utc_s / DAY_S)
    code, position, velocity = satrec(elements).sgp4_array(UNIX_EPOCH_JD + day, utc_s / DAY_S - day)
    assert not code.any()
    turn = EarthTurn.over(START, START + 2.0 * DAY_S)
    return topocentric(observer, turn, utc_s, position, velocity)[0]


def moments(stay: Stay) -> np.ndarray:
    """From its start to its end."""
    return np.linspace(stay.start_utc_s, stay.end_utc_s, 201)


def heights(stay: Stay) -> np.ndarray:
    return azimuth_elevation(stay_at(stay, moments(stay))[0])[1]


@settings(max_examples=40, deadline=None)
@given(elements=orbits(), observer=observers, floor_deg=st.sampled_from([0.0, -3.0, 5.0]))
def test_stays_are_just_the_times_over_the_floor(elements, observer, floor_deg):
    end = START + 12.0 * HOUR
    search = find_stays([elements], observer, START, end, floor_deg)
    assert not search.refused
    grid = np.arange(START, end, 20.0)
    elevation = azimuth_elevation(seen(elements, observer, grid))[1]
    inside = np.zeros(grid.size, dtype=bool)
    for stay in search.stays:
        inside |= (grid >= stay.start_utc_s) & (grid <= stay.end_utc_s)
    assert np.all(elevation[inside] > floor_deg - 1e-6)
    assert np.all(elevation[~inside] < floor_deg + 1e-6)


@settings(max_examples=40, deadline=None)
@given(elements=orbits(), observer=observers, floor_deg=st.sampled_from([0.0, -3.0, 5.0]))
def test_a_stay_is_what_it_says(elements, observer, floor_deg):
    end = START + 12.0 * HOUR
    previous = -np.inf
    for stay in find_stays([elements], observer, START, end, floor_deg).stays:
        assert stay.start_utc_s > previous
        previous = stay.end_utc_s
        assert stay.start_utc_s >= START
        assert stay.end_utc_s <= end
        position, _velocity = stay_at(stay, moments(stay))
        el, away = heights(stay), slant_range(position)
        assert position == pytest.approx(seen(elements, observer, moments(stay)), abs=1e-5)
        if stay.cut not in ("start", "both"):
            assert el[0] == pytest.approx(floor_deg, abs=2e-5)
        else:
            assert stay.start_utc_s == START
        if stay.cut not in ("end", "both"):
            assert el[-1] == pytest.approx(floor_deg, abs=2e-5)
        else:
            assert stay.end_utc_s == end
        assert stay.start_utc_s <= stay.peak.utc_s <= stay.end_utc_s
        assert stay.peak.elevation_deg >= el.max() - 1e-9
        assert stay.tca.range_km <= away.min() + 1e-9
        at_peak, at_tca = seen(elements, observer, np.array([stay.peak.utc_s, stay.tca.utc_s]))
        assert azimuth_elevation(at_peak)[1] == pytest.approx(stay.peak.elevation_deg, abs=5e-6)
        assert slant_range(at_tca) == pytest.approx(stay.tca.range_km, abs=1e-5)


@settings(max_examples=30, deadline=None)
@given(elements=orbits(), observer=observers)
@example(
    elements=invented(
        MEAN_MOTION=16.058367645009575,
        ECCENTRICITY=0.008804103447437737,
        INCLINATION=0.0,
        RA_OF_ASC_NODE=0.008804103447437737,
        ARG_OF_PERICENTER=0.0,
        MEAN_ANOMALY=0.0,
    ),
    observer=Observer(-8.914571545013615, 0.0, 4000.0),
)
def test_grazing_stays_are_found_and_none_is_invented(elements, observer):
    """With the floor a hair under a pass's peak the stay is a second long; a hair over it is gone."""
    end = START + 6.0 * HOUR
    stays = find_stays([elements], observer, START, end).stays
    whole = [stay for stay in stays if stay.cut is None and stay.peak.elevation_deg < 9.9]
    for stay in whole[:2]:
        peak = stay.peak
        under = find_stays([elements], observer, START, end, peak.elevation_deg - 1e-6).stays
        assert any(found.start_utc_s <= peak.utc_s <= found.end_utc_s for found in under)
        over = find_stays([elements], observer, START, end, peak.elevation_deg + 1e-7).stays
        assert not any(found.start_utc_s <= peak.utc_s <= found.end_utc_s for found in over)


@settings(max_examples=20, deadline=None)
@given(elements=orbits(), observer=observers, share=st.floats(0.1, 0.9))
def test_a_window_cut_in_two_gives_the_same_stays(elements, observer, share):
    end = START + 10.0 * HOUR
    middle = START + share * 10.0 * HOUR
    whole = find_stays([elements], observer, START, end).stays
    halves = (
        find_stays([elements], observer, START, middle).stays
        + find_stays([elements], observer, middle, end).stays
    )
    ends = np.array([(stay.start_utc_s, stay.end_utc_s) for stay in halves]).reshape(-1, 2)
    for stay in whole:
        within = ends[(ends[:, 0] > stay.start_utc_s - 1e-3) & (ends[:, 1] < stay.end_utc_s + 1e-3)]
        assert np.sum(within[:, 1] - within[:, 0]) == pytest.approx(
            stay.end_utc_s - stay.start_utc_s, abs=5e-3
        )
    assert len(halves) - len(whole) in (0, 1)


def synchronous(longitude_east_deg: float, **changes: object) -> ElementSet:
    """A satellite that stands over one meridian (to a degree or so) in the window."""
    mean_anomaly = (longitude_east_deg + 220.8) % 360.0  # sidereal angle at the epoch, 2024-11-01T12:00Z
    fixed = {"MEAN_MOTION": 1.0027, "ECCENTRICITY": 0.0, "INCLINATION": 0.0}
    angles = {"RA_OF_ASC_NODE": 0.0, "ARG_OF_PERICENTER": 0.0, "MEAN_ANOMALY": mean_anomaly}
    return invented(**(fixed | angles | changes))


def test_synchronous_satellite_stays_all_the_window():
    (stay,) = find_stays([synchronous(9.1)], HILL, START, START + 8.0 * HOUR).stays
    assert stay.cut == "both"
    assert (stay.start_utc_s, stay.end_utc_s) == (START, START + 8.0 * HOUR)
    assert 30.0 < stay.peak.elevation_deg < 40.0
    assert stay.peak.azimuth_deg == pytest.approx(180.0, abs=3.0)


def test_satellite_that_never_rises_gives_nothing_and_is_not_refused():
    search = find_stays([synchronous(190.0)], HILL, START, START + 8.0 * HOUR)
    assert search.stays == search.refused == ()


def test_window_ends_cut_stays():
    whole = find_stays([invented()], HILL, START, START + 12.0 * HOUR).stays
    stay = next(stay for stay in whole if stay.cut is None)
    third = (stay.end_utc_s - stay.start_utc_s) / 3.0
    within = (float(stay.start_utc_s + third), float(stay.end_utc_s - third))
    assert [s.cut for s in find_stays([invented()], HILL, *within).stays] == ["both"]
    (late,) = find_stays([invented()], HILL, within[0], within[0] + 1500.0).stays
    (early,) = find_stays([invented()], HILL, within[0] - 1500.0, within[0]).stays
    assert (early.cut, late.cut) == ("end", "start")
    assert early.end_utc_s == late.start_utc_s == within[0]


def falling(bstar: float) -> ElementSet:
    """A satellite about to burn up: drag far beyond what its orbit survives."""
    return invented("FALLING", MEAN_MOTION=16.3, BSTAR=bstar, NORAD_CAT_ID=90009, ECCENTRICITY=0.0002)


def test_satellite_that_fails_in_the_window_gives_its_stays_up_to_there_and_is_refused():
    end = START + 24.0 * HOUR
    observer = Observer(10.0, 20.0)
    search = find_stays([invented(), falling(0.02)], observer, START, end, -89.9)
    assert [refusal.norad_id for refusal in search.refused] == [90009]
    (stay,) = [stay for stay in search.stays if stay.norad_id == 90009]
    assert stay.cut == "both"
    last = float(stay.end_utc_s)
    assert START < last < end
    day = np.floor(last / DAY_S)
    record = satrec(falling(0.02))
    for later_s, fails in ((0.0, False), (0.01, True)):  # by then it is 90 km high
        code, position, _ = record.sgp4(UNIX_EPOCH_JD + day, (last + later_s) / DAY_S - day)
        assert (code != 0 or bool(too_low(np.array(position)))) == fails
    assert "from 2024-11-0" in search.refused[0].reason
    assert search.refused[0].reason.endswith(" on: no passes after that")


def test_satellite_decayed_before_the_window_is_refused_with_the_reason():
    start = START + 5.0 * DAY_S
    search = find_stays([falling(0.02)], HILL, start, start + HOUR)
    assert not search.stays
    (refusal,) = search.refused
    assert refusal.satellite == "FALLING"
    assert refusal.reason.endswith("before 2024-11-06T16:00:00.000Z")


def test_orbit_through_the_ground_is_refused():
    # Perigee 60 km under the ground: SGP4 starts from it, but reports every perigee as decayed.
    elements = invented(ECCENTRICITY=0.3, MEAN_MOTION=DAY_S / (2 * np.pi) * np.sqrt(398600.8 / 9027.0**3))
    search = find_stays([elements], HILL, START, START + 12.0 * HOUR)
    assert len(search.refused) == 1
    for stay in search.stays:
        assert np.all(heights(stay) > -1e-6)


def test_a_crowd_changes_nothing_for_one_of_it():
    crowd = [
        invented(NORAD_CAT_ID=91000 + n, MEAN_MOTION=12.0 + 0.01 * n, MEAN_ANOMALY=(37.0 * n) % 360.0)
        for n in range(CHUNK_OBJECTS + 50)
    ]
    together = find_stays(crowd, HILL, START, START + 3.0 * HOUR)
    again = find_stays(crowd, HILL, START, START + 3.0 * HOUR)
    assert len(together.stays) == len(again.stays)
    for one, other in zip(together.stays, again.stays, strict=True):
        assert (one.start_utc_s, one.end_utc_s) == (other.start_utc_s, other.end_utc_s)
        assert np.array_equal(one.path.coefficients, other.path.coefficients)
        assert (one.peak, one.tca, one.cut) == (other.peak, other.tca, other.cut)
    for elements in crowd[::60]:
        alone = find_stays([elements], HILL, START, START + 3.0 * HOUR).stays
        mine = [stay for stay in together.stays if stay.norad_id == elements.norad_id]
        for one, other in zip(mine, alone, strict=True):
            assert one.start_utc_s == pytest.approx(other.start_utc_s, abs=1e-3)
            assert one.end_utc_s == pytest.approx(other.end_utc_s, abs=1e-3)


def test_progress_counts_satellites_and_can_cancel():
    crowd = [invented(NORAD_CAT_ID=91000 + n) for n in range(450)]
    told: list[tuple[int, int]] = []

    def listen(done: int, total: int, _what: str) -> bool:
        told.append((done, total))
        return True

    find_stays(crowd, HILL, START, START + HOUR, progress=listen)
    assert told == [(0, 450), (200, 450), (400, 450), (450, 450)]
    with pytest.raises(Cancelled):
        find_stays(crowd, HILL, START, START + HOUR, progress=lambda done, *_: done < 200)


@pytest.mark.parametrize("end", [START, START - 1.0])
def test_empty_window_is_refused(end):
    with pytest.raises(ValueRangeError, match="end is"):
        find_stays([invented()], HILL, START, end)


@pytest.mark.parametrize("floor_deg", [10.1, -90.1, float("nan")])
def test_floor_out_of_range_is_refused(floor_deg):
    with pytest.raises(ValueRangeError, match="floor_deg is"):
        find_stays([invented()], HILL, START, START + HOUR, floor_deg)


def test_no_satellites_give_no_stays():
    search = find_stays([], HILL, START, START + HOUR)
    assert search.stays == search.refused == ()
