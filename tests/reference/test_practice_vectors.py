"""Worked vectors of the trade notes, computed, no published source.

Numbers in brackets are the notes' own. Where they write B0 and theta, the code has zeta and m. Vectors
about the Sun (11 to 13) and the stand (15) are checked where those are built.
"""

from __future__ import annotations

import numpy as np
import pytest

from core.base.angles import wrap_180
from core.mount.check.ways import ways_of
from core.mount.drive.tracks import MountTrack, mount_tracks
from core.mount.model.chain import ground_bearing_deg, zeta_deg
from core.mount.model.results import Way
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, IndexHole, Mount, Station, Tilt
from core.mount.seat.study import HoleStudy, study_seat
from core.passes.frames import angle_rates
from core.passes.stays import stay_at
from tests.oracles.pass_maker import EARTH_KM, Orbit, aside_of_peak_deg, build, from_angles

#: A beam too narrow to rest with, so that only clear ways are found.
NARROW = (Antenna(beamwidth_deg=0.1),)
FOUR = ((340.0, 400.0), (20.0, 200.0), (150.0, 330.0), (-20.0, 100.0))


def level_track(first_deg: float, last_deg: float) -> MountTrack:
    """Azimuth from first to last, straight, at 30 deg of elevation, in eight minutes."""
    utc_s = np.linspace(0.0, 480.0, 481)
    return MountTrack(
        utc_s=utc_s,
        azimuth_deg=np.linspace(first_deg, last_deg, 481),
        elevation_deg=np.full(481, 30.0),
        interval_s=np.ones(480),
        worked=np.ones(481, dtype=bool),
    )


def mount_at(zeta: float, travel: float, maximum: float = 180.0) -> Mount:
    """Zeta is all in the keyway; guard 5."""
    return Mount(
        keyway_bearing_deg=zeta,
        azimuth=AzimuthAxis(travel_deg=travel, guard_deg=5.0, rate_deg_s=10.0),
        elevation=ElevationAxis(maximum_deg=maximum),
    )


def from_to(sweep: tuple[float, float], zeta: float, travel: float) -> dict[str, list[tuple[float, float]]]:
    """m at AOS and LOS of every clear way, by posture."""
    ways: tuple[Way, ...] = ways_of(level_track(*sweep), Station(mount_at(zeta, travel), NARROW))
    assert all(way.clear for way in ways)
    return {
        posture: [(way.m_aos_deg, way.m_los_deg) for way in ways if way.posture == posture]
        for posture in ("upright", "over the top")
    }


def study(sweeps: tuple[tuple[float, float], ...], travel: float) -> HoleStudy:
    """The study of the seat for these sweeps, upright only, keyway bearing equal to zeta."""
    tracks = tuple(level_track(*sweep) for sweep in sweeps)
    passes = tuple(
        from_angles(track.azimuth_deg, track.elevation_deg, track.utc_s, (f"Test {number}", number))
        for number, track in enumerate(tracks, start=1)
    )
    return study_seat(passes, tracks, Station(mount_at(0.0, travel, maximum=90.0), NARROW)).holes[0]


def good_arcs(found: HoleStudy) -> list[tuple[float, float]]:
    """Stretches of bearings in which no pass is lost, neighbours joined."""
    joined: list[tuple[float, float]] = []
    for interval in found.intervals:
        if interval.counts.not_clear:
            continue
        if joined and interval.from_deg == pytest.approx(joined[-1][1], abs=1e-9):
            joined[-1] = (joined[-1][0], interval.to_deg)
        else:
            joined.append((interval.from_deg, interval.to_deg))
    return joined


def test_vector_1_the_chain():
    mount = Mount(
        keyway_bearing_deg=143.0, index_holes=(IndexHole(name="A", offset_deg=30.0),), index_hole="A"
    )
    assert zeta_deg(mount) == pytest.approx(173.0, abs=1e-12)


def test_design_check_a_hole_drilled_clockwise_of_the_datum():
    """DESIGN, section 3: keyway 143, drilled 30 clockwise of the datum seen from above, sigma 0: 113."""
    hole = IndexHole(name="A", offset_deg=-30.0)
    assert hole.drilled_deg == pytest.approx(30.0)
    mount = Mount(keyway_bearing_deg=143.0, index_holes=(hole,), datum_to_stop_deg=0.0)
    assert zeta_deg(mount) == pytest.approx(113.0, abs=1e-12)


