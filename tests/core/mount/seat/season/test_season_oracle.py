"""A season of real satellites held to dense samples and plain loops, bearing by bearing."""

from __future__ import annotations

from datetime import date, time

import numpy as np
import pytest

from core.base.times import parse_iso
from core.elements.files import read_element_files
from core.mount.model.station import AzimuthAxis, ElevationAxis, IndexHole, Mount, Tilt
from core.mount.seat.season.evenings import find_season, not_clear_of
from core.mount.seat.season.study import SeasonQuestion, study_season
from core.place.local_hours import repeated
from core.place.site import Site
from tests.oracles.dense_passes import read_rows
from tests.oracles.season_plain import PlainHours, PlainMount, season_shares, season_tracks
from tests.shared_data import shared_file

DAYS = 6
BEARINGS = np.arange(0.0, 360.0, 5.0)
PLACE = 39.7, -105.0, 1600.0
MOUNTS = {
    "360/90": (360.0, 90.0),
    "450/90": (450.0, 90.0),
    "360/180": (360.0, 180.0),
    "330/180": (330.0, 180.0),
}


@pytest.fixture(scope="module")
def evenings():
    """Six low satellites, six days over the clock change of 3 November 2024, by both."""
    file = shared_file("data/amateur_20241101.csv")
    rows = [row for row in read_rows(file) if float(row["MEAN_MOTION"]) > 12.5][::10][:6]
    numbers = {int(row["NORAD_CAT_ID"]) for row in rows}
    sets = [one for one in read_element_files([file]).sets if one.norad_id in numbers]
    site = Site(latitude_deg=PLACE[0], longitude_deg=PLACE[1], height_m=PLACE[2], minimum_elevation_deg=5.0)
    hours = PlainHours("America/Denver", date(2024, 11, 1), DAYS, time(15, 0), 8.0)
    start, end = next(hours.windows())
    windows = repeated(start, end, DAYS, hours.zone)
    assert windows == list(hours.windows())
    return find_season(sets, site, Tilt(), windows), season_tracks(rows, PLACE, hours, 5.0)


@pytest.mark.parametrize("name", MOUNTS)
def test_shares_are_those_of_plain_loops_at_every_bearing(evenings, name):
    season, tracks = evenings
    travel, highest = MOUNTS[name]
    mount = Mount(
        azimuth=AzimuthAxis(travel_deg=travel, guard_deg=3.0),
        elevation=ElevationAxis(minimum_deg=0.0, maximum_deg=highest),
        index_holes=(IndexHole(name="A", offset_deg=-30.0),),
        datum_to_stop_deg=17.0,
    )
    told = season_shares(tracks, PlainMount(travel, 3.0, 0.0, highest, zeta=-13.0), BEARINGS.tolist())
    ours = not_clear_of(season, DAYS, mount)
    assert [len(own) for own in tracks] == np.bincount(season.evening).tolist()
    assert season.evening.size > 60
    through = study_season(ours, mount, SeasonQuestion(most_holes=1)).holes[0].curve.at(BEARINGS)
    assert np.abs(through - told.mean(axis=0)).max() <= 0.025
    shares = np.stack([ours.shares_at(bearing - 13.0) for bearing in BEARINGS], axis=1)
    assert np.abs(shares - told).mean() <= 0.005
    assert told.max() > 0.0


def test_two_halves_of_real_evenings_agree_within_two_points():
    """Three weeks of the amateur satellites, for a mount that loses a third of its passes."""
    sets = read_element_files([shared_file("data/amateur_20241101.csv")]).sets
    site = Site(latitude_deg=47.2, longitude_deg=9.1, minimum_elevation_deg=5.0)
    start = parse_iso("2024-11-01T17:00:00Z")
    windows = repeated(start, start + 4.0 * 3600.0, 21, "Europe/Zurich")
    mount = Mount(azimuth=AzimuthAxis(travel_deg=360.0), elevation=ElevationAxis(maximum_deg=90.0))
    season = not_clear_of(find_season(sets, site, Tilt(), windows), len(windows), mount)
    for seed in range(1, 6):
        hole = study_season(season, mount, SeasonQuestion(most_holes=1, seed=seed)).holes[0]
        assert 0.05 < hole.shares.mean() < 0.2
        assert hole.halves_differ <= 0.02
