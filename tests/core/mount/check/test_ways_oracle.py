"""Ways of a pass, and the chain of angles, against brute force by vectors."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from core.passes.track import Pass
from tests.oracles import mount_oracle as oracle
from tests.oracles.pass_maker import Recipe, low_orbit, make, mount_numbers, recipes

#: How near two figures of a way must come: the track's samples against the oracle's denser ones.
NEAR_DEG = 0.02


def the_code() -> SimpleNamespace:
    """The modules under test; the plants hand in faulty ones of the same shape."""
    from core.mount.check import ways
    from core.mount.drive import aim, motion, tracks
    from core.mount.model import chain, station

    return SimpleNamespace(station=station, chain=chain, tracks=tracks, motion=motion, aim=aim, ways=ways)


def core_mount(code: SimpleNamespace, numbers: dict[str, Any]) -> Any:
    """The oracle's plain numbers as the code's mount; hole B is there to be fitted for, never used."""
    station, fitted = code.station, numbers["correction"]
    if fitted is not None:
        fitted = station.SightingCorrection(
            deg=fitted["deg"],
            keyway_bearing_deg=fitted["keyway"],
            index_hole=fitted["hole"],
            posture=fitted["posture"],
        )
    return station.Mount(
        keyway_bearing_deg=numbers["keyway"],
        index_holes=(
            station.IndexHole(name="A", offset_deg=numbers["iota"]),
            station.IndexHole(name="B", offset_deg=77.0),
        ),
        index_hole=numbers["hole"],
        datum_to_stop_deg=numbers["sigma"],
        elevation_unit_offset_deg=numbers["beta"],
        sighting_correction=fitted,
        tilt=station.Tilt(angle_deg=numbers["tau"], toward_deg=numbers["phi"]),
        azimuth=station.AzimuthAxis(
            travel_deg=numbers["travel"], guard_deg=numbers["guard"], rate_deg_s=360.0
        ),
        elevation=station.ElevationAxis(
            minimum_deg=numbers["e_min"], maximum_deg=numbers["e_max"], rate_deg_s=360.0
        ),
    )


def antennas(code: SimpleNamespace, numbers: dict[str, Any]) -> tuple[Any, ...]:
    """The narrowest antenna in the middle of three."""
    beam = numbers["beam"]
    widths = (beam + 25.0, beam, beam + 15.0)
    return tuple(code.station.Antenna(name=f"{width:.1f}", beamwidth_deg=width) for width in widths)


# --- comparisons: each returns what disagrees, in words; empty where all is well -------------------------


def chain_disagreements(code: SimpleNamespace, numbers: dict[str, Any]) -> list[str]:
    """zeta, both stops and the leaning frame against the stacked rotations."""
    mount, found = core_mount(code, numbers), []
    frame = oracle.lean(numbers["tau"], numbers["phi"])
    if not np.allclose(code.chain.tilt_matrix(mount.tilt), frame, atol=1e-12):
        found.append("tilt_matrix")
    for posture in oracle.POSTURES:
        body = oracle.at_the_stop(numbers, posture)
        looks = frame.T @ oracle.boresight(body, np.zeros(1), np.zeros(1))[0]
        wanted = math.degrees(math.atan2(looks[0], looks[1]))
        if _apart(code.chain.zeta_deg(mount, posture), wanted) > 1e-9:
            found.append(
                f"zeta {posture}: {code.chain.zeta_deg(mount, posture)}, by vectors {wanted % 360.0}"
            )
    body = oracle.at_the_stop(numbers, oracle.UPRIGHT)
    for name, m_deg, stop in zip(
        ("counter-clockwise", "clockwise"),
        (0.0, numbers["travel"]),
        code.chain.stop_bearings_deg(mount),
        strict=True,
    ):
        looks = frame.T @ oracle.boresight(body, np.array([m_deg]), np.zeros(1))[0]
        if _apart(stop, math.degrees(math.atan2(looks[0], looks[1]))) > 1e-9:
            found.append(f"{name} stop at {stop}")
    return found


def way_disagreements(
    code: SimpleNamespace, track: Any, sky: oracle.Sky, numbers: dict[str, Any]
) -> list[str] | None:
    """The ways of a pass; None where a decision hangs by too little to be judged."""
    found = oracle.all_candidates(numbers, sky)
    return judged_ways(code, track, found, numbers) if oracle.decided(found, sky) else None


def judged_ways(
    code: SimpleNamespace, track: Any, found: list[oracle.Candidate], numbers: dict[str, Any]
) -> list[str]:
    """The code's ways beside the oracle's."""
    station = code.station.Station(core_mount(code, numbers), antennas(code, numbers))
    ways = code.ways.ways_of(track, station)
    wrong = [f"neither clear nor resting: {way}" for way in ways if way.clear == way.rests]
    left = [one for one in found if one.clear or one.rests]
    for way in ways:
        same = [one for one in left if _same_way(one, way)]
        if not same:
            wrong.append(f"no such way by vectors: {_told(way)}")
            continue
        left.remove(same[0])
        wrong += _figure_disagreements(same[0], way)
    # Holding still at a guard all through, one full circle further off, is the same pointing again.
    wrong += [f"missing: {_told(one)}" for one in left if not _held_all_through(one)]
    keys = [(way.posture, way.turn) for way in ways]
    return wrong + ([f"two ways share posture and turn: {keys}"] if len(set(keys)) < len(keys) else [])


def _apart(a: float, b: float) -> float:
    return abs((a - b + 180.0) % 360.0 - 180.0)


def _same_way(one: oracle.Candidate, way: Any) -> bool:
    return one.posture == way.posture and one.turn == way.turn and one.clear == way.clear


def _held_all_through(one: oracle.Candidate) -> bool:
    return one.rests and one.m_max - one.m_min < 1e-9


def _told(one: Any) -> str:
    return f"{one.posture}, turn {one.turn}, {'clear' if one.clear else 'rests'}"


def _figure_disagreements(one: oracle.Candidate, way: Any) -> list[str]:
    pairs = {
        "m_min": (one.m_min, way.m_min_deg),
        "m_max": (one.m_max, way.m_max_deg),
        "e_min": (one.e_min, way.e_min_deg),
        "e_max": (one.e_max, way.e_max_deg),
        "m_aos": (one.m_aos, way.m_aos_deg),
    }
    wrong = [
        f"{_told(one)}: {name} {theirs:.4f}, by vectors {ours:.4f}"
        for name, (ours, theirs) in pairs.items()
        if abs(ours - theirs) > NEAR_DEG
    ]
    if abs(way.seconds_lost - one.seconds_off) > 0.05:
        wrong.append(f"{_told(one)}: seconds_lost {way.seconds_lost}, by vectors {one.seconds_off}")
    return wrong


def pass_disagreements(code: SimpleNamespace, pass_: Pass, numbers: dict[str, Any]) -> list[str] | None:
    """Chain and ways of one pass on one mount; None where too near to call."""
    track = code.tracks.mount_tracks((pass_,), core_mount(code, numbers).tilt)[0]
    ways = way_disagreements(code, track, oracle.sky_of(pass_, numbers), numbers)
    return None if ways is None else chain_disagreements(code, numbers) + ways


PLAIN: dict[str, Any] = {
    "keyway": 0.0,
    "hole": "A",
    "iota": 0.0,
    "sigma": 0.0,
    "beta": 0.0,
    "correction": None,
    "tau": 0.0,
    "phi": 0.0,
    "travel": 360.0,
    "guard": 5.0,
    "e_min": 0.0,
    "e_max": 90.0,
    "beam": 10.0,
}


# --- a fixed battery, for the plants and for a quick look --------------------------------------------------


def battery(count: int = 96, seed: int = 20241101) -> list[tuple[Pass, dict[str, Any]]]:
    """Passes and mounts drawn once and for all; every other pass ends within 2 deg of a guard."""
    rng, made = np.random.default_rng(seed), []
    while len(made) < count:
        recipe = _battery_recipe(rng, len(made))
        if (pass_ := make(recipe)) is not None:
            made.append((pass_, _battery_mount(rng, pass_, len(made))))
    return made + _special_cases()


def _battery_recipe(rng: np.random.Generator, index: int) -> Recipe:
    height = rng.uniform(350.0, 1500.0)
    peak = rng.choice([rng.uniform(10.0, 80.0), rng.uniform(80.0, 89.5)])
    side, gaps = rng.choice([-1.0, 1.0]), ((0.3, 0.45),) if index % 4 == 3 else ()
    orbit = low_orbit(height, peak, rng.uniform(0.0, 360.0), side, rng.uniform(-60.0, 60.0))
    return Recipe(orbit, gaps=gaps)


def _special_cases() -> list[tuple[Pass, dict[str, Any]]]:
    """What chance seldom brings: a pass all of it near the zenith, and one whose top is hidden."""
    high = Recipe(low_orbit(900.0, 86.0, 20.0, 1.0, 40.0), minimum_deg=76.0)
    topless = Recipe(low_orbit(700.0, 80.0, 200.0, -1.0, 40.0), gaps=((0.25, 0.75),))
    roomy = {**PLAIN, "travel": 540.0, "keyway": 100.0}
    return [
        (high.pass_, {**roomy, "e_max": 88.0, "beam": 40.0}),
        (topless.pass_, {**roomy, "e_max": 60.0, "beam": 16.0}),
    ]


def _battery_mount(rng: np.random.Generator, pass_: Pass, index: int) -> dict[str, Any]:
    keyway = rng.uniform(0.0, 360.0)
    posture = [None, "upright", "over the top"][index % 3]
    fitted = {
        "deg": rng.uniform(4.0, 15.0),
        "keyway": keyway,
        "hole": "AB"[index % 7 == 0],
        "posture": posture,
    }
    if index % 5 == 0:
        fitted["keyway"] += rng.uniform(1.0, 300.0)
    numbers = {
        "keyway": keyway,
        "hole": "A",
        "iota": rng.uniform(-170.0, 170.0),
        "sigma": rng.uniform(-170.0, 170.0),
        "beta": rng.uniform(3.0, 30.0),
        "correction": fitted if index % 2 else None,
        "tau": [0.0, 0.0, 2.0, 4.0][index % 4],
        "phi": rng.uniform(0.0, 360.0),
        "travel": float(rng.choice([360.0, 450.0, 540.0, 330.0])),
        "guard": rng.uniform(0.5, 10.0),
        "e_min": 0.0,
        "e_max": float(rng.choice([60.0, 85.0, 90.0, 150.0, 180.0])),
        "beam": rng.uniform(8.0, 40.0),
    }
    if index % 2 == 0:
        aim_at_guard(pass_, numbers, rng.choice(["low", "high"]), rng.uniform(-2.0, 2.0))
    return numbers


def aim_at_guard(pass_: Pass, numbers: dict[str, Any], end: str, by_deg: float) -> None:
    """Turn the keyway so that the pass, upright, ends ``by_deg`` inside a guard (outside where negative)."""
    m_deg, _e = oracle.follow(numbers, oracle.UPRIGHT, oracle.sky_of(pass_, numbers))
    guard = numbers["guard"]
    room = m_deg.min() - guard if end == "low" else numbers["travel"] - guard - m_deg.max()
    shift = (room - by_deg) * (1.0 if end == "low" else -1.0)
    numbers["keyway"] = (numbers["keyway"] + shift) % 360.0
    if numbers["correction"] is not None:
        numbers["correction"]["keyway"] = (numbers["correction"]["keyway"] + shift) % 360.0


@cache
def judged_battery() -> list[tuple[Pass, dict[str, Any], list[oracle.Candidate]]]:
    """The battery with the oracle's word on it, where that can be given: for at least two thirds."""
    drawn, judged = battery(), []
    for pass_, numbers in drawn:
        sky = oracle.sky_of(pass_, numbers)
        found = oracle.all_candidates(numbers, sky)
        if oracle.decided(found, sky):
            judged.append((pass_, numbers, found))
    assert len(judged) > len(drawn) * 2 // 3
    return judged


