"""Coarse starts that are passed over, against what each of them would keep."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from core.mount.check.followed import FollowedPasses, ragged
from core.mount.check.idle_starts import not_idle
from core.mount.check.split_columns import Starts, Ways
from core.mount.check.split_moves import Moves, seconds_kept
from core.mount.check.split_passes import QUICK, SearchedPasses
from core.mount.check.ways import offsets_deg, possible_postures, turns_at
from core.mount.drive.motion import steer_all
from core.mount.drive.tracks import mount_track, mount_tracks
from core.mount.model.chain import posture_shift_deg
from core.mount.model.station import POSTURES, AzimuthAxis, Drive, ElevationAxis, Mount
from core.passes.track import Pass
from tests.oracles.pass_maker import Orbit, Recipe, from_angles, make, recipes
from tests.seat_evening import seat_evening

MOUNTS = st.builds(
    Mount,
    azimuth=st.builds(
        AzimuthAxis,
        travel_deg=st.sampled_from([330.0, 360.0, 400.0]),
        guard_deg=st.sampled_from([0.0, 5.0]),
        rate_deg_s=st.floats(2.0, 12.0),
        rate_back_deg_s=st.none() | st.floats(2.0, 12.0),
        acceleration_deg_s2=st.none() | st.floats(0.5, 20.0),
    ),
    elevation=st.builds(ElevationAxis, maximum_deg=st.sampled_from([90.0, 180.0])),
    drive=st.builds(Drive, both_axes_at_once=st.booleans(), settle_s=st.sampled_from([0.0, 0.0, 5.0])),
)


def kept_by_starts(
    pass_: Pass, mount: Mount, zeta_deg: float, half_beam: float
) -> list[tuple[np.ndarray, np.ndarray]]:
    """Of each pair of ways what each coarse start keeps, and whether it is not passed over."""
    track = mount_track(pass_, mount.tilt)
    passes = FollowedPasses((track,), steer_all((track,), mount), mount, half_beam)
    search = SearchedPasses(passes, QUICK)
    found = [
        (row, k)
        for row, posture in enumerate(possible_postures(mount))
        for first, last in zip(
            *turns_at(passes.low_deg, passes.high_deg, mount, np.array([zeta_deg]), posture), strict=True
        )
        for k in range(int(first), int(last) + 1)
    ]
    row, k = (np.array(side, dtype=np.intp) for side in zip(*found, strict=True))
    offset = offsets_deg(np.full(k.size, zeta_deg), POSTURES[0], 0) + 360.0 * k
    offset = offset + [posture_shift_deg(POSTURES[one]) for one in row]
    ways, of_pass = Ways(0 * row, row, k, offset), 0 * row
    first, second = np.nonzero(~np.eye(k.size, dtype=bool))
    pairs = Starts(first, second, np.zeros(first.size), np.zeros(first.size))
    grid_s, _first, count = search.grid
    pair, start = ragged(0 * first, np.full(first.size, count[0]))
    good = np.zeros(pair.size, dtype=bool)
    kept = passes.kept_along(of_pass, row, offset)
    good[not_idle(search, kept, of_pass, ways, pairs, pair, start)] = True
    one, other = first[pair], second[pair]
    moves = Moves(of_pass[one], row[one], row[other], offset[one], offset[other], grid_s[start])
    kept_s = seconds_kept(passes, moves, 200).reshape(first.size, count[0])
    return list(zip(kept_s, good.reshape(first.size, count[0]), strict=True))


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    recipe=recipes(kinds=("fast",)),
    mount=MOUNTS,
    zeta=st.floats(0.0, 360.0),
    half_beam=st.sampled_from([3.0, 8.0, 15.0, 25.0]),
)
def test_no_start_passed_over_keeps_more_than_every_other(
    recipe: Recipe, mount: Mount, zeta: float, half_beam: float
) -> None:
    pass_ = make(recipe)
    assume(pass_ is not None)
    for kept_s, good in kept_by_starts(pass_, mount, zeta, half_beam):
        assert kept_s[good].max(initial=0.0) > kept_s.max() - 0.2


def test_a_start_is_early_only_if_the_mount_has_settled_before_the_second_way_keeps_anything() -> None:
    """Left as the mask hides it, the satellite is met again with the mount settled; left later it is not."""
    orbit = Orbit(6671.0, 0.0, 0.0, 35.0, -9.366990611209264, 0.0, 1400.0, True)
    pass_ = make(Recipe(orbit, 0.0, ((0.5, 0.75),), 1))
    assert pass_ is not None
    azimuth = AzimuthAxis(travel_deg=300.0, guard_deg=0.0, rate_deg_s=2.0)
    mount = Mount(azimuth=azimuth, elevation=ElevationAxis(maximum_deg=90.0), drive=Drive(settle_s=10.0))
    for kept_s, good in kept_by_starts(pass_, mount, 0.0, 3.0):
        assert kept_s[good].max(initial=0.0) > kept_s.max() - 0.2


def test_of_real_passes_most_starts_are_passed_over() -> None:
    plan, result, _study = seat_evening()
    mount = plan.mount.model_copy(update={"elevation": ElevationAxis(maximum_deg=90.0)})
    asked = [
        good
        for pass_ in result.passes
        if mount_tracks((pass_,), mount.tilt)[0].elevation_deg.max() < 60.0
        for _kept, good in kept_by_starts(pass_, mount, 200.0, 10.0)
    ]
    assert np.concatenate(asked).mean() < 0.5


def passed_over(mount: Mount, gaps: tuple[tuple[float, float], ...] = (), peak_deg: float = 30.0) -> int:
    """How many coarse starts of a low pass that crosses a stop are passed over."""
    share = np.linspace(0.0, 1.0, 601)
    elevation = 5.0 + (peak_deg - 5.0) * np.sin(np.pi * share)
    pass_ = from_angles(100.0 + 160.0 * share, elevation, 1e9 + np.arange(601.0))
    if gaps:
        stretches = tuple((1e9 + start, 1e9 + end) for start, end in gaps)
        pass_ = replace(pass_, stretches=stretches)
    return sum(int((~good).sum()) for _kept, good in kept_by_starts(pass_, mount, 180.0, 10.0))


UPRIGHT_ALONE = Mount(
    azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=0.0, rate_deg_s=6.0),
    elevation=ElevationAxis(maximum_deg=90.0),
)


def driven(**drive: object) -> Mount:
    return UPRIGHT_ALONE.model_copy(update={"drive": Drive.model_validate(drive)})


def test_none_is_passed_over_where_elevation_waits_for_azimuth() -> None:
    assert passed_over(UPRIGHT_ALONE) > 20
    assert passed_over(driven(both_axes_at_once=False)) == 0


def test_fewer_are_passed_over_by_the_zenith_though_it_is_hidden() -> None:
    gaps = ((0.0, 200.0), (400.0, 600.0))
    assert passed_over(UPRIGHT_ALONE, gaps, 88.0) < passed_over(UPRIGHT_ALONE, gaps) - 10


def test_settling_in_a_gap_costs_nothing_so_that_waiting_for_one_is_tried() -> None:
    gaps = ((0.0, 200.0), (260.0, 600.0))
    assert passed_over(driven(settle_s=5.0), gaps) < passed_over(UPRIGHT_ALONE, gaps) - 5
    assert passed_over(driven(settle_s=5.0)) == passed_over(UPRIGHT_ALONE)
