"""Setting up on site as JSON shapes. Field names are fixed: they are what scripts read."""

from __future__ import annotations

from typing import Any

from app.commands.shapes import number
from core.base.times import format_iso
from core.on_site import OnSite
from core.setup.level import Level, Shim
from core.setup.methods import Method


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
