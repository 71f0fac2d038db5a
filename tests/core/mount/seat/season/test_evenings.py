"""The evenings of a season: which passes count, and stopping."""

from __future__ import annotations

import numpy as np
import pytest

from core.base.errors import Cancelled
from core.elements.model import ElementSet
from core.mount.model.station import Mount, Tilt
from core.mount.seat.season.evenings import find_season, not_clear_of
from core.passes.track import predict
from core.place.local_hours import repeated
from core.place.site import HorizonPoint, Site
from tests.plans import elements_data

SITE = Site(latitude_deg=47.2, longitude_deg=9.1, minimum_elevation_deg=5.0)
WINDOWS = repeated(1_730_480_400.0, 1_730_480_400.0 + 3.0 * 3600.0, 3, "Europe/Zurich")
#: Over the equator at the Earth's own pace: it stands in the south for ever.
STANDING = {"MEAN_MOTION": 1.0027379, "INCLINATION": 0.05, "ECCENTRICITY": 0.0001, "BSTAR": 0.0}


def sets_of(*changes: dict[str, object]) -> list[ElementSet]:
    return [
        ElementSet.model_validate(elements_data(70001 + number, **one)) for number, one in enumerate(changes)
    ]


def test_every_evening_has_the_passes_of_its_hours_and_the_mask_counts():
    walled = SITE.model_copy(update={"horizon": (HorizonPoint(azimuth_deg=180.0, elevation_deg=25.0),)})
    sets = sets_of({"BSTAR": 0.0}, {"BSTAR": 0.0, "RA_OF_ASC_NODE": 60.0})
    for site in (SITE, walled):
        season = find_season(sets, site, Tilt(), WINDOWS)
        told = [predict(sets, site, *window)[0] for window in WINDOWS]
        assert np.bincount(season.evening, minlength=3).tolist() == [len(passes) for passes in told]
        tops = [pass_.elevation_deg.max() for passes in told for pass_ in passes]
        assert season.extents.elevation_high_deg == pytest.approx(np.array(tops), abs=1e-6)


def test_a_satellite_that_never_sets_is_left_out():
    sets = sets_of(*({**STANDING, "MEAN_ANOMALY": float(at)} for at in range(0, 360, 30)))
    assert any(len(predict(sets, SITE, *window)[0]) for window in WINDOWS)
    season = find_season(sets, SITE, Tilt(), WINDOWS)
    assert season.evening.size == 0
    assert not_clear_of(season, 3, Mount()).evenings == 0


def test_a_set_that_cannot_be_followed_is_told_once():
    low, good = sets_of({"MEAN_MOTION": 17.5}, {})
    season = find_season([low, good], SITE, Tilt(), WINDOWS)
    assert [error.norad_id for error in season.refused] == [70001]
    assert season.evening.size > 0


def test_an_end_asked_for_ends_it():
    with pytest.raises(Cancelled):
        find_season(sets_of({}), SITE, Tilt(), WINDOWS, lambda *_: False)
