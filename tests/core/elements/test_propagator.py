from __future__ import annotations

import csv
import math

import numpy as np
import pytest
from hypothesis import given
from sgp4 import omm
from sgp4.api import Satrec

from core.base.errors import PropagationError
from core.elements.files import read_element_files
from core.elements.propagator import _record, satrec
from tests.core.elements.samples import element_set, epochs, two_lines
from tests.shared_data import shared_file

DAYS = (-1.0, -0.25, 0.0, 0.5, 1.0)


def _apart_km(ours: Satrec, theirs: Satrec) -> float:
    """Largest distance between two records' positions at the same moments within a day of the epoch."""
    apart = 0.0
    for days in DAYS:
        error, here, _ = ours.sgp4(theirs.jdsatepoch, theirs.jdsatepochF + days)
        other_error, there, _ = theirs.sgp4(theirs.jdsatepoch, theirs.jdsatepochF + days)
        assert error == other_error
        if not error:
            apart = max(apart, math.dist(here, there))
    return apart


def _apart_since_epoch_km(ours: Satrec, theirs: Satrec) -> float:
    """The same, each counted from its own epoch."""
    states = [(ours.sgp4_tsince(1440 * days), theirs.sgp4_tsince(1440 * days)) for days in DAYS]
    assert all(here[0] == there[0] for here, there in states)
    return max((math.dist(here[1], there[1]) for here, there in states if not here[0]), default=0.0)


@given(epochs)
def test_the_epoch_reaches_the_record_to_the_last_bit(epoch):
    elements = element_set(EPOCH=epoch)
    record = satrec(elements)
    assert (record.jdsatepoch, record.jdsatepochF) == elements.epoch_jd


def test_two_line_reader_of_the_library_agrees():
    elements = element_set()
    _, line_1, line_2 = two_lines(elements).splitlines()
    theirs = Satrec.twoline2rv(line_1, line_2)
    ours = satrec(elements)
    assert _apart_km(ours, theirs) < 1e-9
    assert ours.ndot == pytest.approx(theirs.ndot, rel=1e-12)
    assert (ours.jdsatepoch, ours.jdsatepochF) == (theirs.jdsatepoch, theirs.jdsatepochF)


@pytest.mark.parametrize("norad_id", [1, 99_999, 100_000, 339_999, 340_000, 999_999_999])
def test_any_catalogue_number_gives_the_same_orbit(norad_id):
    assert satrec(element_set(NORAD_CAT_ID=norad_id)).sgp4_tsince(90.0) == satrec(element_set()).sgp4_tsince(
        90.0
    )


def test_equal_elements_share_a_record_and_others_do_not():
    assert satrec(element_set()) is satrec(element_set(OBJECT_NAME="ANOTHER NAME"))
    for changes in ({"BSTAR": 2e-4}, {"EPOCH": "2024-11-01T12:00:00.000001"}, {"MEAN_ANOMALY": 0.25}):
        assert satrec(element_set(**changes)) is not satrec(element_set())


@pytest.mark.parametrize(("motion", "e"), [(2.0057, 0.72), (1.0027, 0.001), (15.5, 0.001)])
def test_a_record_asked_before_gives_what_a_new_one_does(motion, e):
    """Half-day and day-long orbits go on from where they were asked last: no bit may come of that."""
    orbit = {"MEAN_MOTION": motion, "ECCENTRICITY": e, "INCLINATION": 63.4, "MEAN_ANOMALY": 90.0}
    kept, minutes = satrec(element_set(**orbit)), [1440.0 * days for days in (9.3, 2.0, -7.1, 0.5, 30.0)]
    for nth, since in enumerate(minutes):
        kept.sgp4_tsince(since)
        _record.cache_clear()
        new = satrec(element_set(**orbit))
        assert new is not kept
        assert kept.sgp4_tsince(minutes[nth - 1]) == new.sgp4_tsince(minutes[nth - 1])


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"MEAN_MOTION": 19.9}, "it has decayed"),
        ({"ECCENTRICITY": 0.2, "MEAN_ANOMALY": 0.0}, "it has decayed"),
        ({"ECCENTRICITY": 0.999, "MEAN_MOTION": 4.0}, "semi-latus rectum"),
        ({"ECCENTRICITY": 0.5602877, "MEAN_MOTION": 1e-5}, "perturbed eccentricity"),
        ({"MEAN_MOTION": 1e-300}, "perturbed eccentricity"),
        ({"BSTAR": 1e300}, "no finite position"),
    ],
)
def test_elements_that_sgp4_cannot_start_from(changes, told):
    elements = element_set(**changes)
    with pytest.raises(PropagationError) as refusal:
        satrec(elements)
    assert refusal.value.norad_id == elements.norad_id
    assert told in str(refusal.value)


def test_a_hundred_rows_of_the_real_catalogue_agree_with_the_librarys_readers():
    """Its OMM reader keeps the epoch in one float, up to 0.3 microseconds off (3e-6 km of a low orbit), so it
    is compared from epoch to epoch; its two-line reader keeps two, and is compared moment by moment.
    """
    path = shared_file("data/gp_20241101.csv")
    sets = read_element_files([path]).sets
    with path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert len(rows) == len(sets)
    compared = 0
    for at in np.linspace(0, len(rows) - 1, 100).astype(int):
        theirs = Satrec()
        omm.initialize(theirs, rows[at])
        try:
            ours = satrec(sets[at])
        except PropagationError:
            assert theirs.error
            continue
        assert _apart_since_epoch_km(ours, theirs) < 1e-6
        _, line_1, line_2 = two_lines(sets[at]).splitlines()
        assert _apart_km(ours, Satrec.twoline2rv(line_1, line_2)) < 1e-6
        compared += 1
    assert compared >= 95
