"""The compass on the keyway: true bearing by the World Magnetic Model, and how far it can be trusted."""

from __future__ import annotations

from core.base.angles import wrap_360
from core.place.declination import Declination
from core.setup.model import CompassReading

#: What iron or current beside a compass does to it, one standard deviation: "several degrees" (common
#: practice, no source).
STEEL_DEG = 10.0


def keyway_by_compass_deg(compass: CompassReading, declination: Declination) -> float:
    """True bearing of the keyway, 0 to 360: reading plus declination, east positive."""
    return wrap_360(compass.reading_deg + declination.deg)


def compass_terms(compass: CompassReading, declination: Declination) -> tuple[tuple[str, float], ...]:
    """What a compass bearing's error is made of: names and one standard deviation each, degrees."""
    terms = [("reading the compass", compass.sigma_deg), (declination.model, declination.sigma_deg)]
    if compass.steel_near:
        terms.append(("steel near", STEEL_DEG))
    return tuple(terms)
