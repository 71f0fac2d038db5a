"""What sightings from the log do to tonight's correction, in one sentence."""

from __future__ import annotations

import math

from core.base.memo import Memo
from core.base.words import counted, figure
from core.on_site import fit_of
from core.plan.document import Plan
from core.setup.sightings.answer import SightingFit
from core.setup.sightings.words import WITHIN_95


def effect_sentence(plan: Plan, with_them: Plan, memo: Memo | None = None) -> str:
    """The correction before and after.

    Args:
        plan: as it is.
        with_them: the same with more sightings, or with some put right.
        memo: the document owner's.
    """
    memo = Memo() if memo is None else memo
    before, after = fit_of(plan, memo), fit_of(with_them, memo)
    many = len(with_them.sightings) - len(plan.sightings)
    what = f"With {counted(many, 'more sighting')}" if many else "With the sightings put right"
    found = _correction(after)
    if found is None:
        return f"{what} there is no correction still: {_why(after)}."
    was = _correction(before)
    then = f"before, {was}" if was is not None else "there was none before"
    out = "" if after is None else _out_words(after)
    return f"{what} tonight's correction is {found}; {then}.{out}"


def _correction(fit: SightingFit | None) -> str | None:
    """``+3.2 deg, known to 0.9 deg (95 %)``; None where there is none."""
    if fit is None or fit.correction_deg is None or math.isinf(fit.correction_sigma_deg):
        return None
    within = figure(WITHIN_95 * fit.correction_sigma_deg)
    return f"{fit.correction_deg:+.1f} deg, known to {within} deg (95 %)"


def _why(fit: SightingFit | None) -> str:
    if fit is None:
        return "none is in use"
    return fit.refused[0].reason if fit.refused else "no azimuth was read"


def _out_words(fit: SightingFit) -> str:
    if fit.doubtful:
        return " They do not agree: the Setup page says which are in doubt."
    if fit.outliers:
        return f" {counted(len(fit.outliers), 'sighting')} left out: not in line with the others."
    return ""
