"""What the operator writes down on site, and what is assumed of the station's small errors.

Bearings are true degrees, clockwise seen from above. A figure of a dial is what the controller shows.
"""

from typing import Literal, Self, get_args

from pydantic import Field, field_validator, model_validator

from core.base.model import Many, Model, Real, Turned
from core.base.text import GivenName, Name
from core.base.times import canonical_time
from core.mount.model.station import UPRIGHT, Figure, Posture

#: From which side the dial came to its reading, seen by the operator behind the antennas.
Side = Literal["left", "right"]


class Landmark(Model):
    """Something far away whose place is known. ``sigma_m``: one standard deviation of it, each way."""

    name: GivenName
    latitude_deg: Real = Field(ge=-90.0, le=90.0)
    longitude_deg: Real = Field(ge=-180.0, le=180.0)
    height_m: Real = Field(default=0.0, ge=-500.0, le=9000.0)
    sigma_m: Real = Field(default=10.0, ge=0.0, le=10_000.0)


class LevelReading(Model):
    """An inclinometer's reading on the plate.

    ``bearing_deg`` is the true bearing along which it lay, ``rise_deg`` how much the plate rises toward it.
    """

    bearing_deg: Turned
    rise_deg: Real = Field(ge=-30.0, le=30.0)


class CompassReading(Model):
    """What a compass shows along the keyway, magnetic; ``sigma_deg`` is how well it can be read."""

    reading_deg: Turned
    sigma_deg: Real = Field(default=2.0, ge=0.05, le=45.0)
    steel_near: bool = False


class Sighting(Model):
    """A dial reading taken while pointing at something whose true direction is known.

    ``target`` is "Sun", "Moon", "Polaris", a landmark's name, a satellite's name or number; anything else
    wants ``bearing_deg``, which goes before what the target's name says. Either dial may be missing.
    ``half_power_dials_deg`` are the azimuth dials at which the signal fell alike on both sides of its peak;
    ``time_round`` says which of the places with one figure was meant, 1 for the first from the
    counter-clockwise stop. ``time_sigma_s`` is how well the moment is known beside the clock, one standard
    deviation. ``sigma_deg``, where given, stands for all that is uncertain in the reading.
    """

    time: str
    target: Name
    bearing_deg: Real | None = Field(default=None, ge=-1440.0, le=1440.0)
    azimuth_dial_deg: Real | None = Field(default=None, ge=-3600.0, le=3600.0)
    elevation_dial_deg: Real | None = Field(default=None, ge=-3600.0, le=3600.0)
    time_round: int | None = Field(default=None, ge=1, le=1000)
    posture: Posture = UPRIGHT
    came_from: Side | None = None
    half_power_dials_deg: tuple[Figure, Figure] | None = None
    time_sigma_s: Real = Field(default=0.0, ge=0.0, le=3600.0)
    sigma_deg: Real | None = Field(default=None, ge=0.01, le=45.0)
    used: bool = True

    _canonical = field_validator("time")(canonical_time)

    @model_validator(mode="after")
    def _reads_something(self) -> Self:
        if self.azimuth_dial_deg is not None and self.half_power_dials_deg is not None:
            raise ValueError("give azimuth_dial_deg or half_power_dials_deg, not both")
        if (
            self.azimuth_dial_deg is None
            and self.half_power_dials_deg is None
            and self.elevation_dial_deg is None
        ):
            raise ValueError("a sighting needs a reading of one dial at least")
        return self