@pytest.mark.parametrize(
    ("sweep", "travel", "upright", "over_the_top"),
    [
        pytest.param((340.0, 400.0), 450.0, [(167.0, 227.0)], [(347.0, 407.0)], id="2"),
        pytest.param((150.0, 330.0), 450.0, [], [(157.0, 337.0)], id="3"),
        pytest.param((20.0, 200.0), 360.0, [], [(27.0, 207.0)], id="4"),
        pytest.param((190.0, 370.0), 360.0, [(17.0, 197.0)], [], id="5, travel 360"),
        pytest.param((190.0, 370.0), 450.0, [(17.0, 197.0)], [(197.0, 377.0)], id="5, travel 450"),
    ],
)
def test_vectors_2_to_5_the_ways(sweep, travel, upright, over_the_top):
    found = from_to(sweep, 173.0, travel)
    assert found["upright"] == [pytest.approx(way, abs=1e-9) for way in upright]
    assert found["over the top"] == [pytest.approx(way, abs=1e-9) for way in over_the_top]


def test_vector_6_four_passes_of_one_evening():
    found = study(FOUR, 450.0)
    assert good_arcs(found) == [pytest.approx((115.0, 145.0)), pytest.approx((245.0, 335.0))]
    assert [point.keyway_bearing_deg for point in found.isolated if not point.counts.not_clear] == [
        pytest.approx(15.0)
    ]


def test_vector_7_less_travel_leaves_one_bearing():
    found = study(FOUR, 360.0)
    assert good_arcs(found) == []
    assert [point.keyway_bearing_deg for point in found.isolated if not point.counts.not_clear] == [
        pytest.approx(335.0)
    ]
    assert found.best.keyway_bearing_deg == pytest.approx(335.0)


def test_vector_8_a_fifth_pass():
    found = study((*FOUR, (190.0, 370.0)), 450.0)
    assert good_arcs(found) == [pytest.approx((115.0, 145.0)), pytest.approx((285.0, 335.0))]
    assert [point.keyway_bearing_deg for point in found.isolated if not point.counts.not_clear] == [
        pytest.approx(15.0)
    ]


@pytest.mark.parametrize(
    ("azimuth", "elevation", "more_azimuth", "more_elevation"),
    [
        pytest.param(160.0, 30.0, -1.15, -0.02, id="9"),
        pytest.param(0.0, 60.0, 3.17, -0.74, id="10"),
    ],
)
def test_vectors_9_and_10_a_leaning_axis(azimuth, elevation, more_azimuth, more_elevation):
    bearing, height = ground_bearing_deg(azimuth, elevation, Tilt(angle_deg=2.0, toward_deg=70.0))
    assert wrap_180(bearing - azimuth) == pytest.approx(more_azimuth, abs=0.006)
    assert height - elevation == pytest.approx(more_elevation, abs=0.006)


@pytest.mark.parametrize("heading_deg", [10.0, 100.0, 235.0])
def test_vector_14_the_fastest_azimuth_rate(heading_deg):
    """Height 500 km, peak 80 deg, ground at rest: 4.96 deg/s."""
    orbit = Orbit(
        semi_major_km=EARTH_KM + 500.0,
        eccentricity=0.0,
        anomaly_deg=0.0,
        heading_deg=heading_deg,
        aside_deg=aside_of_peak_deg(500.0, 80.0),
        latitude_deg=0.0,
        span_s=1200.0,
        turning=False,
    )
    pass_ = build(orbit)
    assert pass_ is not None
    assert pass_.peak.elevation_deg == pytest.approx(80.0, abs=0.01)
    assert np.abs(angle_rates(*stay_at(pass_.stay, pass_.utc_s))[0]).max() == pytest.approx(4.96, abs=0.02)
    track = mount_tracks((pass_,), Tilt())[0]
    ways = ways_of(track, Station(mount_at(0.0, 540.0), NARROW))
    assert {round(way.peak_azimuth_rate_deg_s, 1) for way in ways} == {5.0}
    assert all(way.peak_azimuth_rate_deg_s == pytest.approx(4.96, abs=0.02) for way in ways)
