"""The best split against the brute scan of every start second, which knows nothing of the search."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from core.base.times import clock
from core.mount.check.followed import FollowedPasses
from core.mount.check.reasons import reason_for
from core.mount.check.split_moves import Moves, seconds_kept
from core.mount.check.split_search import SplitBest, best_splits
from core.mount.check.verdict import check_pass
from core.mount.drive.motion import Steered, steer
from core.mount.drive.tracks import MountTrack, mount_track
from core.mount.model.chain import posture_shift_deg
from core.mount.model.station import (
    POSTURES,
    Antenna,
    AzimuthAxis,
    Drive,
    ElevationAxis,
    Mount,
    Station,
    Tilt,
)
from core.passes.track import Pass
from tests.core.mount.drive.test_motion import overhead, track_of
from tests.oracles.pass_maker import Recipe, from_angles, low_orbit, make, recipes
from tests.oracles.split_scan import Found, Scan, Told

HALF_BEAM = 15.0
NAMES = dict(zip(POSTURES, ("upright", "over"), strict=True))


def told_of(track: MountTrack, steered: Steered, mount: Mount, stretches: Any) -> Told:
    """What the scan is given: samples of the satellite and of where the axes are told to be."""
    over_too = mount.elevation.maximum_deg > 90.0
    axes = {
        NAMES[posture]: (steered.in_posture(posture).azimuth_deg, steered.in_posture(posture).elevation_deg)
        for posture in (POSTURES if over_too else POSTURES[:1])
    }
    return Told(track.utc_s, track.azimuth_deg, track.elevation_deg, axes, stretches)


def drive_of(mount: Mount) -> dict[str, Any]:
    def rates(axis: Any) -> tuple[float, float]:
        return axis.rate_deg_s, axis.rate_deg_s if axis.rate_back_deg_s is None else axis.rate_back_deg_s

    return {
        "travel": mount.azimuth.travel_deg,
        "guard": mount.azimuth.guard_deg,
        "e_min": mount.elevation.minimum_deg,
        "e_max": mount.elevation.maximum_deg,
        "az_rate": rates(mount.azimuth),
        "el_rate": rates(mount.elevation),
        "az_gain": mount.azimuth.acceleration_deg_s2,
        "el_gain": mount.elevation.acceleration_deg_s2,
        "together": mount.drive.both_axes_at_once,
        "settle": mount.drive.settle_s,
    }


def both_ways(
    track: MountTrack, mount: Mount, stretches: Any, zeta: float, half_beam: float = HALF_BEAM
) -> tuple[SplitBest, Scan, Found]:
    """The search's answer and the scan's, at one seat."""
    steered = steer(track, mount)
    best = best_splits(track, steered, mount, {p: np.array([zeta]) for p in POSTURES}, half_beam)
    told = told_of(track, steered, mount, stretches)
    scan = Scan(told, drive_of(mount), dict.fromkeys(NAMES.values(), zeta), half_beam)
    return best, scan, scan.best()


def apart_s(best: SplitBest, scan: Scan, found: Found) -> float:
    """How much more the search loses than the scan's best start; staying in one way is open to both."""
    staying = scan.in_all_s - max((float(on.sum()) for on in scan.on.values()), default=0.0)
    return min(float(best.seconds_lost[0]), staying) - min(found.lost_s, staying)


def walked_s(best: SplitBest, scan: Scan) -> float:
    """What the scan says that the search's own start loses."""
    rows = (int(best.from_row[0]), int(best.from_k[0])), (int(best.to_row[0]), int(best.to_k[0]))
    before, after = ((NAMES[POSTURES[row]], k) for row, k in rows)
    return scan.in_all_s - scan.kept(before, after, float(best.start_utc_s[0]))


