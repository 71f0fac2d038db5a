"""What the sightings say, in sentences: the number first."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from core.base.words import bearing_text, counted, figure, listed
from core.setup.model import Sighting
from core.setup.sightings.answer import SightingFit
from core.setup.sightings.model import Rows
from core.setup.sightings.solve import Solution

#: 95 % of a normal distribution lie within so many standard deviations.
WITHIN_95 = 1.96


def sentences(fit: SightingFit, found: Solution, rows: Rows, table: Sequence[Sighting]) -> tuple[str, ...]:
    """Found, left out, in doubt, why, refused, next."""
    told = [_in_doubt(fit, found, rows)] if fit.doubtful else []
    told += _found(fit)
    told += [_left_out(row, found, rows, table) for row in np.flatnonzero(~found.kept).tolist()]
    told += [f"{one.sentence}." for one in fit.explanations]
    told += [f"{str(one)[:1].upper()}{str(one)[1:]}." for one in fit.refused]
    if fit.next_sighting is not None:
        told.append(fit.next_sighting.why)
    return tuple(told)


def _found(fit: SightingFit) -> list[str]:
    told = []
    if fit.correction_deg is None:
        told.append("No correction: no azimuth was sighted.")
    else:
        within = figure(WITHIN_95 * fit.correction_sigma_deg)
        where = "" if fit.posture is None else f", {fit.posture}"
        told.append(
            f"{figure(fit.correction_deg)} deg is tonight's correction{where}, known to {within} deg (95 %)."
        )
    if fit.elevation_zero_deg is not None:
        within = figure(WITHIN_95 * fit.elevation_zero_sigma_deg)
        told.append(
            f"{figure(fit.elevation_zero_deg)} deg must be added to elevation, known to {within} deg (95 %)."
        )
    if fit.lean is not None:
        toward, within = bearing_text(fit.lean.toward_deg), figure(WITHIN_95 * fit.lean.sigma_deg)
        told.append(
            f"{figure(fit.lean.angle_deg)} deg is the lean, toward {toward}, known to {within} deg (95 %)."
        )
    told += [
        f"{figure(one.deg, 2)} deg is the mount's own {one.name}, known to "
        f"{figure(WITHIN_95 * one.sigma_deg, 2)} deg (95 %)."
        for one in fit.constants
        if one.determined and one.sigma_deg > 0.0
    ]
    return told


def _left_out(row: int, found: Solution, rows: Rows, table: Sequence[Sighting]) -> str:
    index = int(rows.index[row])
    dial = "azimuth" if rows.azimuth[row] else "elevation"
    off, sigma = float(found.off_deg[row]), float(found.off_sigma_deg[row])
    return (
        f"{figure(off)} deg off: the {dial} of sighting {index + 1} ({table[index].target}), "
        f"{figure(abs(off) / sigma)} times what is usual. It is left out."
    )


def _in_doubt(fit: SightingFit, found: Solution, rows: Rows) -> str:
    """That one is wrong, and that it cannot be told which."""
    dial = "azimuths" if rows.azimuth[found.doubtful].any() else "elevations"
    which = listed([str(index + 1) for index in fit.doubtful])
    return (
        f"{figure(found.spread_deg)} deg apart: the {dial} of sightings {which} do not agree. "
        f"{counted(len(fit.kept), 'sighting')} cannot tell which is wrong: "
        "take one more before you set anything."
    )