class PointingErrors(Model):
    """What is assumed of the small errors that no sighting has measured: one standard deviation, degrees.

    ``north_deg``: how well the keyway bearing is known where it was typed and no method said so. ``site_m``
    is one standard deviation of the site's position, each way, ``shadow_deg`` how well a plumb line's shadow
    is lined up, ``by_eye_deg`` how well an eye points a boom at something. ``level_deg`` is an inclinometer's
    reading, ``level_zero_deg`` its own zero; ``elevation_zero_deg`` how well the elevation dial was set by a
    level on the boom. ``keyway_play_deg`` and ``index_play_deg`` are where the screw happens to seat: fixed
    for the evening. ``lean_deg`` is what is not known of the axis' lean. ``backlash_deg`` is the whole play
    of a gear. ``wind_deg`` is how far the drive gives way in wind, ``boom_deg`` how far each boom is off its
    crossboom's square, ``clock_s`` how well the operator's clock is known, and ``hand_step_deg`` the step by
    which a hand follows a pass, 0 where a controller does. Defaults are common practice, no source.
    """

    north_deg: Real = Field(default=2.0, ge=0.0, le=180.0)
    site_m: Real = Field(default=5.0, ge=0.0, le=10_000.0)
    shadow_deg: Real = Field(default=0.25, ge=0.0, le=45.0)
    by_eye_deg: Real = Field(default=0.5, ge=0.0, le=45.0)
    level_deg: Real = Field(default=0.1, ge=0.0, le=10.0)
    level_zero_deg: Real = Field(default=0.2, ge=0.0, le=10.0)
    elevation_zero_deg: Real = Field(default=1.0, ge=0.0, le=45.0)
    keyway_play_deg: Real = Field(default=0.3, ge=0.0, le=45.0)
    index_play_deg: Real = Field(default=0.2, ge=0.0, le=45.0)
    lean_deg: Real = Field(default=0.7, ge=0.0, le=30.0)
    backlash_deg: Real = Field(default=1.0, ge=0.0, le=45.0)
    wind_deg: Real = Field(default=0.5, ge=0.0, le=45.0)
    boom_deg: Real = Field(default=1.5, ge=0.0, le=45.0)
    clock_s: Real = Field(default=1.0, ge=0.0, le=3600.0)
    hand_step_deg: Real = Field(default=8.0, ge=0.0, le=90.0)


#: The steps of setting up, in the order in which they are done and ticked.
StepName = Literal[
    "look up",
    "tripod",
    "level",
    "keyway",
    "index",
    "torque",
    "witness mark",
    "rotator",
    "cables",
    "antennas",
    "feeders",
    "travel test",
    "sighting",
    "pull test",
    "receive check",
    "first dials",
]
STEP_NAMES: tuple[StepName, ...] = get_args(StepName)


class Checklist(Model):
    """Which steps of setting up are done, as they were ticked."""

    done: Many[StepName] = Field(default=(), max_length=len(STEP_NAMES))

    @model_validator(mode="after")
    def _once(self) -> Self:
        twice = next((name for name in self.done if self.done.count(name) > 1), None)
        if twice is not None:
            raise ValueError(f"done: {twice!r} is there twice")
        return self


class SetupMinutes(Model):
    """How many minutes each step takes; ``spare_share`` of it comes on top. Common practice, no source."""

    look_up: Real = Field(default=5.0, ge=0.0, le=240.0)
    tripod: Real = Field(default=15.0, ge=0.0, le=240.0)
    level: Real = Field(default=5.0, ge=0.0, le=240.0)
    keyway: Real = Field(default=5.0, ge=0.0, le=240.0)
    adapter: Real = Field(default=5.0, ge=0.0, le=240.0)
    torque: Real = Field(default=5.0, ge=0.0, le=240.0)
    rotator: Real = Field(default=15.0, ge=0.0, le=240.0)
    antennas: Real = Field(default=15.0, ge=0.0, le=240.0)
    travel_test: Real = Field(default=5.0, ge=0.0, le=240.0)
    sighting: Real = Field(default=10.0, ge=0.0, le=240.0)
    pull_test: Real = Field(default=2.0, ge=0.0, le=240.0)
    receive_check: Real = Field(default=5.0, ge=0.0, le=240.0)
    first_dials: Real = Field(default=3.0, ge=0.0, le=240.0)
    spare_share: Real = Field(default=0.2, ge=0.0, le=3.0)
