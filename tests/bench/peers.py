"""What other libraries take for the same job, and what the propagator alone takes."""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Sequence

import numpy as np
from sgp4.api import SatrecArray
from sgp4.exporter import export_tle
from skyfield.api import EarthSatellite, load, wgs84

from core.base.times import to_datetime
from core.base.units import DAY_S, UNIX_EPOCH_JD
from core.elements.model import ElementSet
from core.elements.propagator import satrec

PLACE = (47.2, 9.1, 1300.0)


def plain_loop(sets: Sequence[ElementSet], start_utc_s: float, hours: float) -> int:
    """Skyfield's event finder satellite by satellite; how many culminations it reports."""
    timescale = load.timescale(builtin=True)
    start, end = (timescale.from_datetime(to_datetime(start_utc_s + h * 3600.0)) for h in (0.0, hours))
    station = wgs84.latlon(*PLACE)
    tops = 0
    for elements in sets:
        satellite = EarthSatellite.from_satrec(satrec(elements), timescale)
        _, events = satellite.find_events(station, start, end, altitude_degrees=0.0)
        tops += int(np.sum(events == 1))
    return tops


def bare_states(sets: Sequence[ElementSet], start_utc_s: float, states: int) -> Callable[[], object]:
    """The propagator alone, over a day, for so many states of each satellite."""
    array = SatrecArray([satrec(elements) for elements in sets])
    utc_s = np.linspace(start_utc_s, start_utc_s + DAY_S, states)
    day = np.floor(utc_s / DAY_S)
    return lambda: array.sgp4(UNIX_EPOCH_JD + day, utc_s / DAY_S - day)


def brahe_accesses(sets: Sequence[ElementSet], start_utc_s: float, hours: float) -> Callable[[], int] | None:
    """Another library's access windows on all cores; None where it is not installed."""
    if importlib.util.find_spec("brahe") is None:
        return None
    import brahe

    brahe.set_global_eop_provider(brahe.StaticEOPProvider.from_zero())
    lines = [export_tle(satrec(elements)) for elements in sets]
    satellites = [brahe.SGPPropagator.from_tle(*pair, 60.0) for pair in lines]
    latitude, longitude, height = PLACE
    station = brahe.PointLocation(longitude, latitude, height)
    moment = to_datetime(start_utc_s)
    date = moment.year, moment.month, moment.day, moment.hour, moment.minute, float(moment.second), 0.0
    start = brahe.Epoch.from_datetime(*date, brahe.TimeSystem.UTC)
    above = brahe.ElevationConstraint(0.0)
    return lambda: len(brahe.location_accesses(station, satellites, start, start + hours * 3600.0, above))