def battery_disagreements(code: SimpleNamespace) -> Iterator[str]:
    """All that is wrong in the battery, as it is found."""
    for pass_, numbers, found in judged_battery():
        yield from chain_disagreements(code, numbers)
        track = code.tracks.mount_tracks((pass_,), core_mount(code, numbers).tilt)[0]
        yield from judged_ways(code, track, found, numbers)


# --- exact touches ---------------------------------------------------------------------------------------


def touch_cases() -> dict[str, tuple[dict[str, Any], np.ndarray, np.ndarray, bool]]:
    """Name: (mount, azimuth, elevation, whether upright is clear). Figures chosen to touch to the bit."""
    ramp = np.linspace(0.0, 1.0, 33)
    bulge = 1.0 - (np.linspace(-1.0, 1.0, 33)) ** 2
    level, two = np.full(33, 30.0), {**PLAIN, "guard": 0.0, "beam": 0.1}
    low_limit = {**PLAIN, "e_min": 10.0}
    high_limit = {**PLAIN, "e_max": 60.0}
    cases = {}
    for name, past, inside in (("", 0.0, True), (" 5e-7 past", 5e-7, True), (" 3e-6 past", 3e-6, False)):
        cases[f"both guards{name}"] = (PLAIN, 5.0 - past + (350.0 + 2 * past) * ramp, level, inside)
        cases[f"turning at the clockwise guard{name}"] = (
            PLAIN,
            255.0 + (100.0 + past) * bulge,
            level,
            inside,
        )
        cases[f"turning at the other guard{name}"] = (PLAIN, 105.0 - (100.0 + past) * bulge, level, inside)
        cases[f"the stops themselves{name}"] = (two, -past + (359.0 + past) * ramp, level, inside)
        cases[f"elevation minimum{name}"] = (
            low_limit,
            50.0 + 100.0 * ramp,
            50.0 - (40.0 + past) * bulge,
            inside,
        )
        cases[f"elevation maximum{name}"] = (
            high_limit,
            50.0 + 100.0 * ramp,
            20.0 + (40.0 + past) * bulge,
            inside,
        )
    return cases


