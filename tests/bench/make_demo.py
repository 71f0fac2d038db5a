"""Makes the demo plan: an invented site, station, constellation and evening, always the same to the byte.

    python -m tests.bench.make_demo                  writes resources/demo/larch_ridge.northkey.json
    python -m tests.bench.make_demo --search 0 9000  prints constellations in which the demo's story happens

Nothing of this runs when the program runs. Every number of the station and of the site is chosen here; the
constellation's nodes and phases are drawn from a seed. The seed, the picks and how far the stop lies from the
keyway were taken by hand from what the search printed. The story is what tests/core/test_demo.py asserts.
"""

from __future__ import annotations

import argparse
import itertools
import json
import math
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from core.base.angles import Flags
from core.base.times import clock
from core.base.units import DAY_S
from core.mount.check.verdict import check_passes
from core.mount.check.ways import reach_of
from core.mount.drive.tracks import MountTrack, mount_tracks
from core.mount.model.chain import zeta_deg
from core.mount.model.station import OVER_THE_TOP, POSTURES, UPRIGHT, Mount, Posture, Station
from core.mount.seat.arcs import clear_arcs, holds, resting_arcs
from core.mount.seat.study import study_seat
from core.passes.track import Pass, predict
from core.plan.document import Plan
from tests.bench.demo_radio import TRANSPONDERS
from tests.bench.demo_stand import STAND

DEMO_FILE = Path(__file__).resolve().parents[2] / "resources" / "demo" / "larch_ridge.northkey.json"

#: From the search: the constellation's seed, zeta with the keyway to the north and hole A, and the picks.
SEED = 1236
ZETA_AT_NORTH_DEG = 31.0
#: Satellite, peak (UTC), worth.
PICKS = (
    ("CEDAR-3", "16:06:46", 1.0),
    ("ALDER-1", "17:01:53", 1.0),
    ("FURROW-1", "17:21:25", 2.0),
    ("EMBER-1", "17:33:37", 3.0),
    ("CEDAR-3", "17:46:50", 1.0),
    ("ALDER-3", "17:49:13", 1.5),
    ("EMBER-3", "18:11:15", 3.0),
    ("ALDER-1", "18:35:56", 0.5),
    ("GORSE-2", "18:54:22", 2.0),
    ("FURROW-1", "19:06:37", 1.0),
    ("EMBER-1", "19:11:08", 2.5),
    ("EMBER-3", "19:48:29", 1.0),
)

#: Hole and iota. Hole A's follows from the figures below it.
HOLE_OFFSETS_DEG = {"A": -30.0, "B": 15.0, "C": 90.0}
ELEVATION_UNIT_OFFSET_DEG = 1.5

#: Name, height in km, inclination in degrees, catalogue number. No real satellite has these names or numbers.
CONSTELLATION = (
    ("ALDER-1", 510.0, 97.4, 990001),
    ("ALDER-3", 505.0, 97.4, 990002),
    ("BRIAR-2", 1150.0, 66.0, 990003),
    ("CEDAR-1", 820.0, 98.7, 990004),
    ("CEDAR-3", 835.0, 98.7, 990005),
    ("DROVE-2", 1380.0, 74.0, 990006),
    # Numbers of nine digits are on their way, and everything here must have room for them.
    ("EMBER-1", 445.0, 51.6, 990000007),
    ("EMBER-3", 455.0, 53.2, 990000008),
    ("FLINT-2", 610.0, 97.8, 990009),
    ("FURROW-1", 980.0, 82.5, 990010),
    ("STOOK-4", 560.0, 63.4, 990011),
    ("TANSY-1", 700.0, 58.0, 990012),
    ("GORSE-2", 1230.0, 70.5, 990013),
    ("SORREL-5", 900.0, 99.0, 990014),
)

#: Bearing and elevation. Open along the ridge to the north and south, wood to the east and west: 160 deg of
#: elevation let only those passes go over the top that rise and set over the wood.
HORIZON = (
    (0, 4), (22, 5), (34, 14), (42, 21), (60, 23), (84, 22), (104, 21), (116, 14), (126, 5), (150, 3),
    (190, 4), (228, 5), (240, 15), (250, 21), (270, 23), (285, 22),
    # A spruce by itself: what goes down low in the west goes behind it and comes out again.
    (287.5, 31), (291.5, 31), (294, 22),
    (296, 22), (314, 21), (322, 14), (332, 5), (345, 4),
)  # fmt: skip

