"""The fit of the evening's sightings: one question, one answer.

What belongs to tonight (correction, elevation zero, lean) is told apart from what belongs to the mount (skew,
axes not square, gear play): the former are void when the tripod is moved, the latter are not.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import wrap_180
from core.setup.model import Sighting
from core.setup.sightings import words
from core.setup.sightings.answer import Constant, FittedLean, Residual, SightingFit
from core.setup.sightings.mistakes import (
    Explanation,
    Mistake,
    North,
    OneReading,
    Trial,
    elevation_is_off,
    explained_alone,
    explanations,
    is_off,
)
from core.setup.sightings.model import (
    AXIS,
    CORRECTION,
    ELEVATION_ZERO,
    LEAN_EAST,
    LEAN_NORTH,
    NAMES,
    PLAY,
    SKEW,
    Assumed,
    Rows,
    assumed,
    lean_of,
    rows_of,
)
from core.setup.sightings.next_sighting import next_sighting
from core.setup.sightings.question import Question
from core.setup.sightings.readings import AxisReading, Rounding, axis_readings
from core.setup.sightings.refused import SightingRefused
from core.setup.sightings.solve import Solution, solve
from core.setup.sightings.targets import Found, Known, Target, targets_of

#: An unknown is determined where the sightings leave less than this share of the variance that was assumed.
_DETERMINED = 0.5


def fit_sightings(question: Question) -> SightingFit:
    """Tonight's correction from a table of sightings, what is wrong with it, and what to sight next.

    Sightings that are not ``used`` are passed over; those that cannot be used are refused and the others go
    on. Nothing is raised for what the operator wrote down.
    """
    table = [(index, one) for index, one in enumerate(question.sightings) if one.used]
    plain = _read(question, table, [0.0] * len(table))
    held = assumed(plain.rows, question.errors, question.mount.tilt, question.levelled)
    found = solve(plain.rows, held)
    told = _explained(question, table, plain, found, held)
    return _answer(question, plain, found, held, told)


@dataclass(frozen=True, eq=False)
class _Table:
    """A table read: true directions, what the dials say, and what was refused."""

    targets: dict[int, Target]
    hidden: dict[int, float]
    rows: Rows
    refused: tuple[SightingRefused, ...]


def _read(question: Question, table: Sequence[tuple[int, Sighting]], later_s: Sequence[float]) -> _Table:
    known = Known(question.site, question.errors.site_m, question.landmarks, question.sets)
    found: list[Found] = targets_of(known, table, later_s)
    rounding = Rounding.of([one for _index, one in table], question.mount)
    refused = [one for one in found if isinstance(one, SightingRefused)]
    targets: dict[int, Target] = {}
    readings: list[AxisReading] = []
    for (index, sighting), target in zip(table, found, strict=True):
        if isinstance(target, SightingRefused):
            continue
        targets[index] = target
        for one in axis_readings(
            index, sighting, target, question.mount, rounding, question.beamwidth_deg, question.errors
        ):
            if isinstance(one, SightingRefused):
                refused.append(one)
            else:
                readings.append(one)
    hidden = {one.index: one.hidden_azimuth_deg for one in refused if one.hidden_azimuth_deg is not None}
    rows = rows_of(readings, question.sightings, targets, question.mount)
    return _Table(targets, hidden, rows, tuple(sorted(refused, key=lambda one: one.index)))


def _trial(table: _Table, found: Solution) -> Trial:
    return Trial(table.rows, found, len(table.hidden))


def _explained(
    question: Question,
    table: Sequence[tuple[int, Sighting]],
    plain: _Table,
    found: Solution,
    held: Assumed,
) -> tuple[Explanation, ...]:
    """Mistakes of the whole station; without one, those of single sightings."""
    north = North(question.mount, question.errors, question.declination_deg)
    trial = _trial(plain, found)
    if not is_off(trial, north):
        return ()
    turned = None
    if elevation_is_off(trial):
        over = plain.rows.turned_over()
        turned = replace(trial, rows=over, found=solve(over, held))
    local = _read_locally(question, table, plain)
    moved = {} if local is None else _moved_deg(plain, local)
    local_trial = None
    if local is not None and moved:
        again = assumed(local.rows, question.errors, question.mount.tilt, question.levelled)
        local_trial = _trial(local, solve(local.rows, again))
    mean = float(np.mean(list(moved.values()))) if moved else None
    whole = explanations(north, trial, turned, local_trial, mean)
    return whole or _alone(question, plain, found, moved)


def _read_locally(question: Question, table: Sequence[tuple[int, Sighting]], plain: _Table) -> _Table | None:
    """The table with its times taken as local time; None where that is no other time, or does not matter."""
    later_s = [-question.clock_ahead_s(one) for _index, one in table]
    matters = plain.hidden or any(target.moves for target in plain.targets.values())
    return _read(question, table, later_s) if matters and any(later_s) else None


def _moved_deg(plain: _Table, local: _Table) -> dict[int, float]:
    """By how much true bearings are other ones where the times are local: written less local, by index."""
    moved = {}
    for index in {**plain.targets, **plain.hidden}:
        was = plain.targets[index].azimuth_deg if index in plain.targets else plain.hidden[index]
        if index in local.targets and (index in plain.hidden or plain.targets[index].moves):
            moved[index] = wrap_180(was - local.targets[index].azimuth_deg)
    return moved


def _alone(
    question: Question, plain: _Table, found: Solution, moved: dict[int, float]
) -> tuple[Explanation, ...]:
    """What would explain each azimuth that was left out."""
    explained: list[Explanation] = []
    for row in np.flatnonzero(~found.kept & plain.rows.azimuth).tolist():
        index = int(plain.rows.index[row])
        known: list[tuple[Mistake, float, str]] = [("half a turn", 180.0, "half a turn")]
        if index in moved:
            known.append(("local time", -moved[index], "local time taken for UTC"))
        if plain.targets[index].typed and question.declination_deg is not None:
            magnetic = question.declination_deg
            known.append(("declination left out", magnetic, "declination left out"))
            known.append(("declination sign", 2.0 * magnetic, "the declination's sign"))
        sigma = float(found.off_sigma_deg[row])
        if math.isfinite(sigma):
            explained += explained_alone(OneReading(index, tuple(known)), float(found.off_deg[row]), sigma)
    return tuple(explained)


def _answer(
    question: Question,
    table: _Table,
    found: Solution,
    held: Assumed,
    told: tuple[Explanation, ...],
) -> SightingFit:
    rows = table.rows
    names = NAMES[: PLAY + 1]
    covariance = found.covariance[: len(names), : len(names)]
    constants = tuple(_constant(found, held, which) for which in (SKEW, AXIS, PLAY))
    has = {which: math.isfinite(found.sigma(which)) for which in (CORRECTION, ELEVATION_ZERO)}
    lean = _lean(question, found, held)
    undetermined = [NAMES[which] for which, known in has.items() if not known or _doubted(rows, found, which)]
    undetermined += ["lean"] if lean is None else []
    undetermined += [one.name for one in constants if not one.determined]
    left_out = rows.index[~found.kept]
    fit = SightingFit(
        correction_deg=float(found.unknowns[CORRECTION]) if has[CORRECTION] else None,
        correction_sigma_deg=found.sigma(CORRECTION),
        posture=rows.reference_posture if constants[0].determined else None,
        elevation_zero_deg=float(found.unknowns[ELEVATION_ZERO]) if has[ELEVATION_ZERO] else None,
        elevation_zero_sigma_deg=found.sigma(ELEVATION_ZERO),
        lean=lean,
        constants=constants,
        covariance=covariance,
        names=names,
        estimates=tuple(float(one) for one in found.unknowns[: len(names)]),
        residuals=_residuals(rows, found),
        kept=_indices(rows.index[found.kept]),
        outliers=_indices(left_out),
        doubtful=_indices(rows.index[found.doubtful]),
        undetermined=tuple(undetermined),
        explanations=told,
        next_sighting=next_sighting(rows, found, question.mount, question.site),
        refused=table.refused,
        sentences=(),
    )
    return replace(fit, sentences=words.sentences(fit, found, rows, question.sightings))


def _doubted(rows: Rows, found: Solution, which: int) -> bool:
    """Whether one of the readings that an axis' zero rests on is wrong, without telling which."""
    azimuths = rows.azimuth[found.doubtful]
    return bool(azimuths.any() if which == CORRECTION else (~azimuths).any())