MOUNTS = st.builds(
    Mount,
    tilt=st.just(Tilt()) | st.builds(Tilt, angle_deg=st.floats(0.2, 6.0), toward_deg=st.floats(0.0, 360.0)),
    azimuth=st.builds(
        AzimuthAxis,
        travel_deg=st.sampled_from([90.0, 300.0, 360.0, 360.0, 400.0, 450.0]),
        guard_deg=st.sampled_from([0.0, 5.0]),
        rate_deg_s=st.floats(2.0, 12.0),
        rate_back_deg_s=st.none() | st.floats(2.0, 12.0),
        acceleration_deg_s2=st.none() | st.floats(0.5, 20.0),
    ),
    elevation=st.builds(
        ElevationAxis,
        maximum_deg=st.sampled_from([90.0, 90.0, 180.0]),
        rate_deg_s=st.floats(1.0, 6.0),
        rate_back_deg_s=st.none() | st.floats(1.0, 6.0),
        acceleration_deg_s2=st.none() | st.floats(0.5, 20.0),
    ),
    drive=st.builds(Drive, both_axes_at_once=st.booleans(), settle_s=st.sampled_from([0.0, 0.0, 3.0, 10.0])),
)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    recipe=recipes(kinds=("fast",)),
    mount=MOUNTS,
    zeta=st.floats(0.0, 360.0),
    half_beam=st.sampled_from([3.0, 8.0, 15.0]),
)
def test_no_start_second_of_any_pair_of_ways_loses_less(
    recipe: Recipe, mount: Mount, zeta: float, half_beam: float
) -> None:
    pass_ = make(recipe)
    assume(pass_ is not None)
    track = mount_track(pass_, mount.tilt)
    best, scan, found = both_ways(track, mount, pass_.stretches, zeta, half_beam)
    assert apart_s(best, scan, found) < 1.0
    if np.isfinite(best.seconds_lost[0]):
        assert best.seconds_lost[0] == pytest.approx(walked_s(best, scan), abs=1.0)


def swing(peak_deg: float = 40.0, seconds: int = 600) -> Pass:
    """A pass from bearing 100 clockwise to 260, slow at first and quick at last, highest in the middle."""
    share = np.linspace(0.0, 1.0, seconds + 1)
    utc_s = 1_000_000_000.0 + np.arange(seconds + 1.0)
    return from_angles(100.0 + 160.0 * share**2, 10.0 + (peak_deg - 10.0) * np.sin(np.pi * share), utc_s)


#: Both its stops lie at bearing 215, which the swing meets after 508 s.
LATE = Mount(
    azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=0.0, rate_deg_s=6.0),
    elevation=ElevationAxis(maximum_deg=90.0),
    keyway_bearing_deg=215.0,
)


def test_a_start_before_the_guard_is_met_can_win() -> None:
    """While the satellite is near the zenith the beam holds it wherever azimuth is: then is when to turn."""
    pass_ = swing(peak_deg=82.0)
    track = mount_track(pass_, LATE.tilt)
    antennas = (Antenna(beamwidth_deg=2.0 * HALF_BEAM),)
    check = check_pass(pass_, track, Station(LATE, antennas))
    split = check.split
    assert check.verdict == "split"
    assert split is not None
    assert split.stop_met_utc_s is not None
    assert split.lost_waiting_s is not None
    assert split.stop_met == "clockwise stop"
    assert split.start_utc_s < split.stop_met_utc_s - 60.0
    _best, scan, found = both_ways(track, LATE, pass_.stretches, 215.0)
    assert check.seconds_lost == pytest.approx(found.lost_s, abs=1.0)
    waited = scan.in_all_s - scan.kept(found.before, found.after, split.stop_met_utc_s)
    assert split.lost_waiting_s == pytest.approx(waited, abs=1.0)
    assert waited > found.lost_s + 20.0
    said = reason_for(check, track, Station(LATE, antennas)).text
    assert f"leave it at {clock(split.start_utc_s)}" in said
    assert (
        f"the clockwise stop at {clock(split.stop_met_utc_s)} would lose {split.lost_waiting_s:.0f} s."
        in said
    )


def test_a_move_can_keep_what_neither_way_does() -> None:
    """Chased near the zenith azimuth lags; turning back instead, within the beam at the top, it does not."""
    pass_ = make(Recipe(low_orbit(1000.0, 89.8, 20.0, 1.0, 47.0)))
    assert pass_ is not None
    mount = Mount(
        azimuth=AzimuthAxis(travel_deg=540.0, guard_deg=5.0, rate_deg_s=5.5),
        elevation=ElevationAxis(maximum_deg=90.0),
        keyway_bearing_deg=40.0,
    )
    track = mount_track(pass_, mount.tilt)
    steered = steer(track, mount, "chased")
    best = best_splits(track, steered, mount, {p: np.array([40.0]) for p in POSTURES}, 3.0)
    scan = Scan(
        told_of(track, steered, mount, pass_.stretches),
        drive_of(mount),
        dict.fromkeys(NAMES.values(), 40.0),
        3.0,
    )
    found = scan.best()
    staying = scan.in_all_s - max(float(on.sum()) for on in scan.on.values())
    assert found.lost_s < staying - 5.0
    assert best.seconds_lost[0] == pytest.approx(found.lost_s, abs=1.0)


