"""How well the bearing must be known, by hand and against boresight turned by vectors out of the beam."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.model.results import PassCheck, Verdict
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, Antenna, Mount, Station, Tilt
from core.mount.seat.arcs import Arcs
from core.mount.seat.study import _rest_room, good_tenth_deg, know_to_deg
from tests.core.mount.evening.order.evenings import a_pass

LIMIT_DEG = 15.0


@cache
def any_check() -> PassCheck:
    passes = (a_pass(1, 0.0, 60.0),)
    return check_passes(passes, mount_tracks(passes, Tilt()), Station(Mount(), (Antenna(),)))[0]


def held(
    e_deg: list[float], off_deg: list[float], verdict: Verdict = Verdict.UPRIGHT, lost_s: float = 0.0
) -> PassCheck:
    """A pass in such a verdict, boresight so far up and so far off the satellite, one after the other."""
    check = any_check()
    assert check.pointing is not None
    n = check.pointing.utc_s.size
    e = np.resize(np.repeat(e_deg, n // len(e_deg)), n)
    off = np.resize(np.repeat(off_deg, n // len(off_deg)), n)
    pointing = replace(check.pointing, e_deg=e, off_deg=off, worked=np.ones(n, dtype=bool))
    return replace(check, verdict=verdict, seconds_lost=lost_s, pointing=pointing)


@pytest.mark.parametrize(
    ("e_deg", "off_deg", "known_deg"),
    [
        ([0.0], [0.0], 15.0),  # at the horizon a degree of azimuth is a degree of sky
        ([60.0], [0.0], 15.0),  # higher up it is less, but more than the limit is never told
        ([60.0], [14.0], 2.0),  # 1 deg left, and a degree of azimuth is half a degree of sky
        ([120.0], [14.0], 2.0),  # over the top the same
        ([84.0], [14.93], 0.6697),
        ([0.0, 60.0, 80.0], [14.0, 14.0, 14.9], 0.5759),  # the least of 1.0, 2.0 and 0.1 / cos 80
        ([30.0], [15.0], 0.0),
    ],
)
def test_the_bearing_must_be_known_to_what_is_left_of_the_beam(e_deg, off_deg, known_deg) -> None:
    verdict = Verdict.OVER_THE_TOP if e_deg[0] > 90.0 else Verdict.UPRIGHT
    assert know_to_deg((held(e_deg, off_deg, verdict),), LIMIT_DEG) == pytest.approx(known_deg, abs=1e-4)


def test_only_what_is_held_without_loss_counts_and_of_it_the_hardest() -> None:
    hard, easy = held([0.0], [14.0]), held([0.0], [10.0])
    assert know_to_deg((easy, hard), LIMIT_DEG) == pytest.approx(1.0)
    for other in (
        held([0.0], [14.0], Verdict.SPLIT),
        held([0.0], [14.0], Verdict.PART),
        held([0.0], [14.0], lost_s=0.1),
    ):
        assert know_to_deg((easy, other), LIMIT_DEG) == pytest.approx(5.0)
    assert know_to_deg((), LIMIT_DEG) == LIMIT_DEG


def sight(azimuth_deg: float, elevation_deg: float) -> np.ndarray:
    azimuth, elevation = np.radians(azimuth_deg), np.radians(elevation_deg)
    return np.array(
        [np.sin(azimuth) * np.cos(elevation), np.cos(azimuth) * np.cos(elevation), np.sin(elevation)]
    )


def apart_deg(one: np.ndarray, other: np.ndarray) -> float:
    return float(np.degrees(np.arctan2(np.linalg.norm(np.cross(one, other)), one @ other)))


@given(e_deg=st.floats(0.0, 80.0), share=st.floats(0.05, 0.95), over=st.booleans())
def test_a_misjudged_bearing_takes_boresight_just_to_the_edge_of_the_beam(e_deg, share, over) -> None:
    """The worst case: the satellite lies aside at the same height, and the error turns boresight away.

    A narrow beam, so that the sky between them is as good as flat.
    """
    limit_deg = 0.5
    aside_deg = share * limit_deg / np.cos(np.radians(e_deg))
    satellite = sight(aside_deg, e_deg)
    off_deg = apart_deg(sight(0.0, e_deg), satellite)
    check = held(
        [180.0 - e_deg if over else e_deg], [off_deg], Verdict.OVER_THE_TOP if over else Verdict.UPRIGHT
    )
    known_deg = know_to_deg((check,), limit_deg)
    assert apart_deg(sight(-0.99 * known_deg, e_deg), satellite) < limit_deg
    if known_deg < limit_deg:
        assert apart_deg(sight(-1.01 * known_deg, e_deg), satellite) > limit_deg


@pytest.mark.parametrize(
    ("exact_deg", "good_from_deg", "good_to_deg", "told_deg"),
    [
        (86.43, 0.0, 360.0, 86.4),  # both will do: the nearer
        (86.43, 86.43, 360.0, 86.5),  # the best lies on the arc's lower end
        (86.48, 0.0, 86.48, 86.4),  # on its upper end
        (86.43, 86.42, 86.44, 86.43),  # neither will do
        (359.97, 359.97, 361.0, 0.0),
    ],
)
def test_a_bearing_is_rounded_to_a_tenth_that_is_as_good(exact_deg, good_from_deg, good_to_deg, told_deg):
    rounded = good_tenth_deg(exact_deg, lambda bearing: good_from_deg <= bearing <= good_to_deg)
    assert rounded == pytest.approx(told_deg, abs=1e-9)


def test_the_room_told_is_that_of_the_passes_that_rest_and_of_no_other() -> None:
    """Clear from 10 to 20, held by resting from 5 to 30; over the top held from 100 to 140, never clear."""

    def arcs(start: float, width: float) -> Arcs:
        return Arcs(np.array([start]), np.array([width]))

    clear = {UPRIGHT: arcs(10.0, 10.0), OVER_THE_TOP: arcs(0.0, -1.0)}
    rest = {UPRIGHT: arcs(5.0, 25.0), OVER_THE_TOP: arcs(100.0, 40.0)}
    zeta = np.array([15.0, 7.0, 26.0, 110.0, 200.0])
    assert _rest_room(zeta, clear, rest) == pytest.approx([180.0, 2.0, 4.0, 10.0, 180.0], abs=1e-5)
