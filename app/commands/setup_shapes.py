"""Setting up on site as JSON shapes. Field names are fixed: they are what scripts read."""

from __future__ import annotations

import math
from typing import Any

from app.commands.shapes import number
from core.base.times import format_iso
from core.on_site import OnSite
from core.setup.budget.answer import PassBudget, PassTime, PointingBudget
from core.setup.level import Level, Shim
from core.setup.methods import Method
from core.setup.sightings.answer import SightingFit


def setup_shape(found: OnSite) -> dict[str, Any]:
    """What there is to go by at a moment."""
    declination = found.declination
    return {
        "at": format_iso(found.at_utc_s),
        "methods": [_method_shape(one) for one in found.methods],
        "best": None if found.best is None else found.best.method,
        "declination": {
            "deg": number(declination.deg),
            "sigma_deg": number(declination.sigma_deg),
            "model": declination.model,
            "valid": declination.valid,
        },
        "grid": None
        if found.grid is None
        else {
            "convergence_deg": number(found.grid.convergence_deg),
            "central_meridian_deg": number(found.grid.central_meridian_deg),
        },
        "level": None if found.level is None else _level_shape(found.level, found.shims),
        "fit": None if found.fit is None else _fit_shape(found.fit),
        **_budgets_shape(found.budget),
    }


def _method_shape(one: Method) -> dict[str, Any]:
    return {
        "method": one.method,
        "target": one.target,
        "possible": one.possible,
        "reason": one.reason,
        "bearing_deg": _given(one.bearing_deg),
        "elevation_deg": _given(one.elevation_deg),
        "azimuth_dial_deg": None if one.azimuth_dial is None else number(one.azimuth_dial.value_deg),
        "azimuth_dial": None if one.azimuth_dial is None else one.azimuth_dial.text,
        "elevation_dial_deg": None if one.elevation_dial is None else number(one.elevation_dial.value_deg),
        "sigma_deg": _given(one.sigma_deg),
        "terms": [{"name": term.name, "sigma_deg": number(term.sigma_deg)} for term in one.terms],
    }


def _given(value: float | None) -> float | None:
    return None if value is None else number(value)


def _level_shape(level: Level, shims: tuple[Shim, ...]) -> dict[str, Any]:
    return {
        "lean_deg": number(level.lean_deg),
        "toward_deg": number(level.toward_deg),
        "sigma_deg": number(level.sigma_deg),
        "zero_deg": _given(level.zero_deg),
        "shims": [{"from_keyway_deg": number(one.from_keyway_deg), "mm": number(one.mm, 2)} for one in shims],
    }


def _fit_shape(fit: SightingFit) -> dict[str, Any]:
    return {
        "correction_deg": _given(fit.correction_deg),
        "correction_sigma_deg": _known(fit.correction_sigma_deg),
        "posture": fit.posture,
        "elevation_zero_deg": _given(fit.elevation_zero_deg),
        "elevation_zero_sigma_deg": _known(fit.elevation_zero_sigma_deg),
        "lean": None
        if fit.lean is None
        else {
            "angle_deg": number(fit.lean.angle_deg),
            "toward_deg": number(fit.lean.toward_deg),
            "sigma_deg": number(fit.lean.sigma_deg),
        },
        "constants": [
            {
                "name": one.name,
                "deg": number(one.deg),
                "sigma_deg": number(one.sigma_deg),
                "determined": one.determined,
            }
            for one in fit.constants
        ],
        "residuals": [
            {
                "index": one.index,
                "azimuth_deg": _given(one.azimuth_deg),
                "elevation_deg": _given(one.elevation_deg),
                "weight": number(one.weight),
            }
            for one in fit.residuals
        ],
        "outliers": list(fit.outliers),
        "doubtful": list(fit.doubtful),
        "undetermined": list(fit.undetermined),
        "explanations": [
            {
                "mistake": one.mistake,
                "expected_deg": number(one.expected_deg),
                "left_deg": number(one.left_deg),
                "left_sigma_deg": number(one.left_sigma_deg),
                "hole": one.hole or None,
                "index": one.index,
                "sentence": one.sentence,
            }
            for one in fit.explanations
        ],
        "next_sighting": None
        if fit.next_sighting is None
        else {
            "bearing_deg": number(fit.next_sighting.bearing_deg),
            "elevation_deg": number(fit.next_sighting.elevation_deg),
            "why": fit.next_sighting.why,
        },
        "refused": [{"index": one.index, "reason": str(one)} for one in fit.refused],
    }


def _known(sigma_deg: float) -> float | None:
    """Null where nothing is known: JSON has no infinity."""
    return number(sigma_deg) if math.isfinite(sigma_deg) else None


def _budgets_shape(budget: PointingBudget | None) -> dict[str, Any]:
    """What holds now, what held before the sightings, and how well the times are known."""
    if budget is None:
        return {"budget": [], "budget_before": [], "times": []}
    return {
        "budget": [_budget_shape(one) for one in budget.now.passes],
        "budget_before": [_budget_shape(one) for one in budget.before.passes],
        "times": [_time_shape(one) for one in budget.times],
    }


def _budget_shape(one: PassBudget) -> dict[str, Any]:
    told = one.figures
    return {
        "satellite": one.satellite,
        "norad_id": one.norad_id,
        "aos": format_iso(one.aos_utc_s),
        "antenna": one.antenna,
        "rss_deg": number(told.rss_deg),
        "worst_deg": number(told.worst_deg),
        "loss_db": _given(told.loss_db),
        "worst_loss_db": _given(told.worst_loss_db),
        "off_95_deg": number(told.off_95_deg),
        "terms": [{"name": term.name, "deg": number(term.deg)} for term in told.terms],
        "improve_first": told.improve_first,
        "ties": list(told.ties),
    }


def _time_shape(one: PassTime) -> dict[str, Any]:
    return {
        "satellite": one.satellite,
        "norad_id": one.norad_id,
        "aos": format_iso(one.aos_utc_s),
        "sigma_s": number(one.sigma_s, 2),
    }
