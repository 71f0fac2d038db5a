"""The best path under two rate limits against a plain grid search of 0.25 deg and 0.5 s."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from core.mount.check.ways import offset_deg, ways_of
from core.mount.drive.aim import aim, off_boresight_deg
from core.mount.drive.motion import steer
from core.mount.drive.tracks import MountTrack, mount_track
from core.mount.model.chain import axis_elevation_deg
from core.mount.model.station import (
    OVER_THE_TOP,
    Antenna,
    AzimuthAxis,
    ElevationAxis,
    Mount,
    Posture,
    Station,
)
from core.mount.steering.best_path import BestPath, best_path
from core.mount.steering.runs import STRATEGIES, study_steering
from core.mount.steering.zenith import through_the_zenith
from tests.oracles.pass_maker import Orbit, Recipe, low_orbit
from tests.oracles.path_grid import STEP_S, Axes, least_worst_error

#: How far the best path may be from the grid's, either way.
AGREES_DEG = 0.2


@dataclass(frozen=True)
class Case:
    """One pass on one mount; rates are whole cells of the grid a step, so that the grid loses none."""

    height_km: float
    peak_deg: float
    heading_deg: float
    azimuth_rate: float
    elevation_rate: float = 2.5
    maximum_deg: float = 180.0
    travel_deg: float = 450.0
    keyway_deg: float = 0.0
    gaps: tuple[tuple[float, float], ...] = ()

    def mount(self) -> Mount:
        return Mount(
            keyway_bearing_deg=self.keyway_deg,
            azimuth=AzimuthAxis(rate_deg_s=self.azimuth_rate, travel_deg=self.travel_deg),
            elevation=ElevationAxis(rate_deg_s=self.elevation_rate, maximum_deg=self.maximum_deg),
        )

    def recipe(self) -> Recipe:
        side = 1.0 if int(self.heading_deg) % 2 else -1.0
        orbit = low_orbit(self.height_km, self.peak_deg, self.heading_deg, side, 50.0)
        return Recipe(orbit, gaps=self.gaps)

    def track(self) -> MountTrack:
        return mount_track(self.recipe().pass_, self.mount().tilt)


def drawn(count: int, seed: int) -> list[Case]:
    """Passes above 80 deg that some azimuth rate is too slow for."""
    random = np.random.default_rng(seed)
    return [
        Case(
            height_km=float(random.uniform(350.0, 1200.0)),
            peak_deg=float(random.uniform(80.0, 89.8)),
            heading_deg=float(random.integers(0, 360)),
            azimuth_rate=float(random.choice([2.0, 3.0, 4.0, 6.0])),
            elevation_rate=float(random.choice([0.5, 1.0, 2.5, 2.5, 2.5])),
            maximum_deg=float(random.choice([90.0, 180.0, 180.0, 180.0])),
            travel_deg=float(random.choice([360.0, 450.0])),
            keyway_deg=float(random.integers(0, 360)),
            gaps=() if random.random() < 0.7 else ((0.3, 0.36),),
        )
        for _ in range(count)
    ]


#: An overhead pass, one below it, a slow azimuth, a slow elevation, no over the top, a hidden part, a stop.
SAMPLE = [
    Case(500.0, 88.5, 30.0, 3.0),
    Case(500.0, 85.0, 31.0, 6.0),
    Case(800.0, 83.0, 200.0, 3.0, elevation_rate=1.0),
    Case(400.0, 87.0, 201.0, 3.0, elevation_rate=0.5),
    Case(500.0, 85.0, 30.0, 3.0, maximum_deg=90.0),
    Case(600.0, 86.0, 120.0, 3.0, gaps=((0.47, 0.5),)),
    Case(500.0, 86.0, 101.0, 3.0, travel_deg=360.0, keyway_deg=100.0),
]


def way_of(case: Case, track: MountTrack) -> tuple[Posture, float] | None:
    """The first way that holds, and what it adds to azimuth."""
    mount = case.mount()
    for way in ways_of(track, Station(mount, (Antenna(),))):
        plain = offset_deg(mount, way.posture, 0)
        turns = way.turn - np.floor((track.azimuth_deg[0] + plain + 1e-6) / 360.0)
        return way.posture, plain + 360.0 * float(turns)
    return None


def by_grid(case: Case, track: MountTrack, posture: Posture, offset: float, enough: float) -> float:
    utc_s = np.arange(track.utc_s[0], track.utc_s[-1] + 1e-6, STEP_S)
    base = offset - (180.0 if posture == OVER_THE_TOP else 0.0)
    azimuth, elevation = np.radians(track.azimuth_deg + base), np.radians(track.elevation_deg)
    parts = (np.sin(azimuth) * np.cos(elevation), np.cos(azimuth) * np.cos(elevation), np.sin(elevation))
    unit = np.stack([np.interp(utc_s, track.utc_s, part) for part in parts], axis=1)
    unit /= np.linalg.norm(unit, axis=1)[:, None]
    counts = np.interp(utc_s, track.utc_s, track.worked.astype(float)) > 0.0
    start = float(track.azimuth_deg[0]) + offset
    e_start = float(axis_elevation_deg(track.elevation_deg[:1], posture)[0])
    axes = Axes(3.0, case.travel_deg - 3.0, 0.0, case.maximum_deg, case.azimuth_rate, case.elevation_rate)
    return least_worst_error(utc_s, unit, counts, axes, (start, e_start), enough)


def candidates(case: Case, track: MountTrack, posture: Posture, offset: float) -> list[tuple]:
    mount = case.mount()
    done = [aim(track, steer(track, mount, name), posture, np.array([offset]), mount) for name in STRATEGIES]
    paths = [(one.m_deg[0], one.e_deg[0]) for one in done]
    if case.maximum_deg > 90.0:
        paths.append(through_the_zenith(track, mount, posture, offset))
    return paths


def disagreement(case: Case) -> str:
    """Empty where best path and grid agree, and the path keeps to all that it should."""
    track = case.track()
    found = way_of(case, track)
    if found is None:
        return ""
    posture, offset = found
    others = candidates(case, track, posture, offset)
    best = best_path(track, case.mount(), offset, posture == OVER_THE_TOP, tuple(others))
    if best is None:
        return f"{case}: no path"
    wrong = broken(case, track, posture, offset, best)
    grid = by_grid(case, track, posture, offset, best.worst_deg + AGREES_DEG)
    if not abs(grid - best.worst_deg) <= AGREES_DEG:
        wrong += f" worst {best.worst_deg:.3f}, by the grid {grid:.3f}"
    base = offset - (180.0 if posture == OVER_THE_TOP else 0.0)
    for m_deg, e_deg in others:
        off = off_boresight_deg(m_deg - track.azimuth_deg - base, e_deg, track.elevation_deg)
        if off[track.worked].max() < best.worst_deg - 0.02:
            wrong += f" a candidate has {off[track.worked].max():.3f}, not {best.worst_deg:.3f}"
    return f"{case}:{wrong}" if wrong else ""


def broken(case: Case, track: MountTrack, posture: Posture, offset: float, best: BestPath) -> str:
    steps = np.diff(best.utc_s)
    wrong = ""
    if (
        np.abs(np.diff(best.m_deg)).max() > 0
        and (np.abs(np.diff(best.m_deg)) > case.azimuth_rate * steps + 1e-6).any()
    ):
        wrong += " azimuth too fast"
    if (np.abs(np.diff(best.e_deg)) > case.elevation_rate * steps + 1e-6).any():
        wrong += " elevation too fast"
    if best.m_deg.min() < 3.0 - 1e-6 or best.m_deg.max() > case.travel_deg - 3.0 + 1e-6:
        wrong += " past a guard"
    if best.e_deg.min() < -1e-6 or best.e_deg.max() > case.maximum_deg + 1e-6:
        wrong += " past an elevation limit"
    base = offset - (180.0 if posture == OVER_THE_TOP else 0.0)
    m_deg, e_deg = (np.interp(track.utc_s, best.utc_s, axis) for axis in (best.m_deg, best.e_deg))
    off = off_boresight_deg(m_deg - track.azimuth_deg - base, e_deg, track.elevation_deg)
    if off[track.worked].max() > best.worst_deg + 0.02 or best.proven_deg > best.worst_deg + 1e-9:
        wrong += " worse than told"
    return wrong


@pytest.mark.parametrize("case", SAMPLE, ids=str)
def test_the_best_path_is_as_good_as_the_grids(case: Case) -> None:
    assert disagreement(case) == ""


@pytest.mark.long
def test_the_best_path_is_as_good_as_the_grids_on_many_passes() -> None:
    assert [wrong for wrong in map(disagreement, drawn(100, 4)) if wrong] == []


def test_least_motion_comes_second() -> None:
    """Held is as good as the best path here, and the best path moves no more than held."""
    case = Case(700.0, 88.0, 200.0, 3.0)
    track = case.track()
    found = way_of(case, track)
    assert found is not None
    study = study_steering(case.recipe().pass_, track, Station(case.mount(), (Antenna(),)), *found)
    assert study.best is not None
    held = study.run("held")
    assert held is not None
    held_motion = np.abs(np.diff(held.m_deg)).sum() + np.abs(np.diff(held.e_deg)).sum()
    assert study.best.worst_deg <= held.worst_off_deg + 0.01
    assert study.best.motion_deg <= held_motion + 0.1


def test_a_way_outside_the_guards_has_no_path() -> None:
    case = SAMPLE[0]
    assert best_path(case.track(), case.mount(), -2000.0, False) is None


def test_no_axis_jumps_where_a_wall_is_met_exactly() -> None:
    """A pass on which the tube is no wider than a rounding where two of its intervals part."""
    orbit = Orbit(
        6699.695161871961, 0.0, 0.0, 331.95191545091274, -0.05705860578562749, 25.453077110568984, 1400.0
    )
    turning, keyway = (3.5292508508717217, 7.763109128722515), 162.20602064500324
    mount = Mount(
        keyway_bearing_deg=keyway,
        azimuth=AzimuthAxis(travel_deg=450.0, rate_deg_s=turning[0], rate_back_deg_s=turning[1]),
        elevation=ElevationAxis(maximum_deg=135.0, rate_deg_s=4.518629633575283),
    )
    best = best_path(mount_track(Recipe(orbit).pass_, mount.tilt), mount, -keyway, over_the_top=False)
    assert best is not None
    speed = np.diff(best.m_deg) / np.diff(best.utc_s)
    assert speed.max() <= turning[0] + 1e-6
    assert speed.min() >= -turning[1] - 1e-6


@pytest.mark.parametrize("case", SAMPLE[:3])
def test_few_moments_tell_the_path_and_between_them_it_errs_no_more(case: Case) -> None:
    track = case.track()
    way = way_of(case, track)
    assert way is not None
    posture, offset = way
    best = best_path(track, case.mount(), offset, posture == OVER_THE_TOP)
    assert best is not None
    lasting_s = float(track.utc_s[-1] - track.utc_s[0])
    assert best.utc_s.size < lasting_s  # half a second apart there would be twice as many and the track's own
    m_deg, e_deg = (np.interp(track.utc_s, best.utc_s, axis) for axis in (best.m_deg, best.e_deg))
    base = offset - (180.0 if posture == OVER_THE_TOP else 0.0)
    off = off_boresight_deg(m_deg - (track.azimuth_deg + base), e_deg, track.elevation_deg)
    assert off[track.worked].max() <= best.worst_deg + 0.02