#: The adapter: every dimension invented.
PLATE = {
    "material": "6082-T6",
    "thickness_mm": 20.0,
    "outside_diameter_mm": 190.0,
    "step": {
        "inner_diameter_mm": 36.0,
        "outer_diameter_mm": 58.0,
        "height_mm": 4.0,
        "side": "below",
        "clearance_mm": 0.08,
    },
    "bolts": {
        "thread": "M6",
        "count": 6,
        "circle_diameter_mm": 150.0,
        "first_angle_deg": 15.0,
        "points_mm": None,
        "head": "ISO 4762",
        "counterbore_side": "below",
    },
    "centre_thread": "1/2-13 UNC",
    "clamp": {"strength": "SAE 5", "surface": "lubricated"},
    "index_pin": {"thread": "M6", "circle_radius_mm": 46.0, "strength": "8.8"},
    "keyway": {"width_mm": 10.4, "depth_mm": 7.0, "right_across": False},
    "anodise_um": 10.0,
    "loads": {"boom_mm": 1100.0},
}

#: What was written down on the ridge.
MEASURED_THERE = {
    "landmarks": [
        {
            "name": "Chapel on the saddle",
            "latitude_deg": 47.2211,
            "longitude_deg": 9.1402,
            "height_m": 1642.0,
            "sigma_m": 5.0,
        }
    ],
    "level_readings": [
        {"bearing_deg": 0.0, "rise_deg": -0.4},
        {"bearing_deg": 90.0, "rise_deg": 0.2},
    ],
    "compass": {"reading_deg": 357.5, "sigma_deg": 2.0},
    "sightings": [
        {
            "time": "2026-11-27T14:20:00Z",
            "target": "Sun",
            "azimuth_dial_deg": 191.0,
            "elevation_dial_deg": 10.0,
            "came_from": "left",
        },
        {
            "time": "2026-11-27T14:42:00Z",
            "target": "Sun",
            "azimuth_dial_deg": 196.0,
            "elevation_dial_deg": 8.0,
            "came_from": "left",
        },
        {
            "time": "2026-11-27T15:10:00Z",
            "target": "Chapel on the saddle",
            "azimuth_dial_deg": 20.0,
            "elevation_dial_deg": 6.0,
            "came_from": "left",
            "time_round": 2,
        },
        {
            "time": "2026-11-27T17:10:00Z",
            "target": "Polaris",
            "azimuth_dial_deg": 328.0,
            "elevation_dial_deg": 49.0,
            "came_from": "right",
        },
    ],
}

NOTES = (
    "Everything here is invented, satellites and catalogue numbers too: nothing of it flies.\n"
    "The keyway stands north, as it would without a thought: four of the twelve picks are not clear. Turn to "
    "the best, and none needs turning back.\n"
    "Worth a look: FURROW-1 at 18:14 local time then starts where the dial reads the same twice; CEDAR-3 at "
    "18:41 and ALDER-3 at 18:44 are up together; STOOK-4 at 20:23 is left out on purpose: pick it."
)

_MU_KM3_S2, _EARTH_RADIUS_KM = 398_600.8, 6378.135


def element_sets(seed: int) -> list[dict[str, Any]]:
    """The constellation's element sets in OMM keywords, epochs on the morning before the evening."""
    # Only random() itself is promised to give the same numbers in every version of Python.
    draw = random.Random(seed).random
    return [_element_set(entry, draw) for entry in CONSTELLATION]


