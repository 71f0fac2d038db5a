"""Evenings' sightings made by the oracle: random stations, their small errors, what is written down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from geographiclib.geodesic import Geodesic

from core.mount.model.station import OVER_THE_TOP, UPRIGHT, AzimuthAxis, ElevationAxis, IndexHole, Mount
from core.place.site import Site
from core.setup.model import Landmark, PointingErrors, Sighting
from core.setup.sightings.question import Question
from tests.oracles.sighting_mount import dials, pointing_at, shaken

SITE = Site(name="meadow", latitude_deg=47.2, longitude_deg=8.5, height_m=500.0)
NOON = "2024-06-01T11:00:00.000Z"
DISTANCE_M = 2000.0
HOLES = (
    IndexHole(name="A", offset_deg=-15.0),
    IndexHole(name="B", offset_deg=15.0),
    IndexHole(name="C", offset_deg=-60.0),
)
#: What is assumed and what is drawn: the same.
ERRORS = PointingErrors(
    north_deg=2.0, lean_deg=0.7, backlash_deg=1.0, boom_deg=1.5, by_eye_deg=0.4, site_m=5.0
)
_AXIS_DEG, _MARK_M = 0.3, 10.0


@dataclass(frozen=True)
class Kind:
    """How a table is made: sightings, their sector, the dial's division, what figures are rounded to."""

    count: int
    sector_deg: float = 360.0
    division_deg: float = 1.0
    rounded_deg: float = 0.5
    over_the_top: float = 0.3


@dataclass(frozen=True)
class Made:
    """A question with the truth behind it.

    Attributes:
        question: what is asked.
        truth: correction, elevation zero, lean east, lean north, as the answer would have them.
        wrong: index of the sighting with a blunder; None without.
    """

    question: Question
    truth: np.ndarray
    wrong: int | None = None


def mark_at(name: str, azimuth: float, elevation: float, sigma_m: float = 0.0) -> Landmark:
    """A landmark 2 km away that is seen in a direction; elevation to a thousandth of a degree."""
    there = Geodesic.WGS84.Direct(SITE.latitude_deg, SITE.longitude_deg, float(azimuth), DISTANCE_M)
    # The Earth falls away by D^2 / 2R, an eighth of which the bend of the air gives back.
    fall_m = 0.87 * DISTANCE_M**2 / 2.0 / 6.371e6
    height = DISTANCE_M * np.tan(np.radians(elevation)) + fall_m
    return Landmark(
        name=name,
        latitude_deg=there["lat2"],
        longitude_deg=there["lon2"],
        height_m=SITE.height_m + float(height),
        sigma_m=sigma_m,
    )


def mount_of(keyway: float, division: float = 1.0, **fields: Any) -> Mount:
    """A station with three holes; its elevation dial reads below the horizon too."""
    return Mount(
        keyway_bearing_deg=keyway,
        index_holes=HOLES,
        datum_to_stop_deg=40.0,
        azimuth=AzimuthAxis(dial_division_deg=division),
        elevation=ElevationAxis(minimum_deg=-90.0, dial_division_deg=division),
        **fields,
    )


def made(kind: Kind, sets: int, seed: int, blunders: tuple[float, ...] = ()) -> list[Made]:
    """Random tables; with ``blunders`` one azimuth in each is off by one of them, either way."""
    chance = np.random.default_rng(seed)
    n, every = kind.count, (sets, kind.count)
    if kind.sector_deg >= 360.0:
        azimuth = np.arange(n) * 360.0 / n + chance.uniform(-20.0, 20.0, every)
    else:
        azimuth = chance.uniform(0.0, kind.sector_deg, every)
    azimuth = (azimuth + chance.uniform(0.0, 360.0, (sets, 1))) % 360.0
    elevation = chance.uniform(2.0, 50.0, every)
    over = chance.random(every) < kind.over_the_top
    side, tells = np.where(chance.random(every) < 0.5, 1.0, -1.0), chance.random(every) < 0.5
    station = _stations(sets, chance)
    keyway = np.round(chance.uniform(0.0, 360.0, sets), 1)
    zeta = keyway + HOLES[0].offset_deg + 40.0 + station["correction"]
    mount = {key: np.repeat(one, n) for key, one in {**station, "zeta": zeta}.items()}
    sky = pointing_at(azimuth.ravel(), elevation.ravel())
    # The landmark is not quite where it is thought to be, and is not hit quite.
    map_deg = np.degrees(np.hypot(_MARK_M, ERRORS.site_m) / DISTANCE_M)
    sky = pointing_at(
        azimuth.ravel() + map_deg * chance.standard_normal(n * sets),
        elevation.ravel() + map_deg * chance.standard_normal(n * sets),
    )
    sky = shaken(sky, chance, ERRORS.by_eye_deg)
    steps = (kind.rounded_deg, kind.rounded_deg)
    dial, dial_up = (one.reshape(every) for one in dials(mount, sky, over.ravel(), side.ravel(), steps))
    tables = []
    for k in range(sets):
        wrong = int(chance.integers(n)) if blunders else None
        if wrong is not None:
            dial[k, wrong] = (dial[k, wrong] + chance.choice([-1.0, 1.0]) * chance.choice(blunders)) % 360.0
        sightings = [
            Sighting(
                time=NOON,
                target=f"mark {i}",
                azimuth_dial_deg=float(dial[k, i]),
                elevation_dial_deg=float(dial_up[k, i]),
                posture=OVER_THE_TOP if over[k, i] else UPRIGHT,
                came_from=("left" if side[k, i] > 0.0 else "right") if tells[k, i] else None,
            )
            for i in range(n)
        ]
        question = Question(
            mount=mount_of(float(keyway[k]), kind.division_deg),
            beamwidth_deg=30.0,
            site=SITE,
            sightings=tuple(sightings),
            landmarks=tuple(mark_at(f"mark {i}", azimuth[k, i], elevation[k, i], _MARK_M) for i in range(n)),
            errors=ERRORS,
            declination_deg=6.0,
            zone_offset_s=7200.0,
        )
        reference = -1.0 if over[k].all() else 1.0
        correction = station["correction"][k] + reference * station["skew"][k]
        rest = [station[key][k] for key in ("elevation_zero", "lean_east", "lean_north")]
        tables.append(Made(question, np.array([correction, *rest]), wrong))
    return tables


def _stations(sets: int, chance: np.random.Generator) -> dict[str, np.ndarray]:
    sigma = {
        "correction": ERRORS.north_deg,
        "elevation_zero": 1.0,
        "lean_east": ERRORS.lean_deg,
        "lean_north": ERRORS.lean_deg,
        "skew": ERRORS.boom_deg,
        "axis": _AXIS_DEG,
    }
    station = {key: one * chance.standard_normal(sets) for key, one in sigma.items()}
    station["play"] = np.maximum(ERRORS.backlash_deg / 2.0 * (1.0 + 0.5 * chance.standard_normal(sets)), 0.0)
    return station