def touch_disagreements(code: SimpleNamespace, name: str) -> list[str]:
    """One case of a touch; the oracle must say what the case says, and the code what the oracle says."""
    numbers, azimuth, elevation, inside = touch_cases()[name]
    utc = np.arange(azimuth.size, dtype=float)
    track = code.tracks.MountTrack(
        utc_s=utc,
        azimuth_deg=azimuth,
        elevation_deg=elevation,
        interval_s=np.ones(azimuth.size - 1),
        worked=np.ones(azimuth.size, dtype=bool),
    )
    sky = oracle.sky_from_angles(numbers, azimuth, elevation, utc)
    clear = any(one.clear for one in oracle.candidates(numbers, sky, oracle.UPRIGHT))
    assert clear == inside, "the case does not say what it means to"
    station = code.station.Station(core_mount(code, numbers), antennas(code, numbers))
    ways = code.ways.ways_of(track, station)
    said = any(way.clear and way.posture == oracle.UPRIGHT for way in ways)
    return [] if said == inside else [f"{name}: clear is {said}, by vectors {inside}"]


# --- tests -------------------------------------------------------------------------------------------------


def test_battery_agrees():
    assert list(battery_disagreements(the_code())) == []


@pytest.mark.parametrize("name", sorted(touch_cases()))
def test_exact_touch_is_inside(name):
    assert touch_disagreements(the_code(), name) == []


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    recipe=recipes(),
    numbers=mount_numbers(),
    end=st.sampled_from(["", "low", "high"]),
    by_deg=st.one_of(st.floats(-3.0, 3.0), st.floats(-25.0, 25.0)),
)
def test_ways_agree(recipe, numbers, end, by_deg):
    pass_ = recipe.pass_
    if end:
        aim_at_guard(pass_, numbers, end, by_deg)
    wrong = pass_disagreements(the_code(), pass_, numbers)
    assume(wrong is not None)
    assert wrong == []