def _element_set(entry: tuple[str, float, float, int], draw: Callable[[], float]) -> dict[str, Any]:
    name, height_km, inclination_deg, norad_id = entry
    day_s = 7200.0 + 25_200.0 * draw()
    clock = f"{int(day_s // 3600):02d}:{int(day_s // 60) % 60:02d}:{day_s % 60:09.6f}".rstrip("0").rstrip(".")
    mean_motion = DAY_S / (2.0 * math.pi) * math.sqrt(_MU_KM3_S2 / (_EARTH_RADIUS_KM + height_km) ** 3)
    return {
        "OBJECT_NAME": name,
        "EPOCH": f"2026-11-27T{clock}",
        "MEAN_MOTION": round(mean_motion, 8),
        "ECCENTRICITY": round(2e-4 + 2e-3 * draw(), 7),
        "INCLINATION": round(inclination_deg + 0.2 * (draw() - 0.5), 4),
        "RA_OF_ASC_NODE": round(360.0 * draw(), 4),
        "ARG_OF_PERICENTER": round(360.0 * draw(), 4),
        "MEAN_ANOMALY": round(360.0 * draw(), 4),
        "NORAD_CAT_ID": norad_id,
        "ELEMENT_SET_NO": 900 + int(99 * draw()),
        "REV_AT_EPOCH": 1000 + int(40_000 * draw()),
        "BSTAR": round(1e-5 + 8e-5 * draw(), 8),
    }


def build_plan(
    seed: int = SEED,
    zeta_at_north_deg: float = ZETA_AT_NORTH_DEG,
    picks: tuple[tuple[str, str, float], ...] = PICKS,
) -> dict[str, Any]:
    """The plan as it stands in its file. Without arguments it is the demo."""
    numbers = {name: norad_id for name, _height_km, _inclination_deg, norad_id in CONSTELLATION}
    sets = element_sets(seed)
    return {
        "format": "northkey-plan",
        "version": 1,
        "title": "Larch ridge, Friday (demo)",
        "site": {
            "name": "Larch ridge",
            "latitude_deg": 47.2,
            "longitude_deg": 9.1,
            "height_m": 1300.0,
            "time_zone": "Europe/Zurich",
            "minimum_elevation_deg": 5.0,
            "horizon": [{"azimuth_deg": float(az), "elevation_deg": float(el)} for az, el in HORIZON],
        },
        "evening": {"start": "2026-11-27T16:00:00.000Z", "end": "2026-11-27T20:00:00.000Z"},
        "mount": _mount(zeta_at_north_deg),
        "antennas": [
            {"name": "2 m crossed yagi", "frequency_hz": 145.9e6, "beamwidth_deg": 40.0, "skew_deg": 0.0},
            {"name": "70 cm crossed yagi", "frequency_hz": 435.1e6, "beamwidth_deg": 26.0, "skew_deg": 0.0},
        ],
        "satellites": [_satellite(elements) for elements in sets],
        "plate": PLATE,
        "steering": "led",
        "shortest_contact_s": 180.0,
        "picks": [
            {"norad_id": numbers[name], "near": f"2026-11-27T{peak}.000Z", "worth": worth, "way": None}
            for name, peak, worth in picks
        ],
        **MEASURED_THERE,
        "stand": STAND,
        "notes": NOTES,
    }


def _satellite(elements: dict[str, Any]) -> dict[str, Any]:
    name = elements["OBJECT_NAME"]
    heard = {"transponders": TRANSPONDERS[name]} if name in TRANSPONDERS else {}
    return {"name": name, "elements": elements, **heard}


def _mount(zeta_at_north_deg: float) -> dict[str, Any]:
    return {
        "keyway_bearing_deg": 0.0,
        "index_holes": [{"name": name, "offset_deg": iota} for name, iota in HOLE_OFFSETS_DEG.items()],
        "index_hole": "A",
        "datum_to_stop_deg": zeta_at_north_deg - HOLE_OFFSETS_DEG["A"] - ELEVATION_UNIT_OFFSET_DEG,
        "elevation_unit_offset_deg": ELEVATION_UNIT_OFFSET_DEG,
        "sighting_correction": None,
        "tilt": {"angle_deg": 0.0, "toward_deg": 0.0},
        "azimuth": {
            "travel_deg": 400.0,
            "guard_deg": 4.0,
            "rate_deg_s": 5.5,
            "dial_at_stop_deg": 0.0,
            "dial_scale": 1.0,
            "dial_wraps_at_deg": 360.0,
            "dial_wraps_to_deg": 0.0,
            "dial_division_deg": 2.0,
        },
        "elevation": {
            "minimum_deg": 0.0,
            "maximum_deg": 160.0,
            "rate_deg_s": 2.2,
            "dial_offset_deg": 0.0,
            "dial_division_deg": 2.0,
        },
    }


