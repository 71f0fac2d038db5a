"""All that the fit of the sightings asks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from core.base.times import parse_iso
from core.elements.model import ElementSet
from core.mount.model.station import Mount
from core.place.site import Site
from core.setup.level import Level
from core.setup.model import Landmark, PointingErrors, Sighting

#: What a clock in the site's zone is ahead of UTC, seconds: a figure, or a function of POSIX seconds.
ZoneOffset = float | Callable[[float], float]


@dataclass(frozen=True)
class Question:
    """All that the fit of the sightings asks; compared by value but for ``zone_offset_s`` where a function.

    Attributes:
        mount: as the plan has it; a correction that it has already is not counted.
        beamwidth_deg: of the narrowest antenna, which is pointed by its signal.
        site, landmarks, sets: where the station stands and what can be sighted.
        sightings: the table.
        errors: what is assumed of the small errors.
        level: from level readings, or None: then the plan's tilt, as well as ``errors`` knows it.
        declination_deg: east positive; None where north was not found by compass.
        zone_offset_s: how far the site's clock is ahead of UTC; None where that is not known.
    """

    mount: Mount
    beamwidth_deg: float
    site: Site
    sightings: tuple[Sighting, ...]
    landmarks: tuple[Landmark, ...] = ()
    sets: tuple[ElementSet, ...] = ()
    errors: PointingErrors = field(default_factory=PointingErrors)
    level: Level | None = None
    declination_deg: float | None = None
    zone_offset_s: ZoneOffset | None = None

    def clock_ahead_s(self, sighting: Sighting) -> float:
        """How far the site's clock is ahead of UTC when it shows what was written down; 0 where not known."""
        offset = self.zone_offset_s
        if offset is None:
            return 0.0
        return offset(parse_iso(sighting.time)) if callable(offset) else offset

    @property
    def levelled(self) -> tuple[float, float, float] | None:
        """The level's three figures."""
        level = self.level
        return None if level is None else (level.lean_deg, level.toward_deg, level.sigma_deg)
