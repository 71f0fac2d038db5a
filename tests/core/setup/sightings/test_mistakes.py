"""Each known mistake, made on purpose by the oracle's mount, is named."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from core.base.times import format_iso, parse_iso
from core.mount.model.station import IndexHole, Mount
from core.setup.model import PointingErrors, Sighting
from core.setup.sightings.answer import SightingFit
from core.setup.sightings.fit import fit_sightings
from core.setup.sightings.question import Question
from core.setup.sky import directions
from tests.core.setup.sightings.made import HOLES, SITE, mark_at, mount_of
from tests.oracles.sighting_mount import dials, pointing_at

TIMES = tuple(
    f"2024-06-01T{hour:02d}:{minute:02d}:00.000Z" for hour, minute in ((8, 0), (8, 40), (9, 30), (10, 0))
)
MOUNT = mount_of(100.0)
#: Where boresight looks on the stop if nothing is wrong: keyway, hole A, datum to stop.
RIGHT = 100.0 - 15.0 + 40.0
NORTH = PointingErrors(north_deg=0.5)


def written(
    zeta: float, targets: dict[str, tuple[float, float]], times: tuple[str, ...] = TIMES, **errors: float
) -> list[Sighting]:
    """What is written down with the stop at ``zeta``, the targets truly where they are said to be."""
    mount = {
        "lean_east": 0.2,
        "lean_north": -0.1,
        "elevation_zero": 0.4,
        "skew": 0.0,
        "axis": 0.0,
        "play": 0.0,
    }
    where = np.array(list(targets.values()))
    count = len(targets)
    azimuth, elevation = dials(
        {**mount, **errors, "zeta": zeta},
        pointing_at(*where.T),
        np.zeros(count, bool),
        np.zeros(count),
        (0.5, 0.5),
    )
    return [
        Sighting(time=time, target=name.split("@")[0], azimuth_dial_deg=float(a), elevation_dial_deg=float(e))
        for time, name, a, e in zip(times, targets, azimuth, elevation, strict=False)
    ]


MARKS = {"mark 0": (40.0, 4.0), "mark 1": (150.0, 8.0), "mark 2": (230.0, 3.0), "mark 3": (320.0, 12.0)}


def sun_at(times: tuple[str, ...]) -> dict[str, tuple[float, float]]:
    (seen,) = directions(SITE, ("Sun",), np.array([parse_iso(time) for time in times]))
    return {
        f"Sun@{k}": (float(a), float(e))
        for k, (a, e) in enumerate(zip(seen.azimuth_deg, seen.apparent_deg, strict=True))
    }


def answer(sightings: list[Sighting], **fields: Any) -> SightingFit:
    asked: dict[str, Any] = {
        "mount": MOUNT,
        "beamwidth_deg": 30.0,
        "site": SITE,
        "landmarks": tuple(mark_at(name, *where) for name, where in MARKS.items()),
        "errors": NORTH,
        "declination_deg": 6.0,
        "zone_offset_s": 7200.0,
    }
    return fit_sightings(Question(sightings=tuple(sightings), **{**asked, **fields}))


def names(found: SightingFit) -> set[str]:
    return {one.mistake for one in found.explanations}


def test_nothing_is_named_where_nothing_is_wrong():
    assert answer(written(RIGHT + 0.6, MARKS)).explanations == ()


@pytest.mark.parametrize(
    ("off", "expected", "named"),
    [
        (-45.4, -45.0, {"another hole"}),
        (30.4, 30.0, {"another hole", "offset sign", "drawn from below"}),
        (179.6, 180.0, {"half a turn", "elevation unit reversed"}),
        (6.3, 6.0, {"declination left out"}),
        (12.3, 12.0, {"declination sign"}),
    ],
)
def test_a_mistake_by_a_fixed_angle_is_named_and_so_is_what_cannot_be_told_from_it(off, expected, named):
    found = answer(written(RIGHT + off, MARKS))
    assert names(found) == named
    for one in found.explanations:
        assert abs((one.expected_deg - expected + 180.0) % 360.0 - 180.0) < 1e-9
        assert one.left_deg == pytest.approx(off - expected, abs=0.8)
        assert one.left_sigma_deg > 0.5


def test_the_sentence_has_the_number_first_and_names_the_hole():
    found = answer(written(RIGHT - 45.4, MARKS))
    (one,) = found.explanations
    assert one.hole == "C"
    assert one.sentence.startswith("-45.")
    assert one.sentence.endswith(" off; hole C would explain -45.0")
    assert f"{one.sentence}." in found.sentences


def test_a_second_explanation_within_one_sigma_is_named_beside_the_first():
    holes = (*HOLES[:1], IndexHole(name="D", offset_deg=-8.6))  # 6.4 from A, declination 6.0
    mount = Mount(**{**MOUNT.model_dump(), "index_holes": holes})
    both = answer(written(RIGHT + 6.2, MARKS), mount=mount)
    assert names(both) == {"another hole", "declination left out"}
    apart = Mount(**{**MOUNT.model_dump(), "index_holes": (*HOLES[:1], IndexHole(name="D", offset_deg=-5.0))})
    assert names(answer(written(RIGHT + 6.2, MARKS), mount=apart)) == {"declination left out"}


def test_where_north_was_never_known_nothing_can_be_compared():
    lost = PointingErrors(north_deg=90.0)
    assert answer(written(RIGHT + 30.4, MARKS), errors=lost).explanations == ()


def test_what_chance_may_do_is_no_mistake():
    unsure = PointingErrors(north_deg=2.0)  # then 5 deg are but twice what is usual
    assert answer(written(RIGHT + 5.0, MARKS), errors=unsure).explanations == ()


def test_local_time_taken_for_utc_is_told_by_how_the_sun_moves():
    sun = sun_at(TIMES)
    local = tuple(format_iso(parse_iso(time) + 7200.0) for time in TIMES)
    found = answer(written(RIGHT + 0.3, sun, local))
    assert names(found) == {"local time"}
    (one,) = found.explanations
    assert one.expected_deg > 25.0  # the Sun goes that far in two hours of a June morning
    assert abs(one.left_deg) < 1.5


def test_a_sun_below_the_horizon_at_the_time_written_down_may_be_local_time_too():
    evening = ("2024-06-01T17:00:00.000Z", "2024-06-01T17:40:00.000Z")
    sun = sun_at(evening)
    local = tuple(format_iso(parse_iso(time) + 10800.0) for time in evening)
    found = answer(written(RIGHT, sun, local), zone_offset_s=lambda utc_s: 10800.0)
    assert names(found) == {"local time"}
    assert len(found.refused) == 2
    assert found.correction_deg is None
    assert "2 below the horizon" in found.explanations[0].sentence


def test_the_times_of_landmarks_do_not_matter():
    local = tuple(format_iso(parse_iso(time) + 7200.0) for time in TIMES)
    assert answer(written(RIGHT + 0.3, MARKS, local)).explanations == ()


def test_an_elevation_dial_that_counts_from_the_other_end():
    turned = [
        one.model_copy(update={"elevation_dial_deg": 180.0 - one.elevation_dial_deg})
        for one in written(RIGHT + 0.3, MARKS)
    ]
    found = answer(turned)
    assert names(found) == {"elevation unit reversed"}
    assert "in elevation off; the elevation unit reversed would explain" in found.explanations[0].sentence


def test_one_sighting_alone_half_a_turn_out_is_left_out_and_explained():
    sightings = written(RIGHT + 0.3, MARKS)
    dial = (sightings[1].azimuth_dial_deg or 0.0) + 180.0
    sightings[1] = sightings[1].model_copy(update={"azimuth_dial_deg": dial % 360.0})
    found = answer(sightings)
    assert found.outliers == (1,)
    (one,) = found.explanations
    assert (one.mistake, one.index) == ("half a turn", 1)
    assert one.sentence.startswith("Sighting 2: ")


def test_one_bearing_typed_as_magnetic_is_explained():
    sightings = written(RIGHT + 0.3, MARKS)
    magnetic = {"target": "church", "bearing_deg": 230.0 - 12.0, "elevation_dial_deg": None}
    sightings[2] = sightings[2].model_copy(update=magnetic)
    found = answer(sightings, declination_deg=12.0)
    assert found.outliers == (2,)
    assert [(one.mistake, one.index) for one in found.explanations] == [("declination left out", 2)]