def test_a_gap_in_the_mask_is_a_free_moment() -> None:
    """Hidden for long enough, the move costs nothing; and it is made inside the gap."""
    pass_ = swing()
    track = mount_track(pass_, LATE.tilt)
    gap = track.utc_s[0] + np.array([470.0, 550.0])
    hidden = (track.utc_s >= gap[0]) & (track.utc_s <= gap[1])
    shown = np.where(hidden[:-1] & hidden[1:], 0.0, track.interval_s)
    gapped = MountTrack(track.utc_s, track.azimuth_deg, track.elevation_deg, shown, ~hidden)
    zetas = {p: np.array([215.0]) for p in POSTURES}
    best = best_splits(gapped, steer(gapped, LATE), LATE, zetas, HALF_BEAM)
    assert best.seconds_lost[0] < 0.6
    assert gap[0] - 4.0 < best.start_utc_s[0] < gap[1]


def test_settling_costs_its_seconds() -> None:
    track = mount_track(swing(), LATE.tilt)
    offsets = posture_shift_deg("upright") - 215.0 + 360.0 * np.array([1.0, 0.0])
    row = np.zeros(1, dtype=np.intp)
    moves = Moves(row, row, row, offsets[:1], offsets[1:], np.array([520.0]))
    kept = []
    for settle_s in (0.0, 7.0):
        mount = LATE.model_copy(update={"drive": Drive(settle_s=settle_s)})
        passes = FollowedPasses((track,), (steer(track, mount),), mount, HALF_BEAM)
        kept.append(seconds_kept(passes, moves, 240)[0])
    assert kept[0] - kept[1] == pytest.approx(7.0, abs=0.1)


def test_over_the_zenith_a_change_of_posture_turns_no_azimuth() -> None:
    """Past the zenith upright and over the top share m: going on through it costs nothing."""
    track = overhead(89.95)
    mount = Mount(azimuth=AzimuthAxis(travel_deg=200.0, rate_deg_s=6.0))
    zetas = {p: np.array([200.0]) for p in POSTURES}
    best = best_splits(track, steer(track, mount), mount, zetas, HALF_BEAM)
    assert best.seconds_lost[0] == 0.0
    assert (best.from_row[0], best.to_row[0]) in {(0, 1), (1, 0)}


def test_a_pass_inside_the_travel_has_no_split() -> None:
    share = np.linspace(0.0, 1.0, 1201)
    track = track_of(40.0 + 150.0 * share, 8.0 + 25.0 * np.sin(np.pi * share))
    mount = Mount(azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=5.0))
    best = best_splits(track, steer(track, mount), mount, {p: np.zeros(1) for p in POSTURES}, HALF_BEAM)
    assert best.seconds_lost[0] == np.inf
    assert np.isnan(best.start_utc_s[0])


def test_what_is_to_be_beaten_is_beaten_or_nothing_is_said() -> None:
    pass_ = swing()
    track = mount_track(pass_, LATE.tilt)
    zetas = {p: np.full(3, 215.0) for p in POSTURES}
    steered = steer(track, LATE)
    least = float(best_splits(track, steered, LATE, zetas, HALF_BEAM).seconds_lost[0])
    beat = np.array([least + 5.0, least - 0.5, np.inf])
    found = best_splits(track, steered, LATE, zetas, HALF_BEAM, beat)
    assert list(np.isfinite(found.seconds_lost)) == [True, False, True]
    assert found.seconds_lost[0] == found.seconds_lost[2] == least


def test_many_seats_at_once_are_each_alone() -> None:
    track = mount_track(swing(), LATE.tilt)
    steered = steer(track, LATE)
    zetas = np.arange(0.0, 360.0, 20.0)
    together = best_splits(track, steered, LATE, dict.fromkeys(POSTURES, zetas), HALF_BEAM)
    assert np.isfinite(together.seconds_lost).any()
    for row, zeta in enumerate(zetas):
        alone = best_splits(track, steered, LATE, {p: np.array([zeta]) for p in POSTURES}, HALF_BEAM)
        assert together.seconds_lost[row] == pytest.approx(alone.seconds_lost[0], abs=1.0)
