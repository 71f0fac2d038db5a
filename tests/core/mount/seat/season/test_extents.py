"""What passes need of the axes, told at once, against their tracks sampled twice a second."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.times import parse_iso
from core.elements.files import read_element_files
from core.mount.check.ways import reach_of
from core.mount.drive.tracks import mount_tracks
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, ElevationAxis, Mount, Tilt
from core.mount.seat.arcs import clear_arcs
from core.mount.seat.season.evenings import clear_of
from core.mount.seat.season.extents import extents_of
from core.passes.stays import StayTable
from core.passes.track import pass_table, predict
from core.place.site import Site
from tests.core.passes.flights import START, flight, stay_of
from tests.shared_data import shared_file
from tests.stays import arc_stay

tilts = st.builds(Tilt, angle_deg=st.sampled_from([0.0, 0.3, 2.0, 10.0]), toward_deg=st.floats(0.0, 360.0))


def check_against_tracks(passes, tilt, within_deg):
    told, tracks = extents_of(passes, tilt), mount_tracks(passes.passes, tilt)
    reaches = [reach_of(track, UPRIGHT, ElevationAxis(), 15.0) for track in tracks]
    for ours, theirs in (
        (told.azimuth_low_deg, [reach.low_deg for reach in reaches]),
        (told.azimuth_high_deg, [reach.high_deg for reach in reaches]),
        (told.elevation_low_deg, [track.elevation_deg.min() for track in tracks]),
        (told.elevation_high_deg, [track.elevation_deg.max() for track in tracks]),
    ):
        assert np.abs(np.mod(ours - np.array(theirs) + 180.0, 360.0) - 180.0).max() <= within_deg
    swept = np.array([reach.high_deg - reach.low_deg for reach in reaches])
    assert np.abs(told.azimuth_high_deg - told.azimuth_low_deg - swept).max() <= within_deg


@settings(max_examples=40)
@given(
    height=st.floats(300.0, 3000.0),
    bearing=st.floats(0.0, 360.0),
    miss=st.one_of(st.floats(1e-4, 15.0), st.floats(1e-4, 0.01)),
    side=st.sampled_from([-1.0, 1.0]),
    tilt=tilts,
    minimum=st.sampled_from([-5.0, 0.0, 20.0]),
)
def test_flights_at_any_height_and_close_to_the_axis(height, bearing, miss, side, tilt, minimum):
    """As close as eleven metres; straight through the axis azimuth has no meaning."""
    path, half_s = flight(height, bearing, side * miss)
    if not half_s > 60.0:
        return
    passes = pass_table(StayTable.of((stay_of(path, START - half_s, START + half_s),)), (), minimum)
    if len(passes):
        check_against_tracks(passes, tilt, 0.02)


def test_passes_that_sweep_through_north_either_way():
    stays = tuple(
        arc_stay(number, 1000.0 * number, bearing) for number, bearing in enumerate((10, 80, 200, 350), 1)
    )
    passes = pass_table(StayTable.of(stays), (), 0.0)
    check_against_tracks(passes, Tilt(), 0.01)
    assert (
        extents_of(passes, Tilt()).azimuth_high_deg - extents_of(passes, Tilt()).azimuth_low_deg
    ).min() > 150.0


@pytest.mark.parametrize("tilt", [Tilt(), Tilt(angle_deg=2.0, toward_deg=70.0)])
def test_a_day_of_real_passes_and_their_arcs(tilt):
    sets = read_element_files([shared_file("data/amateur_20241101.csv")]).sets
    start = parse_iso("2024-11-01T16:00:00Z")
    site = Site(latitude_deg=47.2, longitude_deg=9.1, height_m=1300.0, minimum_elevation_deg=5.0)
    passes, _ = predict(sets, site, start, start + 12.0 * 3600.0)
    check_against_tracks(passes, tilt, 0.005)
    mount = Mount(elevation=ElevationAxis(minimum_deg=4.0, maximum_deg=176.0), tilt=tilt)
    tracks = mount_tracks(passes.passes, tilt)
    arcs = clear_of(extents_of(passes, tilt), mount)
    for posture in (UPRIGHT, OVER_THE_TOP):
        reaches = tuple(reach_of(track, posture, mount.elevation, 15.0) for track in tracks)
        theirs = clear_arcs(reaches, mount.azimuth)
        possible = theirs.width_deg >= 0.0
        assert ((arcs[posture].width_deg >= 0.0) == possible).all()
        assert possible.any()
        assert possible.all() == (not tilt.angle_deg)
        assert arcs[posture].width_deg[possible] == pytest.approx(theirs.width_deg[possible], abs=0.005)
        assert arcs[posture].start_deg[possible] == pytest.approx(theirs.start_deg[possible], abs=0.005)