@settings(max_examples=100, deadline=None)
@given(numbers=mount_numbers())
def test_chain_agrees(numbers):
    assert chain_disagreements(the_code(), numbers) == []


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    recipe=recipes(kinds=("fast",)),
    numbers=mount_numbers(),
    end=st.sampled_from(["low", "high"]),
    by_deg=st.floats(-120.0, 10.0),
)
def test_seconds_off_the_beam_agree(recipe, numbers, end, by_deg):
    """Of every full circle the pointing could begin in, ways or not: pointing held to guards and limits."""
    code, pass_ = the_code(), recipe.pass_
    aim_at_guard(pass_, numbers, end, by_deg)
    mount, sky = core_mount(code, numbers), oracle.sky_of(pass_, numbers)
    assume(sky.nearest_axis_deg > 0.05)
    track = code.tracks.mount_tracks((pass_,), mount.tilt)[0]
    steered = code.motion.steer(track, mount, "led")
    for one in oracle.all_candidates(numbers, sky):
        offset = one.free_m_aos - track.azimuth_deg[0]
        aimed = code.aim.aim(track, steered, one.posture, np.array([offset]), mount)
        seconds = float(code.aim.seconds_off(track, aimed.off_deg, numbers["beam"] / 2.0)[0])
        assert seconds == pytest.approx(one.seconds_off, abs=0.6)
