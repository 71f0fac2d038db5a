"""What is wrong, compared with the mistakes that are known to be made.

Two things are compared: the correction as a whole, where it is more than north can be out by, and a single
reading that was left out. A mistake is named where the sightings are far likelier with it than without, where
it would leave no more than could be left by chance, and where it is well over what chance does; those that do
about equally well, to one standard deviation, are named together.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from core.base.angles import wrap_180
from core.base.words import figure
from core.mount.model.chain import hole_in_use
from core.mount.model.station import Mount
from core.setup.model import PointingErrors
from core.setup.sightings.model import CORRECTION, ELEVATION_ZERO, Rows
from core.setup.sightings.solve import Solution

Mistake = Literal[
    "another hole",
    "offset sign",
    "drawn from below",
    "half a turn",
    "declination sign",
    "declination left out",
    "local time",
    "elevation unit reversed",
]
#: By how much (chi squared) a mistake must make the sightings likelier. A clean station, whose north is out
#: by chance alone, comes so near to a mistake less than once in fifty.
LIKELIER = 7.0
#: What a mistake leaves must be what chance leaves in 99 of 100.
_CHANCE = 2.576
#: Below so many standard deviations a mistake cannot be told from chance.
_WELL_OVER = 2.576
#: What a reading costs that fits nothing (chi squared): as four standard deviations.
_MISFIT = 16.0
#: How far a boom is clamped off level at dial 0 by eye, deg; only to see what is no such thing.
_BOOM_LEVEL_DEG = 5.0


@dataclass(frozen=True)
class Explanation:
    """A known mistake that would explain what is off.

    Attributes:
        mistake: its name.
        expected_deg: what it would change.
        left_deg: what is off besides, and its standard deviation.
        sentence: for the operator.
        hole: the hole that would explain it; empty for other mistakes.
        index: of the one sighting that is off; None where all are.
    """

    mistake: Mistake
    expected_deg: float
    left_deg: float
    left_sigma_deg: float
    sentence: str
    hole: str = ""
    index: int | None = None

    @property
    def off_by_sigmas(self) -> float:
        """What is left, in its standard deviations."""
        return abs(self.left_deg) / self.left_sigma_deg


@dataclass(frozen=True, eq=False)
class Trial:
    """The table under one supposition: rows and their fit, and how many sightings could not be at all.

    Attributes:
        rows, found: the readings and what they say.
        impossible: sightings that had to be refused because what they name was below the horizon.
    """

    rows: Rows
    found: Solution
    impossible: int


@dataclass(frozen=True)
class North:
    """What the plan says of the chain of angles: what a mistake in it would do, and how far it may be out."""

    mount: Mount
    errors: PointingErrors
    declination_deg: float | None

    @property
    def sigma_deg(self) -> float:
        """How far the correction may be off by chance; a boom not square to its crossboom is in it."""
        errors = self.errors
        return math.hypot(errors.north_deg, errors.keyway_play_deg, errors.index_play_deg, errors.boom_deg)

    def fixed(self) -> list[tuple[Mistake, str, float, str]]:
        """Mistakes that turn the whole station: name, hole, by how much the correction would be, in words."""
        used = hole_in_use(self.mount)
        known: list[tuple[Mistake, str, float, str]] = [
            ("another hole", hole.name, hole.offset_deg - used.offset_deg, f"hole {hole.name}")
            for hole in self.mount.index_holes
            if hole.name != used.name
        ]
        known.append(("offset sign", "", -2.0 * used.offset_deg, "the offset's sign"))
        known.append(("drawn from below", "", -2.0 * used.offset_deg, "a drawing read from below"))
        known.append(("half a turn", "", 180.0, "half a turn"))
        known.append(("elevation unit reversed", "", 180.0, "the elevation unit reversed"))
        if self.declination_deg is not None:
            known.append(("declination sign", "", 2.0 * self.declination_deg, "the declination's sign"))
            known.append(("declination left out", "", self.declination_deg, "declination left out"))
        return [(name, hole, wrap_180(deg), words) for name, hole, deg, words in known]


def explanations(
    north: North, plain: Trial, turned: Trial | None, local: Trial | None, moved_deg: float | None
) -> tuple[Explanation, ...]:
    """Mistakes that would explain the correction as a whole; those that do equally well together.

    Args:
        north: the chain as the plan has it.
        plain: the table as it was written down.
        turned: the same with the elevation dial counted from its other end; None where elevation is not off.
        local: the same with its times taken as local time; None where the clock shows UTC.
        moved_deg: how much the Sun's (or other) bearings are moved by that; None where none is.
    """
    cost = _cost(plain, north)
    found: list[tuple[float, Explanation]] = []
    if math.isfinite(plain.found.sigma(CORRECTION)):
        found += _turned(north, plain.found, cost)
    if turned is not None:
        found += _reversed(north, turned)
    if local is not None and moved_deg is not None:
        found += _local(north, plain, local, moved_deg)
    return _best([(then, one) for then, one in found if cost - then >= LIKELIER and _plausible(one)])


def _plausible(one: Explanation) -> bool:
    return (
        abs(one.left_deg) <= _CHANCE * one.left_sigma_deg
        and abs(one.expected_deg) >= _WELL_OVER * one.left_sigma_deg
    )


def _best(found: list[tuple[float, Explanation]]) -> tuple[Explanation, ...]:
    """The likeliest, and what is within one standard deviation of it; the likeliest first."""
    if not found:
        return ()
    floor = min(then - one.off_by_sigmas**2 for then, one in found)
    ranked = sorted(
        ((math.sqrt(max(then - floor, 0.0)), one) for then, one in found), key=lambda pair: pair[0]
    )
    return tuple(one for misfit, one in ranked if misfit <= ranked[0][0] + 1.0)


def is_off(trial: Trial, north: North) -> bool:
    """Whether anything is so far off that a mistake may explain it."""
    found = trial.found
    return (
        trial.impossible > 0
        or not found.kept.all()
        or found.doubtful.size > 0
        or elevation_is_off(trial)
        or _correction_cost(trial, north) >= LIKELIER
    )


def elevation_is_off(trial: Trial) -> bool:
    """Whether the elevation dials are off by more than a boom can be clamped wrong, or do not agree."""
    rows, found = trial.rows, trial.found
    wrong = ~found.kept & ~rows.azimuth
    doubtful = bool((~rows.azimuth[found.doubtful]).any())
    return bool(wrong.any()) or doubtful or abs(found.unknowns[ELEVATION_ZERO]) > 2.0 * _BOOM_LEVEL_DEG


def _cost(trial: Trial, north: North) -> float:
    """How badly a supposition fits (chi squared): the readings, the correction and the elevation zero."""
    return _pattern_cost(trial) + _correction_cost(trial, north)


def _pattern_cost(trial: Trial) -> float:
    cost = _MISFIT * trial.impossible
    found = trial.found
    cost += found.chi_squared + _MISFIT * float((~found.kept).sum())
    zero_sigma = found.sigma(ELEVATION_ZERO)
    if math.isfinite(zero_sigma):
        cost += (float(found.unknowns[ELEVATION_ZERO]) / math.hypot(zero_sigma, _BOOM_LEVEL_DEG)) ** 2
    return cost


def _correction_cost(trial: Trial, north: North) -> float:
    if not math.isfinite(trial.found.sigma(CORRECTION)):
        return 0.0
    left, sigma = _left(north, trial.found)
    return (left / sigma) ** 2


def _left(north: North, found: Solution, expected_deg: float = 0.0) -> tuple[float, float]:
    """What is left of the correction, and its standard deviation."""
    left = wrap_180(float(found.unknowns[CORRECTION]) - expected_deg)
    return left, math.hypot(north.sigma_deg, found.sigma(CORRECTION))


def _turned(north: North, found: Solution, cost: float) -> list[tuple[float, Explanation]]:
    """Mistakes by a fixed angle: they shift the correction and nothing else, so nothing is fitted again."""
    off, sigma = _left(north, found)
    shifted = []
    for mistake, hole, expected, words in north.fixed():
        left, _sigma = _left(north, found, expected)
        then = cost - (off / sigma) ** 2 + (left / sigma) ** 2
        text = _sentence(expected + left, words, expected)
        shifted.append((then, Explanation(mistake, expected, left, sigma, text, hole)))
    return shifted


def _reversed(north: North, trial: Trial) -> list[tuple[float, Explanation]]:
    """The elevation axis counted from its other end: 180 less what the dial says."""
    rows, found = trial.rows, trial.found
    zero = float(found.unknowns[ELEVATION_ZERO])
    expected = float((180.0 - 2.0 * (rows.measured_deg[~rows.azimuth] + zero)).mean())
    sigma = math.hypot(_BOOM_LEVEL_DEG, found.sigma(ELEVATION_ZERO))
    text = _sentence(expected + zero, "the elevation unit reversed", expected, "in elevation ")
    one = Explanation("elevation unit reversed", expected, zero, sigma, text)
    return [(_cost(trial, north), one)]


def _local(north: North, plain: Trial, local: Trial, moved_deg: float) -> list[tuple[float, Explanation]]:
    """The times read off a local clock."""
    if not math.isfinite(local.found.sigma(CORRECTION)):
        return []
    left, sigma = _left(north, local.found)
    if plain.impossible > local.impossible:
        text = (
            f"{plain.impossible} below the horizon at the times written down; local time taken for UTC "
            f"would explain it, {figure(abs(left))} would be left"
        )
    else:
        text = _sentence(moved_deg + left, "local time taken for UTC", moved_deg)
    return [(_cost(local, north), Explanation("local time", moved_deg, left, sigma, text))]


def _sentence(off_deg: float, words: str, expected_deg: float, where: str = "") -> str:
    """``30.4 off; hole B would explain 30.0``."""
    return f"{figure(off_deg)} {where}off; {words} would explain {figure(expected_deg)}"


@dataclass(frozen=True)
class OneReading:
    """What may be wrong with one sighting alone: the mistakes, and by how much its azimuth would be off."""

    index: int
    known: tuple[tuple[Mistake, float, str], ...]


def explained_alone(one: OneReading, off_deg: float, off_sigma_deg: float) -> tuple[Explanation, ...]:
    """Mistakes that would explain a reading that was left out."""
    found = []
    for mistake, expected, words in one.known:
        left = wrap_180(off_deg - expected)
        text = f"Sighting {one.index + 1}: {_sentence(expected + left, words, expected)}"
        told = Explanation(mistake, expected, left, off_sigma_deg, text, index=one.index)
        if _plausible(told):
            found.append((told.off_by_sigmas**2, told))
    return _best(found)
