"""Magnetic declination at the site by the World Magnetic Model, and bearings to and from the compass."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib import import_module
from typing import Any

from core.base.angles import wrap_360
from core.base.times import to_datetime
from core.place.site import Site

#: Years each model is made for; both ends count.
_LIFE_YEARS = 5.0
#: Models by the year their life starts, with the two terms of their published error (degrees, degrees nT).
_ERROR_TERMS = {2010: (0.23, 5430.0), 2015: (0.23, 5430.0), 2020: (0.26, 5625.0), 2025: (0.26, 5417.0)}
#: Horizontal field below which the model's makers call a compass unusable, and doubtful, nT.
_BLACKOUT_NT, _CAUTION_NT = 2000.0, 6000.0


@dataclass(frozen=True)
class Declination:
    """How far magnetic north lies from true north.

    Attributes:
        deg: east positive, -180 to 180; magnetic bearing = true bearing - declination.
        sigma_deg: one standard deviation of the model against the field found on the ground; ironwork,
            rails and the station's own steel come on top.
        model: e.g. ``"WMM2025"``.
        valid: False where the figure must not be relied on: the date lies outside the model's life, or the
            site in the zone around a magnetic pole where a compass is unusable.
        note: what to know about the figure, one sentence or more; empty when there is nothing.
    """

    deg: float
    sigma_deg: float
    model: str
    valid: bool
    note: str


def declination_deg(site: Site, utc_s: float) -> Declination:
    """Declination at a site and moment, by the World Magnetic Model that is made for the date.

    Models of 2010, 2015 (second issue), 2020 and 2025 are at hand; for a date outside all of them the
    nearest is carried on and the answer is marked.

    The error is sqrt(a^2 + (b / H)^2) with H the horizontal field in nT; for 2025 a = 0.26, b = 5417 (the
    models' technical reports, terms as in pygeomag's source; that they combine so is from memory). The
    model of 2010 is given the terms of 2015, its own are not at hand.
    """
    from pygeomag.geomag import GeoMag

    year = _decimal_year(utc_s)
    start = _model_start(year)
    model = GeoMag(coefficients_data=_coefficients(start))
    field = model.calculate(
        glat=site.latitude_deg,
        glon=site.longitude_deg,
        alt=site.height_m / 1000.0,
        time=year,
        allow_date_outside_lifespan=True,
    )
    constant_deg, slope_deg_nt = _ERROR_TERMS[start]
    in_life = start <= year <= start + _LIFE_YEARS
    return Declination(
        deg=float(field.d),
        sigma_deg=min(math.hypot(constant_deg, slope_deg_nt / max(field.h, 1e-6)), 180.0),
        model=f"WMM{start}",
        valid=in_life and field.h >= _BLACKOUT_NT,
        note=" ".join(filter(None, [_life_note(start, year), _field_note(field.h)])),
    )


def magnetic_from_true(true_deg: float, declination: float) -> float:
    """What a compass reads, 0 to 360, on a true bearing; declination in degrees, east positive."""
    return wrap_360(true_deg - declination)


def _decimal_year(utc_s: float) -> float:
    moment = to_datetime(utc_s)
    start = datetime(moment.year, 1, 1, tzinfo=UTC)
    return moment.year + (moment - start) / (datetime(moment.year + 1, 1, 1, tzinfo=UTC) - start)


def _model_start(year: float) -> int:
    """The start of the model whose life holds the year, else of the nearest."""
    begun = [start for start in _ERROR_TERMS if start <= year]
    return max(begun, default=min(_ERROR_TERMS))


def _coefficients(start: int) -> Any:
    """The model's coefficients as its package holds them, without reading a file."""
    issue = f"{start}v2" if start == 2015 else f"{start}"
    return getattr(import_module(f"pygeomag.wmm.wmm_{issue}"), f"WMM_{issue}")


def _life_note(start: int, year: float) -> str:
    end = start + _LIFE_YEARS
    if start <= year <= end:
        return ""
    outside = start - year if year < start else year - end
    return (
        f"WMM{start} is made for {start} to {end:.0f}; {outside:.1f} years outside it the error grows beyond "
        "the figure given."
    )


def _field_note(horizontal_nt: float) -> str:
    if horizontal_nt < _BLACKOUT_NT:
        return f"So near a magnetic pole ({horizontal_nt:.0f} nT horizontal) a compass is unusable."
    if horizontal_nt < _CAUTION_NT:
        return f"So near a magnetic pole ({horizontal_nt:.0f} nT horizontal) a compass is doubtful."
    return ""