def _indices(index: np.ndarray) -> tuple[int, ...]:
    return tuple(int(one) for one in np.unique(index))


def _constant(found: Solution, held: Assumed, which: int) -> Constant:
    return Constant(
        NAMES[which], float(found.unknowns[which]), found.sigma(which), _determined(found, held, [which])
    )


def _determined(found: Solution, held: Assumed, which: list[int]) -> bool:
    """Whether the sightings say more of some unknowns than was assumed of them, in every direction."""
    if found.doubtful.size:
        return False
    before = held.sigma[which] ** 2
    if not before.all():
        return True
    own = found.covariance[np.ix_(which, which)] / np.sqrt(np.outer(before, before))
    return bool(np.linalg.eigvalsh(own).max() < _DETERMINED)


def _lean(question: Question, found: Solution, held: Assumed) -> FittedLean | None:
    """The lean, where it was levelled or the sightings determine it."""
    which = [LEAN_EAST, LEAN_NORTH]
    if question.level is None and not _determined(found, held, which):
        return None
    tilt = lean_of(found.unknowns)
    worst = float(np.linalg.eigvalsh(found.covariance[np.ix_(which, which)]).max())
    return FittedLean(tilt.angle_deg, tilt.toward_deg, math.sqrt(max(worst, 0.0)))


def _residuals(rows: Rows, found: Solution) -> tuple[Residual, ...]:
    sharpest = float(rows.sigma_deg.min()) if rows.sigma_deg.size else 1.0
    told = []
    for index in _indices(rows.index):
        own = rows.index == index
        azimuth, elevation = (found.residual_deg[own & (rows.azimuth == kind)] for kind in (True, False))
        weight = np.where(found.kept, (sharpest / rows.sigma_deg) ** 2, 0.0)[own]
        told.append(
            Residual(
                index,
                float(azimuth[0]) if azimuth.size else None,
                float(elevation[0]) if elevation.size else None,
                float(weight.min()),
            )
        )
    return tuple(told)
