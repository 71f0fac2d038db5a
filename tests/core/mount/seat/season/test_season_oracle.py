"""A season of real satellites held to dense samples and plain loops, bearing by bearing."""

from __future__ import annotations

from datetime import date, time

import numpy as np
import pytest

from core.base.times import parse_iso
from core.elements.files import read_element_files
from core.mount.model.station import AzimuthAxis, ElevationAxis, IndexHole, Mount, Tilt
from core.mount.seat.season.evenings import Standing, find_season, not_clear_of
from core.mount.seat.season.study import SeasonQuestion, study_season
from core.place.local_hours import repeated
from core.place.site import Site
from tests.core.mount.clearance.samples import station
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


def six_days() -> tuple[list, list, Site, list, PlainHours]:
    """Six low satellites, six days over the clock change of 3 November 2024."""
    file = shared_file("data/amateur_20241101.csv")
    rows = [row for row in read_rows(file) if float(row["MEAN_MOTION"]) > 12.5][::10][:6]
    numbers = {int(row["NORAD_CAT_ID"]) for row in rows}
    sets = [one for one in read_element_files([file]).sets if one.norad_id in numbers]
    site = Site(latitude_deg=PLACE[0], longitude_deg=PLACE[1], height_m=PLACE[2], minimum_elevation_deg=5.0)
    hours = PlainHours("America/Denver", date(2024, 11, 1), DAYS, time(15, 0), 8.0)
    start, end = next(hours.windows())
    windows = repeated(start, end, DAYS, hours.zone)
    assert windows == list(hours.windows())
    return rows, sets, site, windows, hours


@pytest.fixture(scope="module")
def evenings():
    """Those by both, and with lengths."""
    rows, sets, site, windows, hours = six_days()
    standing = Standing(station(), ElevationAxis(minimum_deg=0.0, maximum_deg=180.0))
    struck = find_season(sets, site, Tilt(), windows, standing=standing)
    return find_season(sets, site, Tilt(), windows), season_tracks(rows, PLACE, hours, 5.0), struck


@pytest.mark.parametrize("name", MOUNTS)
def test_shares_are_those_of_plain_loops_at_every_bearing(evenings, name):
    season, tracks, _struck = evenings
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


@pytest.mark.parametrize("highest", [90.0, 180.0])
def test_with_lengths_what_strikes_is_not_clear_at_every_bearing_through_every_hole(evenings, highest):
    free, tracks, season = evenings
    mount = Mount(
        azimuth=AzimuthAxis(travel_deg=450.0, guard_deg=3.0),
        elevation=ElevationAxis(minimum_deg=0.0, maximum_deg=highest),
        index_holes=(IndexHole(name="A", offset_deg=-30.0), IndexHole(name="B", offset_deg=100.0)),
        datum_to_stop_deg=17.0,
    )
    keep_out = station().keep_out

    def strikes(boom_deg: np.ndarray, e_deg: np.ndarray) -> bool:
        return bool(keep_out.holds(boom_deg, e_deg).any())

    study = study_season(not_clear_of(season, DAYS, mount), mount, SeasonQuestion(most_holes=1))
    plain = study_season(not_clear_of(free, DAYS, mount), mount, SeasonQuestion(most_holes=1))
    for hole, without, zeta in zip(study.holes, plain.holes, (-13.0, 117.0), strict=True):
        told = season_shares(
            tracks, PlainMount(450.0, 3.0, 0.0, highest, zeta, strikes), BEARINGS[::3].tolist()
        )
        curve = hole.curve.at(BEARINGS[::3])
        assert np.abs(curve - told.mean(axis=0)).max() <= 0.03
        assert np.abs(curve - told.mean(axis=0)).mean() <= 0.006
        assert (curve >= without.curve.at(BEARINGS[::3]) - 1e-9).all()
        assert curve.mean() > without.curve.at(BEARINGS[::3]).mean() + 0.02


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
