"""Whether one figure of the azimuth dial means more than one direction, so that it must be said which."""

from __future__ import annotations

from core.base.angles import wrap_180
from core.mount.dial.readings import azimuth_from_dial
from core.mount.model.station import Mount


def rounds_to_tell(dial_deg: float, mount: Mount) -> int:
    """How many places of the travel show a figure, where they look different ways; 0 where none need be told.

    A turn apart they look alike, and a sighting sees no more than that.
    """
    places = azimuth_from_dial(dial_deg, mount.azimuth)
    apart = max((abs(wrap_180(place - places[0])) for place in places), default=0.0)
    return len(places) if apart > mount.azimuth.dial_division_deg / 2.0 else 0
