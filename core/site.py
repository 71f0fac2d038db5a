"""Where the station stands: position, locator, horizon mask, declination, landmark bearings."""

from __future__ import annotations

from pydantic import Field

from core.model import Model, Real


class HorizonPoint(Model):
    """One point of the horizon mask, joined to its neighbours by straight lines in azimuth."""

    azimuth_deg: Real = Field(ge=0.0, le=360.0)
    elevation_deg: Real = Field(ge=-10.0, le=90.0)


class Site(Model):
    """The station's place. Latitude north and longitude east are positive; height above the WGS-84 ellipsoid."""

    name: str = ""
    latitude_deg: Real = Field(ge=-90.0, le=90.0)
    longitude_deg: Real = Field(ge=-180.0, le=180.0)
    height_m: Real = Field(default=0.0, ge=-500.0, le=9000.0)
    time_zone: str | None = None
    minimum_elevation_deg: Real = Field(default=5.0, ge=-10.0, lt=90.0)
    horizon: tuple[HorizonPoint, ...] = ()
