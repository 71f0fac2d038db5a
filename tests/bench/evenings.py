"""The evening that the benchmarks share."""

from __future__ import annotations

import random

from core.elements.files import read_element_files
from core.mount.model.station import AzimuthAxis, ElevationAxis, IndexHole, Mount
from core.place.site import HorizonPoint, Site
from core.plan.document import Evening, Plan, Satellite
from tests.shared_data import shared_file


def evening() -> Plan:
    """All amateur satellites over eight hours: 147 passes."""
    sets = read_element_files([shared_file("data/amateur_20241101.csv")]).sets
    return Plan(
        title="Bench",
        site=Site(latitude_deg=47.2, longitude_deg=9.1, height_m=1300.0, minimum_elevation_deg=5.0),
        evening=Evening(start="2024-11-01T16:00:00Z", end="2024-11-02T00:00:00Z"),
        mount=Mount(
            keyway_bearing_deg=184.0,
            index_holes=(IndexHole(name="A"), IndexHole(name="B", offset_deg=-45.0)),
            azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=5.0),
            elevation=ElevationAxis(maximum_deg=90.0),
        ),
        satellites=tuple(Satellite(name=elements.name, elements=elements) for elements in sets),
    )


def walled(site: Site) -> Site:
    """The site with a mask of forty points, notches among them."""
    heights = random.Random(4).choices((2.0, 5.0, 8.0, 12.0, 25.0, 3.0), k=40)
    points = tuple(HorizonPoint(azimuth_deg=9.0 * i, elevation_deg=e) for i, e in enumerate(heights))
    return site.model_copy(update={"horizon": points})