def plan_text(plan: dict[str, Any]) -> str:
    """The file's text."""
    return json.dumps(plan, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


# --- the search -------------------------------------------------------------------------------------------

#: Bearings of the stop that are tried, one a degree.
_ZETA_DEG = np.arange(360.0)
#: Degrees to both sides of the best keyway that must leave nothing lost.
_ROOM_DEG = 4


@dataclass(frozen=True)
class _Sky:
    """An evening's whole passes, and what they ask of the stop: (360, P) each."""

    passes: tuple[Pass, ...]
    tracks: tuple[MountTrack, ...]
    clear: Flags
    held: Flags
    only_over_the_top: Flags


@dataclass(frozen=True)
class _Choice:
    """Picks, and zeta for the best keyway and for the one to the north."""

    picks: tuple[int, ...]
    best_zeta_deg: int
    north_zeta_deg: int
    score: float


def search(seeds: range) -> Iterator[str]:
    """Seeds, stops and picks that tell the story, one line each; some hundred seeds a minute give few."""
    for seed in seeds:
        plan = Plan.model_validate(build_plan(seed, 0.0, ()))
        sky = _sky(plan)
        choices = sorted(_choices(sky, random.Random(seed)), key=lambda choice: -choice.score)
        for choice in choices[:3]:
            told = _told(plan, sky, choice)
            if told:
                yield f"{seed} zeta {choice.north_zeta_deg} {told}"
                break


def _sky(plan: Plan) -> _Sky:
    sets = [satellite.elements for satellite in plan.satellites]
    found, _refused = predict(sets, plan.site, plan.evening.start_utc_s, plan.evening.end_utc_s)
    passes = tuple(pass_ for pass_ in found if pass_.cut is None)
    tracks = mount_tracks(passes, plan.mount.tilt)
    limit = plan.station.beam_limit_deg
    clear: dict[Posture, Flags] = {}
    rest: dict[Posture, Flags] = {}
    for posture in POSTURES:
        reaches = tuple(reach_of(track, posture, plan.mount.elevation, limit) for track in tracks)
        clear[posture] = holds(clear_arcs(reaches, plan.mount.azimuth), _ZETA_DEG)
        rest[posture] = holds(resting_arcs(reaches, plan.mount.azimuth), _ZETA_DEG)
    upright = clear[UPRIGHT] | rest[UPRIGHT]
    return _Sky(
        passes=passes,
        tracks=tracks,
        clear=clear[UPRIGHT] | clear[OVER_THE_TOP],
        held=upright | clear[OVER_THE_TOP] | rest[OVER_THE_TOP],
        only_over_the_top=clear[OVER_THE_TOP] & ~upright,
    )


def _choices(sky: _Sky, chance: random.Random) -> Iterator[_Choice]:
    """Sets of picks in which some stop leaves nothing lost and two opposite ones leave three and more."""
    worthy = [i for i, pass_ in enumerate(sky.passes) if _is_worth_picking(pass_)]
    seen: set[tuple[int, ...]] = set()
    for zeta in range(0, 360, 3):
        fine = [i for i in worthy if _around(sky.clear, zeta)[:, i].all()]
        if len(fine) < 11 or not sky.only_over_the_top[zeta, fine].any():
            continue
        for _ in range(60):
            picks = tuple(sorted(chance.sample(fine, chance.randint(11, min(13, len(fine))))))
            if picks not in seen:
                seen.add(picks)
                yield from _choice(sky, picks)


def _around(table: Flags, zeta: int) -> Flags:
    return np.asarray(table[np.arange(zeta - _ROOM_DEG, zeta + _ROOM_DEG + 1) % 360])


def _choice(sky: _Sky, picks: tuple[int, ...]) -> Iterator[_Choice]:
    chosen = list(picks)
    middle, width = _widest(np.asarray(sky.held[:, chosen].all(axis=1)))
    pairs = len(_together([sky.passes[i] for i in chosen]))
    room = width > 10 and _around(sky.clear, middle)[:, chosen].all()
    if not (room and 1 <= pairs <= 3 and sky.only_over_the_top[middle, chosen].any()):
        return
    lost = (~sky.clear[:, chosen]).sum(axis=1)
    at_least = np.min([np.roll(lost, by) for by in range(-2, 3)], axis=0)
    opposite = np.roll(at_least, -180)
    both = np.where(np.minimum(at_least, opposite) >= 3, at_least + opposite, 0)
    north = int(np.argmax(both))
    if both[north]:
        yield _Choice(picks, middle, north, float(both[north]) + 0.5 * len(picks))


def _widest(flags: Flags) -> tuple[int, int]:
    """Middle and width of the longest run of True round the circle; no run where there is no end to it."""
    if flags.all() or not flags.any():
        return 0, 0
    first = int(np.argmin(flags))
    edges = np.flatnonzero(np.diff(np.concatenate([np.roll(flags, -first), [False]]).astype(int)))
    starts, ends = edges[::2], edges[1::2]
    longest = int(np.argmax(ends - starts))
    return (first + int(starts[longest] + ends[longest] + 1) // 2) % 360, int(ends[longest] - starts[longest])


def _is_worth_picking(pass_: Pass) -> bool:
    seconds = sum(end - start for start, end in pass_.stretches)
    return pass_.peak.elevation_deg > 15.0 and seconds > 150.0


def _together(passes: list[Pass]) -> list[tuple[Pass, Pass]]:
    pairs = itertools.combinations(passes, 2)
    return [(a, b) for a, b in pairs if a.aos.utc_s < b.los.utc_s and b.aos.utc_s < a.los.utc_s]


def _told(plan: Plan, sky: _Sky, choice: _Choice) -> str:
    """The story in figures by exact computation, or nothing where it is not the one that is wanted."""
    passes = tuple(sky.passes[i] for i in choice.picks)
    tracks = tuple(sky.tracks[i] for i in choice.picks)
    offset = plan.mount.datum_to_stop_deg + choice.north_zeta_deg
    north = plan.mount.model_copy(update={"datum_to_stop_deg": offset})
    best = study_seat(passes, tracks, Station(north, plan.antennas)).best
    seated = north.model_copy(update={"keyway_bearing_deg": best.keyway_bearing_deg})
    there = check_passes(passes, tracks, Station(seated, plan.antennas))
    words = {check.verdict for check in there}
    if not all(check.clear_postures for check in there) or words != {UPRIGHT, OVER_THE_TOP}:
        return ""
    second_time = [
        check.pass_.satellite
        for check in there
        if check.chosen and check.chosen.m_aos_deg >= 360.0 and _starts_in_overlap(check.pass_, seated)
    ]
    notched = [pass_.satellite for pass_ in passes if len(pass_.stretches) > 1]
    if not second_time or not notched:
        return ""
    here = check_passes(passes, tracks, Station(north, plan.antennas))
    tally = [check.verdict + (" resting" if check.resting else "") for check in here]
    picks = "\n".join(
        f'    ("{pass_.satellite}", "{clock(pass_.peak.utc_s)}", 1.0),  # {pass_.peak.elevation_deg:.0f} deg'
        for pass_ in passes
    )
    return (
        f"of {len(sky.passes)}; best {best}; second time round {second_time}, notched {notched}, "
        f"north {sum(check.seconds_lost for check in here):.0f} s lost {sorted(tally)}\n{picks}"
    )


def _starts_in_overlap(pass_: Pass, mount: Mount) -> bool:
    axis = mount.azimuth
    past = (pass_.aos.azimuth_deg - zeta_deg(mount)) % 360.0
    return axis.guard_deg <= past <= axis.travel_deg - 360.0 - axis.guard_deg


def main() -> None:
    """Write the demo, or search."""
    parser = argparse.ArgumentParser(description="Writes the demo plan, or searches for one.")
    parser.add_argument("--search", nargs=2, type=int, metavar=("FIRST", "END"))
    bounds = parser.parse_args().search
    if bounds:
        for line in search(range(*bounds)):
            print(line, flush=True)
    else:
        DEMO_FILE.write_text(plan_text(build_plan()), encoding="utf-8")


if __name__ == "__main__":
    main()
