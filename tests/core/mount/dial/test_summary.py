"""What follows from a mount's numbers, and the dial as drawn."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.dial.face import dial_face
from core.mount.dial.readings import azimuth_dial
from core.mount.dial.summary import (
    correction_words,
    dial_checks,
    elevation_range_words,
    overlap_words,
    stop_words,
    turn_seconds,
    zeta_sum_words,
)
from core.mount.model.station import AzimuthAxis, ElevationAxis, IndexHole, Mount, SightingCorrection


def mount_of(travel: float = 450.0, guard: float = 5.0, **others: object) -> Mount:
    axis = AzimuthAxis(travel_deg=travel, guard_deg=guard)
    return Mount.model_validate({"keyway_bearing_deg": 184.0, "azimuth": axis} | others)


def test_the_design_check():
    """Keyway 143, a hole drilled 30 clockwise of the datum seen from above, sigma 0: zeta 113."""
    mount = mount_of(keyway_bearing_deg=143.0, index_holes=(IndexHole(name="A", offset_deg=-30.0),))
    assert stop_words(mount) == ("113.0 deg true", "203.0 deg true")
    assert zeta_sum_words(mount) == "keyway 143, hole A -30"


def test_overlap_gap_and_neither():
    assert overlap_words(mount_of()) == ("80 deg of usable overlap: 189.0 to 269.0 deg true can be had twice")
    assert overlap_words(mount_of(360.0)) == (
        "no dial setting points to 179.0 to 189.0 deg true, a sector of 10 deg"
    )
    assert overlap_words(mount_of(370.0)) == "no overlap and no gap: every bearing once"
    assert "every bearing at least twice" in overlap_words(mount_of(800.0))


@given(travel=st.integers(200, 720), guard=st.integers(0, 20), keyway=st.integers(0, 359))
def test_the_sector_named_is_the_one_no_m_points_to(travel, guard, keyway):
    mount = mount_of(travel, guard, keyway_bearing_deg=float(keyway))
    reached = {(keyway + m) % 360 for m in range(guard, travel - guard + 1)}
    words = overlap_words(mount)
    if len(reached) == 360 or travel - 2 * guard == 359:
        assert "a sector of" not in words or travel - 2 * guard == 359
    else:
        start, end = (float(part.split()[0]) for part in words.partition("points to ")[2].split(" to "))
        inside = {int((start + step) % 360) for step in range(1, round((end - start) % 360))}
        assert inside == set(range(360)) - reached


def test_elevation_in_words():
    def words(low: float, high: float) -> str:
        return elevation_range_words(mount_of(elevation=ElevationAxis(minimum_deg=low, maximum_deg=high)))

    assert words(0, 180) == "elevation 0 to 180 deg: over the top all the way"
    assert words(-2, 170) == "elevation -2 to 170 deg: over the top, and down to 10 deg behind"
    assert words(0, 90) == "elevation 0 to 90 deg: upright only"
    assert words(0, 80) == "elevation 0 to 80 deg: upright only, and nothing above 80 deg"


def test_a_correction_is_told_with_whether_it_holds():
    fitted = SightingCorrection(deg=0.0, keyway_bearing_deg=184.0, index_hole="A")
    mount = mount_of(sighting_correction=fitted)
    assert correction_words(mount_of()).startswith("none")
    assert "in effect" in correction_words(mount)  # one of 0 deg too
    turned = mount.model_copy(update={"keyway_bearing_deg": 185.0})
    assert "void" in correction_words(turned)
    assert "only" not in correction_words(mount)
    upright = fitted.model_copy(update={"posture": "upright"})
    assert ", upright only: in effect" in correction_words(mount_of(sighting_correction=upright))


def test_dial_checks_stay_within_the_axes():
    mount = mount_of(elevation=ElevationAxis(minimum_deg=5.0, maximum_deg=90.0, dial_offset_deg=1.0))
    checks = dial_checks(mount)
    assert [(check.axis, check.axis_deg, check.reading) for check in checks] == [
        ("azimuth", 0.0, "0"),
        ("azimuth", 225.0, "225"),
        ("azimuth", 450.0, "450"),
        ("elevation", 90.0, "91"),
    ]
    assert [check.bearing_deg for check in checks[:3]] == pytest.approx([184.0, 49.0, 274.0])
    assert checks[3].bearing_deg is None
    assert turn_seconds(mount) == 60.0


axes = st.builds(
    AzimuthAxis,
    travel_deg=st.integers(90, 1440).map(float),
    dial_at_stop_deg=st.integers(-180, 360).map(float),
    dial_scale=st.sampled_from([1.0, -1.0, 0.98, 0.5, 2.0]),
    dial_division_deg=st.sampled_from([0.5, 1.0, 5.0, 10.0]),
)


@given(axis=axes, wraps=st.booleans())
def test_figures_stand_where_the_dial_reads_them(axis, wraps):
    if wraps:
        axis = axis.model_copy(update={"dial_wraps_at_deg": 360.0, "dial_wraps_to_deg": 0.0})
    face = dial_face(axis)
    assert len(face.figures) <= 10
    assert len(face.divisions_m_deg) <= 122
    for m, reading in face.figures:
        assert 0.0 <= m <= axis.travel_deg
        assert reading == azimuth_dial(m, axis)
        assert min(reading.value_deg % 1.0, 1.0 - reading.value_deg % 1.0) < 1e-6
    for m in face.wraps_m_deg:
        running = axis.dial_at_stop_deg + axis.dial_scale * m
        assert running % 360.0 == pytest.approx(0.0, abs=1e-6) or running % 360.0 == pytest.approx(360.0)
    assert wraps or not face.wraps_m_deg
