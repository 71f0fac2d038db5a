"""The fit from end to end: what is found without noise, what is refused, what is not determined."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.model.station import AzimuthAxis, CalibrationPoint, Mount, SightingCorrection
from core.setup.level import Level
from core.setup.model import PointingErrors, Sighting
from core.setup.sightings.answer import SightingFit
from core.setup.sightings.fit import fit_sightings
from core.setup.sightings.question import Question
from tests.core.setup.sightings.made import NOON, SITE, mark_at, mount_of
from tests.oracles.sighting_mount import dials, pointing_at

AZIMUTHS = (10.0, 100.0, 170.0, 260.0, 300.0)
ELEVATIONS = (5.0, 30.0, 12.0, 45.0, 20.0)
SQUARE = {"lean_east": 0.0, "lean_north": 0.0, "elevation_zero": 0.0, "skew": 0.0, "axis": 0.0, "play": 0.0}
#: Nothing is known beforehand, and nothing else is out.
LOOSE = PointingErrors(lean_deg=30.0, boom_deg=0.0, backlash_deg=0.0, clock_s=0.0)


def table(zeta: float, rounded: float = 0.0, **errors: float) -> list[Sighting]:
    """Five landmarks sighted upright with a mount of these errors, the dial 0 on the stop."""
    mount = {**SQUARE, **errors, "zeta": zeta}
    sky = pointing_at(np.array(AZIMUTHS), np.array(ELEVATIONS))
    azimuth, elevation = dials(mount, sky, np.zeros(5, dtype=bool), np.zeros(5), (rounded, rounded))
    return [
        Sighting(time=NOON, target=f"mark {i}", azimuth_dial_deg=float(a), elevation_dial_deg=float(e))
        for i, (a, e) in enumerate(zip(azimuth, elevation, strict=True))
    ]


def fit(sightings: list[Sighting], **fields: Any) -> SightingFit:
    asked: dict[str, Any] = {
        "mount": Mount(elevation={"minimum_deg": -90.0}),
        "beamwidth_deg": 30.0,
        "site": SITE,
        "landmarks": tuple(mark_at(f"mark {i}", AZIMUTHS[i], ELEVATIONS[i]) for i in range(5)),
        "errors": LOOSE,
    }
    return fit_sightings(Question(sightings=tuple(sightings), **{**asked, **fields}))


@settings(max_examples=10)
@given(
    zeta=st.floats(-170.0, 170.0),
    lean=st.tuples(st.floats(-4.0, 4.0), st.floats(-4.0, 4.0)),
    zero=st.floats(-5.0, 5.0),
)
def test_without_noise_the_mounts_errors_come_out(zeta, lean, zero):
    found = fit(table(zeta, lean_east=lean[0], lean_north=lean[1], elevation_zero=zero))
    assert abs((found.correction_deg - zeta + 180.0) % 360.0 - 180.0) < 0.02
    assert found.elevation_zero_deg == pytest.approx(zero, abs=0.02)
    assert found.estimates[2:4] == pytest.approx(lean, abs=0.02)
    assert found.lean is not None
    assert found.outliers == found.doubtful == ()
    assert max(abs(one.azimuth_deg) for one in found.residuals) < 0.02


def test_a_correction_that_the_plan_has_already_is_not_counted_twice():
    corrected = SightingCorrection(deg=12.0, keyway_bearing_deg=0.0, index_hole="A")
    mount = Mount(elevation={"minimum_deg": -90.0}, sighting_correction=corrected)
    assert fit(table(17.0), mount=mount).correction_deg == pytest.approx(17.0, abs=0.02)


def test_a_level_reading_holds_the_lean_and_tells_it():
    level = Level(1.5, 90.0, sigma_deg=0.05, zero_deg=None, worst_left_deg=0.0)
    found = fit(table(5.0, lean_east=1.5)[:1], level=level)
    assert found.lean is not None
    assert found.lean.angle_deg == pytest.approx(1.5, abs=0.05)
    assert found.lean.toward_deg == pytest.approx(90.0, abs=2.0)
    assert found.correction_deg == pytest.approx(5.0, abs=0.02)


def test_one_sighting_determines_no_lean_and_the_mounts_own_errors_are_told_as_assumed():
    found = fit(table(5.0)[:1], errors=PointingErrors())
    assert found.lean is None
    assert {"lean", "skew", "gear play"} <= set(found.undetermined)
    assert "correction" not in found.undetermined
    assert (found.constants[0].name, found.constants[0].determined) == ("skew", False)


def test_without_an_azimuth_there_is_no_correction_and_without_any_sighting_nothing():
    only = [one.model_copy(update={"azimuth_dial_deg": None}) for one in table(5.0)]
    found = fit(only)
    assert found.correction_deg is None
    assert np.isinf(found.correction_sigma_deg)
    assert found.undetermined[0] == "correction"
    assert found.elevation_zero_deg is not None
    empty = fit([])
    assert empty.correction_deg is None
    assert empty.elevation_zero_deg is None
    assert empty.next_sighting is not None


def test_sightings_that_say_nothing_are_refused_by_index_and_the_rest_goes_on():
    good = table(5.0)
    bad = [
        good[0].model_copy(update={"azimuth_dial_deg": 700.0}),
        good[1].model_copy(update={"target": "steeple"}),
        good[2].model_copy(update={"target": "Sun", "time": "2024-06-01T00:00:00.000Z"}),
        good[3].model_copy(update={"used": False}),
        good[4].model_copy(update={"elevation_dial_deg": 300.0}),
    ]
    found = fit([*bad, *good])
    assert [(one.index, one.field) for one in found.refused] == [
        (0, "azimuth_dial_deg"),
        (1, "target"),
        (2, "time"),
        (4, "elevation_dial_deg"),
    ]
    assert "below the horizon" in str(found.refused[2])
    assert found.correction_deg == pytest.approx(5.0, abs=0.02)
    assert 3 not in [one.index for one in found.residuals]


def test_a_typed_bearing_goes_before_the_name_and_has_no_elevation_of_its_own():
    spire = Sighting(
        time=NOON, target="spire", bearing_deg=80.0, azimuth_dial_deg=73.0, elevation_dial_deg=2.0
    )
    found = fit([spire])
    assert found.correction_deg == pytest.approx(7.0)
    assert [one.field for one in found.refused] == ["elevation_dial_deg"]
    renamed = spire.model_copy(update={"target": "mark 0", "elevation_dial_deg": 5.0})
    assert fit([renamed]).elevation_zero_deg == pytest.approx(0.0, abs=0.01)


def test_the_middle_of_two_half_power_dials_counts_and_across_north_too():
    pair = Sighting(time=NOON, target="beacon", bearing_deg=4.0, half_power_dials_deg=(345.0, 13.0))
    found = fit([pair])
    assert found.correction_deg == pytest.approx(5.0)
    one = Sighting(time=NOON, target="beacon", bearing_deg=4.0, azimuth_dial_deg=359.0)
    eye = fit([one])
    assert 0.5 < found.correction_sigma_deg < 2.0  # a small share of the beam of 30 deg
    assert eye.correction_sigma_deg < found.correction_sigma_deg  # by eye it is better still


def test_both_sides_of_a_gear_determine_its_play_and_the_correction_is_in_its_middle():
    errors = PointingErrors(lean_deg=0.1, boom_deg=0.0, backlash_deg=2.0)
    marks = [
        Sighting(time=NOON, target="mark 0", azimuth_dial_deg=dial, came_from=side, sigma_deg=0.1)
        for dial, side in ((6.2, "left"), (3.8, "right"), (6.2, "left"), (3.8, "right"))
    ]
    found = fit(marks, errors=errors)
    assert found.correction_deg == pytest.approx(5.0, abs=0.1)
    play = found.constants[2]
    assert play.determined
    assert play.deg == pytest.approx(1.2, abs=0.1)


def test_a_gear_that_came_from_nobody_knows_where_is_known_no_better_than_its_play():
    errors = PointingErrors(lean_deg=0.0, boom_deg=0.0, backlash_deg=4.0, by_eye_deg=0.1)
    found = fit(table(5.0, rounded=0.5)[:1], errors=errors)
    assert found.correction_sigma_deg > 2.0


def test_a_crooked_and_wrapping_dial_is_read_by_its_table():
    axis = AzimuthAxis(
        calibration=(
            CalibrationPoint(axis_deg=0.0, dial_deg=180.0),
            CalibrationPoint(axis_deg=450.0, dial_deg=660.0),
        ),
        dial_wraps_at_deg=360.0,
        dial_wraps_to_deg=0.0,
    )
    mount = Mount(azimuth=axis)
    spire = Sighting(time=NOON, target="spire", bearing_deg=80.0, azimuth_dial_deg=260.0, time_round=1)
    assert fit([spire], mount=mount).correction_deg == pytest.approx(5.0)
    refused = fit([spire.model_copy(update={"time_round": None, "azimuth_dial_deg": 200.0})], mount=mount)
    assert [one.field for one in refused.refused] == ["time_round"]


def test_sightings_of_one_landmark_share_its_error():
    far = mark_at("mark 0", 10.0, 5.0, sigma_m=30.0)
    once = fit(table(5.0, rounded=0.5)[:1], landmarks=(far,))
    often = fit([table(5.0, rounded=0.5)[0]] * 8, landmarks=(far,))
    shared = np.degrees(np.hypot(30.0, LOOSE.site_m) / 2000.0)
    assert often.correction_sigma_deg > 0.99 * shared
    assert often.correction_sigma_deg < once.correction_sigma_deg


def test_figures_that_are_all_fives_are_no_better_than_fives():
    rough = [one.model_copy(update={"elevation_dial_deg": None}) for one in table(2.3, rounded=5.0)]
    fine = [one.model_copy(update={"elevation_dial_deg": None}) for one in table(2.3, rounded=0.5)]
    rough_deg, fine_deg = (fit(one, errors=PointingErrors()).correction_sigma_deg for one in (rough, fine))
    assert rough_deg > 5.0 / np.sqrt(12.0) / np.sqrt(5.0)
    assert fine_deg < rough_deg / 1.2


def test_one_blunder_is_left_out_and_told_with_its_size():
    wrong = table(5.0, rounded=0.5)
    wrong[2] = wrong[2].model_copy(update={"azimuth_dial_deg": wrong[2].azimuth_dial_deg - 14.0})
    found = fit(wrong, errors=PointingErrors())
    assert found.outliers == (2,)
    assert found.correction_deg == pytest.approx(5.0, abs=0.8)
    assert found.residuals[2].weight == 0.0
    sentence = next(one for one in found.sentences if "left out" in one)
    assert sentence.startswith(("-14.", "-13."))
    assert "the azimuth of sighting 3 (mark 2)" in sentence


def test_the_next_sighting_is_where_nothing_was_sighted():
    near = [mark_at(f"mark {i}", 90.0 + 4.0 * i, 4.0 + i) for i in range(5)]
    sky = pointing_at(90.0 + 4.0 * np.arange(5), 4.0 + np.arange(5.0))
    azimuth, elevation = dials({**SQUARE, "zeta": 0.0}, sky, np.zeros(5, bool), np.zeros(5), (0.5, 0.5))
    sightings = [
        Sighting(time=NOON, target=f"mark {i}", azimuth_dial_deg=float(a), elevation_dial_deg=float(e))
        for i, (a, e) in enumerate(zip(azimuth, elevation, strict=True))
    ]
    errors = PointingErrors(lean_deg=3.0, boom_deg=0.0)
    found = fit(sightings, landmarks=tuple(near), errors=errors, mount=mount_of(335.0))
    assert found.next_sighting is not None
    ahead = abs((found.next_sighting.bearing_deg - 98.0 + 180.0) % 360.0 - 180.0)
    assert ahead >= 45.0  # from there the lean is seen from another side
    assert found.next_sighting.after_deg < found.next_sighting.before_deg
    assert "within 16 deg about 98.0" in found.next_sighting.why


ANY_SIGHTING = st.fixed_dictionaries(
    {
        "time": st.sampled_from([NOON, "2024-06-01T00:00:00Z", "2024-12-21T15:00:00Z"]),
        "target": st.sampled_from(["mark 0", "mark 3", "Sun", "Polaris", "nothing", "over, head"]),
        "bearing_deg": st.none() | st.floats(-360.0, 720.0),
        "elevation_dial_deg": st.floats(-90.0, 190.0),
        "azimuth_dial_deg": st.none() | st.floats(-20.0, 460.0) | st.sampled_from([0.0, 360.0]),
        "posture": st.sampled_from(["upright", "over the top"]),
        "came_from": st.sampled_from([None, "left", "right"]),
        "sigma_deg": st.none() | st.floats(0.01, 45.0),
        "time_sigma_s": st.sampled_from([0.0, 3.0, 3600.0]),
    }
)
NO_ERRORS = PointingErrors(
    north_deg=0.0,
    keyway_play_deg=0.0,
    index_play_deg=0.0,
    lean_deg=0.0,
    backlash_deg=0.0,
    boom_deg=0.0,
    clock_s=0.0,
)


@settings(max_examples=10)
@given(
    sightings=st.lists(ANY_SIGHTING, max_size=7),
    errors=st.sampled_from([PointingErrors(), LOOSE, NO_ERRORS]),
    declination=st.none() | st.floats(-180.0, 180.0),
)
def test_whatever_is_written_down_has_an_answer_in_finite_figures(sightings, errors, declination):
    table = [Sighting.model_validate(one) for one in sightings]
    found = fit(table, errors=errors, declination_deg=declination, zone_offset_s=7200.0, mount=mount_of(70.0))
    told = {one.index for one in found.residuals} | {one.index for one in found.refused}
    assert told == set(range(len(table)))
    assert np.isfinite(found.estimates).all()
    assert not np.isnan(found.covariance).any()
    assert (np.diag(found.covariance) >= 0.0).all()
    if found.correction_deg is not None:
        assert -180.0 < found.correction_deg <= 180.0
    assert not any("nan" in sentence for sentence in found.sentences)
