from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from core.mount.model.chain import (
    corrected_postures,
    correction_deg,
    correction_state,
    ground_bearing_deg,
    stop_bearings_deg,
    tilt_matrix,
    to_mount_frame,
    usable_overlap_deg,
    zeta_deg,
)
from core.mount.model.station import (
    AzimuthAxis,
    ElevationAxis,
    IndexHole,
    Mount,
    SightingCorrection,
    Tilt,
)


def mount(**changes: object) -> Mount:
    return Mount(
        keyway_bearing_deg=143.0,
        index_holes=(IndexHole(name="A"), IndexHole(name="B", offset_deg=-30.0)),
        index_hole="B",
    ).model_copy(update=changes)


def test_a_hole_drilled_30_clockwise_of_the_datum_takes_30_off() -> None:
    """The design's own check: keyway 143, hole 30 clockwise of the datum from above, sigma 0: zeta 113."""
    assert zeta_deg(mount()) == pytest.approx(113.0)
    assert mount().index_holes[1].drilled_deg == pytest.approx(30.0)


def test_the_two_stops_have_two_bearings() -> None:
    assert stop_bearings_deg(mount(azimuth=AzimuthAxis(travel_deg=450.0))) == pytest.approx((113.0, 203.0))


def test_every_link_of_the_chain_counts() -> None:
    linked = mount(datum_to_stop_deg=10.0, elevation_unit_offset_deg=-4.0)
    assert zeta_deg(linked) == pytest.approx(119.0)


def test_a_correction_holds_only_for_the_seat_it_was_fitted_for() -> None:
    fitted = SightingCorrection(deg=2.5, keyway_bearing_deg=143.0, index_hole="B")
    assert zeta_deg(mount(sighting_correction=fitted)) == pytest.approx(115.5)
    assert correction_deg(mount(sighting_correction=fitted, keyway_bearing_deg=143.1), "upright") == 0.0
    assert correction_deg(mount(sighting_correction=fitted, index_hole="A"), "upright") == 0.0
    assert correction_deg(mount(sighting_correction=fitted, keyway_bearing_deg=503.0), "upright") == 2.5


def test_a_correction_fitted_with_skew_holds_for_its_posture() -> None:
    fitted = SightingCorrection(deg=2.5, keyway_bearing_deg=143.0, index_hole="B", posture="over the top")
    assert zeta_deg(mount(sighting_correction=fitted), "upright") == pytest.approx(113.0)
    assert zeta_deg(mount(sighting_correction=fitted), "over the top") == pytest.approx(115.5)


def test_a_correction_of_nothing_holds_like_any_other() -> None:
    fitted = SightingCorrection(deg=0.0, keyway_bearing_deg=143.0, index_hole="B")
    skewed = fitted.model_copy(update={"posture": "over the top"})
    for correction, postures in ((fitted, ("upright", "over the top")), (skewed, ("over the top",))):
        held = mount(sighting_correction=correction)
        turned = mount(sighting_correction=correction, keyway_bearing_deg=150.0)
        assert (corrected_postures(held), correction_state(held)) == (postures, "holds")
        assert (corrected_postures(turned), correction_state(turned)) == ((), "void")
    assert (corrected_postures(mount()), correction_state(mount())) == ((), "none")


def test_usable_overlap_counts_both_guards() -> None:
    assert usable_overlap_deg(AzimuthAxis(travel_deg=450.0, guard_deg=5.0)) == pytest.approx(80.0)
    assert usable_overlap_deg(AzimuthAxis(travel_deg=360.0, guard_deg=5.0)) == pytest.approx(-10.0)


@given(tau=st.floats(0.0, 30.0), phi=st.floats(0.0, 360.0))
def test_the_axis_leans_by_tau_toward_phi_by_the_smallest_rotation(tau: float, phi: float) -> None:
    """Checked by what a tilt is, not by how it is computed: where the top goes, and what stays."""
    matrix = tilt_matrix(Tilt(angle_deg=tau, toward_deg=phi))
    np.testing.assert_allclose(matrix @ matrix.T, np.eye(3), atol=1e-12)
    top = matrix @ [0.0, 0.0, 1.0]
    toward = np.array([np.sin(np.radians(phi)), np.cos(np.radians(phi)), 0.0])
    assert np.degrees(np.arccos(np.clip(top[2], -1, 1))) == pytest.approx(tau, abs=1e-6)
    np.testing.assert_allclose(top[:2], np.sin(np.radians(tau)) * toward[:2], atol=1e-12)
    across = np.array([toward[1], -toward[0], 0.0])
    np.testing.assert_allclose(matrix @ across, across, atol=1e-12)
    assert np.degrees(np.arccos(np.clip((np.trace(matrix) - 1) / 2, -1, 1))) == pytest.approx(tau, abs=1e-5)


@given(
    azimuth=st.floats(0.0, 359.0),
    elevation=st.floats(-20.0, 89.0),
    tau=st.floats(0.0, 10.0),
    phi=st.floats(0, 360),
)
def test_into_the_mount_frame_and_back(azimuth: float, elevation: float, tau: float, phi: float) -> None:
    a, e = np.radians(azimuth), np.radians(elevation)
    direction = np.array([[np.sin(a) * np.cos(e), np.cos(a) * np.cos(e), np.sin(e)]])
    tilt = Tilt(angle_deg=tau, toward_deg=phi)
    in_azimuth, in_elevation = to_mount_frame(direction, tilt)
    back = ground_bearing_deg(float(in_azimuth[0]), float(in_elevation[0]), tilt)
    apart = (back[0] - azimuth + 180.0) % 360.0 - 180.0
    assert abs(apart) * np.cos(e) < 1e-6
    assert back[1] == pytest.approx(elevation, abs=1e-6)


@pytest.mark.parametrize(
    ("build", "words"),
    [
        (lambda: AzimuthAxis(travel_deg=10.0, guard_deg=5.0), "guard"),
        (lambda: AzimuthAxis(dial_wraps_at_deg=360.0), "go together"),
        (lambda: AzimuthAxis(dial_wraps_at_deg=0.0, dial_wraps_to_deg=360.0), "more than"),
        (lambda: AzimuthAxis(dial_scale=0.0), "dial_scale"),
        (lambda: ElevationAxis(minimum_deg=50.0, maximum_deg=40.0), "less than"),
        (lambda: Mount(index_hole="C"), "index_hole"),
        (lambda: Mount(index_holes=(IndexHole(name="A"), IndexHole(name="A"))), "same name"),
    ],
)
def test_what_cannot_be_built_is_refused_in_words(build, words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        build()
