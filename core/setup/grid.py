"""Map grid north: how far the grid lines of a map lie from true north (meridian convergence)."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.base.angles import wrap_180
from core.base.errors import ValueRangeError
from core.place.site import Site

#: WGS-84's second eccentricity squared.
_SECOND_ECCENTRICITY_SQ = 0.00673949674228
_ZONE_DEG = 6.0
#: Further from its central meridian a transverse Mercator map is not drawn.
_WIDEST_DEG = 10.0
#: The zones end here; nearer the poles maps have another grid.
_SOUTHMOST_DEG, _NORTHMOST_DEG = -80.0, 84.0


@dataclass(frozen=True)
class GridNorth:
    """Grid north at a site.

    Attributes:
        central_meridian_deg: of the map's zone, east positive.
        convergence_deg: true bearing = grid bearing + convergence; positive east of the central meridian in
            the north, negative in the south.
        zone: the zone of the Universal Transverse Mercator grid, None for another central meridian.
    """

    central_meridian_deg: float
    convergence_deg: float
    zone: int | None


def grid_north(site: Site, central_meridian_deg: float | None = None) -> GridNorth | None:
    """The convergence at a site; None where the standard grid has no zone.

    tan(convergence) = tan(dlon) sin(lat) on the sphere, with the first term of the ellipsoid's: good to 0.001
    deg in a zone (Snyder, "Map Projections: A Working Manual", USGS Professional Paper 1395, section 8; the
    form from memory, held against a projection of its own in the tests).

    Args:
        site: where the map is used.
        central_meridian_deg: of the map's grid, where it is not the standard zones'.

    Raises:
        ValueRangeError: the site lies too far from that meridian.
    """
    zone = None
    if central_meridian_deg is None:
        if not _SOUTHMOST_DEG <= site.latitude_deg <= _NORTHMOST_DEG:
            return None
        zone = utm_zone(site)
        central_meridian_deg = zone * _ZONE_DEG - 183.0
    east = wrap_180(site.longitude_deg - central_meridian_deg)
    if abs(east) > _WIDEST_DEG:
        allowed = f"within {_WIDEST_DEG:g} deg of the site's longitude {site.longitude_deg:g}"
        raise ValueRangeError("central_meridian_deg", f"{central_meridian_deg:g}", allowed)
    return GridNorth(central_meridian_deg, _convergence_deg(site.latitude_deg, east), zone)


def utm_zone(site: Site) -> int:
    """The zone's number, 1 to 60, with the wider zones of south-western Norway and of Svalbard."""
    lat, lon = site.latitude_deg, wrap_180(site.longitude_deg)
    if 56.0 <= lat < 64.0 and 3.0 <= lon < 12.0:
        return 32
    if lat >= 72.0 and 0.0 <= lon < 42.0:
        return 31 + 2 * math.floor((lon + 3.0) / 12.0)
    return math.floor((lon + 180.0) / _ZONE_DEG) % 60 + 1


def _convergence_deg(latitude_deg: float, east_deg: float) -> float:
    lat, east = math.radians(latitude_deg), math.radians(east_deg)
    sphere = math.atan(math.tan(east) * math.sin(lat))
    eta_sq = _SECOND_ECCENTRICITY_SQ * math.cos(lat) ** 2
    return math.degrees(sphere + math.sin(lat) * east**3 * math.cos(lat) ** 2 * eta_sq)
