"""The station seen from above, in bearings: the one geometry that every picture and description of it draws.

The Mount page, the Keyway page and the printed set-up card show the same plate, and each would otherwise work
out from the chain where holes, stops and guards lie. Two steps of that are easily taken the wrong way round:

- The pin sits in the keyway, so a hole is where the *adapter* puts it: hole k lies clockwise of the datum
  mark by the angle it is drilled at, and only the hole in use lies over the keyway.
- A correction from sightings says that boresight looks elsewhere than the chain has it. It moves the stops
  and all that hangs on them; plate, holes and datum mark stay where they are.

Bearings are degrees true, clockwise, 0 to 360. Nothing here knows of pixels or of passes.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.base.angles import wrap_360
from core.base.units import INSIDE_DEG
from core.mount.clearance.lengths import Clearance
from core.mount.model.chain import guarded_travel_deg, hole_in_use, stop_bearings_deg, usable_overlap_deg
from core.mount.model.station import Mount

#: The picture's three legs, clockwise from the keyway: one opposite it. An illustration, not a measure.
LEGS_FROM_KEYWAY_DEG: tuple[float, ...] = (60.0, 180.0, 300.0)


@dataclass(frozen=True)
class Sector:
    """Bearings from ``start_deg`` (0 to 360) clockwise over ``span_deg`` (0 to 360)."""

    start_deg: float
    span_deg: float

    @property
    def end_deg(self) -> float:
        """Its clockwise end, 0 to 360."""
        return wrap_360(self.start_deg + self.span_deg)


@dataclass(frozen=True)
class HoleBearing:
    """Where one of the adapter's holes lies on the ground, and whether the pin goes through it."""

    name: str
    bearing_deg: float
    in_use: bool


@dataclass(frozen=True)
class FromAbove:
    """The station as it stands.

    Attributes:
        keyway_deg: where the keyway points.
        datum_deg: where the adapter's datum mark lies.
        holes: in the mount's order; the one in use lies over the keyway.
        legs_deg: the tripod's legs, which turn with the keyway.
        counter_clockwise_stop_deg, clockwise_stop_deg: where boresight looks on the stops, upright.
        travel_deg: from the one clockwise to the other, any number of turns.
        guards: clockwise of the counter-clockwise stop, and counter-clockwise of the clockwise one.
        overlap: bearings inside the guards that two mechanical azimuths point to; None without.
        unreachable: bearings that none points to, guards included; None without.
        guys_deg: the guys, which turn with the keyway too; none without lengths for clearance.
        strikes: where the boom points at elevation 0 as something strikes, at that or another elevation.
    """

    keyway_deg: float
    datum_deg: float
    holes: tuple[HoleBearing, ...]
    legs_deg: tuple[float, ...]
    counter_clockwise_stop_deg: float
    clockwise_stop_deg: float
    travel_deg: float
    guards: tuple[Sector, Sector]
    overlap: Sector | None
    unreachable: Sector | None
    guys_deg: tuple[float, ...] = ()
    strikes: tuple[Sector, ...] = ()


def station_from_above(
    mount: Mount, clearance: Clearance | None = None, struck: tuple[tuple[float, float], ...] = ()
) -> FromAbove:
    """The bearings of everything on a mount as it stands tonight.

    Args:
        mount: the mount.
        clearance: whose legs and guys; None: a plain tripod's legs, and no guys.
        struck: arcs (start, width) of the boom's bearing from the keyway at which something strikes.
    """
    legs = LEGS_FROM_KEYWAY_DEG
    if clearance is not None:
        legs = tuple(leg.from_keyway_deg for leg in clearance.legs)
    keyway, used = mount.keyway_bearing_deg, hole_in_use(mount)
    datum = keyway + used.offset_deg
    zeta, clockwise_stop = stop_bearings_deg(mount)
    guard, usable_end = guarded_travel_deg(mount.azimuth)
    overlap = usable_overlap_deg(mount.azimuth)
    return FromAbove(
        keyway_deg=wrap_360(keyway),
        datum_deg=wrap_360(datum),
        holes=tuple(
            HoleBearing(hole.name, wrap_360(datum + hole.drilled_deg), hole.name == used.name)
            for hole in mount.index_holes
        ),
        legs_deg=tuple(wrap_360(keyway + leg) for leg in legs),
        counter_clockwise_stop_deg=zeta,
        clockwise_stop_deg=clockwise_stop,
        travel_deg=mount.azimuth.travel_deg,
        guards=(Sector(zeta, guard), Sector(wrap_360(zeta + usable_end), guard)),
        overlap=Sector(wrap_360(zeta + guard), min(overlap, 360.0)) if overlap > INSIDE_DEG else None,
        unreachable=Sector(wrap_360(zeta + usable_end), -overlap) if overlap < -INSIDE_DEG else None,
        guys_deg=()
        if clearance is None
        else tuple(wrap_360(keyway + guy.from_keyway_deg) for guy in clearance.guys),
        strikes=tuple(Sector(wrap_360(keyway + start), width) for start, width in struck),
    )
