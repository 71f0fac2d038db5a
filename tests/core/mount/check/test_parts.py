"""Staying in one way: its loss against every way by brute force, and what is told of it."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from core.base.angles import unwrap_deg
from core.mount.check.parts import in_one_way, part_words
from core.mount.check.reasons import reasons_for
from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.evening.drawn import Kind, drawn_pass
from core.mount.model.results import Part, PassCheck, Pointing
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, Mount, Station
from core.passes.track import Pass
from tests.oracles.pass_maker import Orbit, Recipe, make, recipes
from tests.oracles.split_scan import unit

FAST = 360.0


def followed(pass_, mount: Mount, beam_deg: float) -> PassCheck:
    return check_passes(
        (pass_,), mount_tracks((pass_,), mount.tilt), Station(mount, (Antenna(beamwidth_deg=beam_deg),))
    )[0]


def least_loss_by_walking(pass_, mount: Mount, beam_deg: float) -> float:
    """Every posture and turn, a satellite told by vectors, axes that keep up with anything."""
    utc_s = np.arange(pass_.aos.utc_s, pass_.los.utc_s, 0.1)
    azimuth = np.interp(utc_s, pass_.utc_s, unwrap_deg(pass_.azimuth_deg))
    elevation = np.interp(utc_s, pass_.utc_s, pass_.elevation_deg)
    over = np.zeros(utc_s.size, dtype=bool)
    for start, end in pass_.stretches:
        over |= (utc_s >= start) & (utc_s <= end)
    guard, top = mount.azimuth.guard_deg, mount.azimuth.travel_deg - mount.azimuth.guard_deg
    least = np.inf
    for flipped in (False, True)[: 2 if mount.elevation.maximum_deg > 90.0 else 1]:
        for turns in range(-4, 5):
            m = azimuth + (180.0 if flipped else 0.0) - mount.keyway_bearing_deg + 360.0 * turns
            if not ((m >= guard) & (m <= top)).any():
                # A way is one that lies at least partly in the travel.
                continue
            e = 180.0 - elevation if flipped else elevation
            held = np.clip(e, mount.elevation.minimum_deg, mount.elevation.maximum_deg)
            looks = unit(np.clip(m, guard, top) - m + azimuth + (180.0 if flipped else 0.0), held)
            cosine = (looks * unit(azimuth, elevation)).sum(axis=1)
            off = np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))) > beam_deg / 2.0
            least = min(least, float((off & over).sum()) * 0.1)
    return least


def split_tells_what_is_lost(check: PassCheck, half_beam: float) -> None:
    """Off the beam are the absences and some of the move; when it is told to be back, it is."""
    split, pointing = check.split, check.pointing
    absent = sum(end - start for start, end in split.absences)
    move = split.end_utc_s - split.start_utc_s
    assert absent - 3.0 <= check.seconds_lost <= absent + move + 3.0
    for start, end in split.absences:
        assert end <= split.start_utc_s + 0.6 or start >= split.end_utc_s - 1e-6
        middle = float(np.interp((start + end) / 2.0, pointing.utc_s, pointing.off_deg))
        assert middle > half_beam - 0.5 or end - start < 2.0
    back = split.back_utc_s + 0.5
    if any(start <= back <= end for start, end in check.pass_.stretches):
        after = float(np.interp(back, pointing.utc_s, pointing.off_deg))
        assert after <= half_beam + 1.0


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    recipe=recipes(kinds=("fast",)),
    keyway=st.floats(0.0, 359.0),
    travel=st.sampled_from([120.0, 300.0, 360.0, 450.0]),
    highest=st.sampled_from([35.0, 60.0, 90.0, 180.0]),
    beam=st.floats(8.0, 30.0),
)
def test_no_way_loses_less_than_the_part(
    recipe: Recipe, keyway: float, travel: float, highest: float, beam: float
) -> None:
    pass_ = make(recipe)
    assume(pass_ is not None)
    mount = Mount(
        keyway_bearing_deg=keyway,
        azimuth=AzimuthAxis(travel_deg=travel, guard_deg=2.0, rate_deg_s=FAST),
        elevation=ElevationAxis(maximum_deg=highest, rate_deg_s=FAST),
    )
    check = followed(pass_, mount, beam)
    walked = least_loss_by_walking(pass_, mount, beam)
    if check.verdict == "part":
        assert check.seconds_lost == pytest.approx(walked, abs=1.5)
    elif check.verdict == "split":
        assert check.seconds_lost <= walked - 5.0 + 1.5
        split_tells_what_is_lost(check, beam / 2.0)
    elif check.verdict == "out of reach":
        assert walked >= 0.75 * check.seconds_in_all - 1.5
    else:
        assert check.seconds_lost <= walked + 5.0 + 1.5


def high_pass() -> tuple[Pass, Mount]:
    """Over the highest elevation for a while, and back in the beam without any move."""
    mount = Mount(
        azimuth=AzimuthAxis(travel_deg=450.0, rate_deg_s=FAST),
        elevation=ElevationAxis(maximum_deg=45.0, rate_deg_s=FAST),
    )
    orbit = Orbit(
        semi_major_km=7000.0,
        eccentricity=0.0,
        anomaly_deg=0.0,
        heading_deg=60.0,
        aside_deg=2.0,
        latitude_deg=0.0,
        span_s=1400.0,
        turning=True,
    )
    pass_ = make(Recipe(orbit=orbit, minimum_deg=5.0, gaps=(), number=1))
    assert pass_ is not None
    return pass_, mount


def test_what_is_above_the_highest_elevation_is_let_go_and_no_more() -> None:
    pass_, mount = high_pass()
    check = followed(pass_, mount, 20.0)
    assert check.verdict == "part"
    assert len(check.part.absences) == 1
    (start, end) = check.part.absences[0]
    assert check.part.start_utc_s == pytest.approx(pass_.aos.utc_s)
    assert check.part.end_utc_s == pytest.approx(pass_.los.utc_s)
    assert check.seconds_lost == pytest.approx(end - start, abs=2.0)
    elevations = np.interp([start, end], pass_.utc_s, pass_.elevation_deg)
    assert elevations == pytest.approx([55.0, 55.0], abs=1.0)
    reason = reasons_for(
        (check,), mount_tracks((pass_,), mount.tilt), Station(mount, (Antenna(beamwidth_deg=20.0),))
    )[0]
    assert part_words(check.part, check.seconds_lost) in reason.text


def test_the_drawing_leaves_out_what_is_let_go_in_the_middle() -> None:
    pass_, mount = high_pass()
    check = followed(pass_, mount, 20.0)
    runs = drawn_pass(check, mount).runs()
    assert [kind for kind, _a, _b in runs] == [Kind.UPRIGHT, Kind.LET_GO, Kind.UPRIGHT]


OFF = st.lists(st.sampled_from([0.0, 9.0, 10.0, 10.1, 30.0]), min_size=3, max_size=60)


@given(off=OFF, hidden=st.integers(0, 59))
def test_absences_are_the_gaps_between_first_and_last_on_the_beam(off: list[float], hidden: int) -> None:
    """Against a walk from sample to sample, a second apart."""
    worked = np.arange(len(off)) != hidden
    values = np.array(off)
    on = [bool(w) and v <= 10.0 for w, v in zip(worked, off, strict=True)]
    assume(any(on))
    times = np.arange(values.size, dtype=float)
    pointing = Pointing(times, times * 0.0, times * 0.0, values, worked, np.zeros(values.size, dtype=bool))
    part, kept = in_one_way(pointing, "upright", 0, 10.0)
    where = [n for n, here in enumerate(on) if here]
    assert (part.start_utc_s, part.end_utc_s) == (where[0], where[-1])
    assert kept.worked.tolist() == on
    expected = [n for n in range(where[0], where[-1]) if worked[n] and not on[n]]
    told = [n for n in expected if any(a < n < b for a, b in part.absences)]
    assert told == expected
    assert all(b - a >= 1.0 for a, b in part.absences)
    assert all(before[1] <= after[0] for before, after in pairwise(part.absences))
    for a, b in part.absences:
        assert not any(on[int(a) + 1 : int(b)])


def test_the_words_name_two_absences_and_count_more() -> None:
    part = Part(0.0, 600.0, "upright", 0)
    assert part_words(part, 40.0) == "Worked in part, upright, from 00:00:00 to 00:10:00: 40 s off the beam."
    two = Part(0.0, 600.0, "upright", 0, ((60.0, 80.0), (100.0, 120.0)))
    assert ", but for 00:01:00 to 00:01:20 and 00:01:40 to 00:02:00: 40 s off the beam." in part_words(
        two, 40.0
    )
    three = Part(0.0, 600.0, "upright", 0, ((60.0, 80.0), (100.0, 120.0), (200.0, 220.0)))
    assert ", off the beam 3 times between: 60 s off the beam." in part_words(three, 60.0)
