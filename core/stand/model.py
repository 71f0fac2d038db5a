"""What stands, hangs and catches wind: the plan's "stand".

Angles and radii in the tripod's frame (clockwise from the keyway in use, seen from above; from the azimuth
axis), heights over the ground. Defaults are common practice, no source, but for the drag of a long tube
(`WindArea`).
"""

from typing import Self

from pydantic import Field, model_validator

from core.base.model import Many, Model, Real, Turned
from core.base.text import GivenName, Name
from core.mount.clearance.lengths import LONGEST_MM, MOST_GUYS, MOST_LEGS

#: More masses, areas and things near by are a mistake.
MOST_MASSES, MOST_AREAS, MOST_HUNG, MOST_NEAR = 50, 50, 20, 50
#: A portable station's masses, kg, and a wind in which nobody is out, m/s.
MOST_KG, MOST_M_S = 1000.0, 100.0


class Foot(Model):
    """Where a leg stands on the ground."""

    from_keyway_deg: Turned = 0.0
    radius_mm: Real = Field(default=800.0, ge=1.0, le=LONGEST_MM)


class Mass(Model):
    """Something with a weight.

    ``turns``: with the antennas, so that it counts on every side, the angle being from the boom. ``carried``:
    by the tripod, so that it counts against its rating; a bag on a foot is not.
    """

    name: Name = "mass"
    mass_kg: Real = Field(ge=0.0, le=MOST_KG)
    height_mm: Real = Field(ge=0.0, le=LONGEST_MM)
    from_keyway_deg: Turned = 0.0
    radius_mm: Real = Field(default=0.0, ge=0.0, le=LONGEST_MM)
    turns: bool = False
    carried: bool = True


class WindArea(Model):
    """What the wind pushes on: area square to the wind, its drag coefficient, the height of its middle.

    The drag left out is that of a tube without ends across the flow, 1.20 (Aeronautical Engineer's Data Book,
    drag coefficients of shapes).
    """

    name: Name = "area"
    area_m2: Real = Field(ge=0.0, le=20.0)
    drag: Real = Field(default=1.2, ge=0.0, le=3.0)
    height_mm: Real = Field(ge=0.0, le=LONGEST_MM)


class HungMass(Model):
    """What hangs from the tripod on the axis: a battery, a bag. It must not swing."""

    name: Name = "hung"
    mass_kg: Real = Field(ge=0.0, le=MOST_KG)
    height_mm: Real = Field(default=300.0, ge=0.0, le=LONGEST_MM)


class StandGuy(Model):
    """A guy from the azimuth axis to a peg. ``holds_n``: what line and peg hold, for sure."""

    from_keyway_deg: Turned = 0.0
    height_mm: Real = Field(default=1200.0, ge=1.0, le=LONGEST_MM)
    peg_radius_mm: Real = Field(default=1500.0, ge=1.0, le=LONGEST_MM)
    holds_n: Real | None = Field(default=None, gt=0.0, le=100_000.0)


class Near(Model):
    """What a falling station could strike.

    ``bearing_deg`` is true, from the station. ``height_m`` is that of its lowest part over the ground: 0 of
    what stands on the ground (a path, a car), of a line its lowest wire.
    """

    name: GivenName
    bearing_deg: Turned
    distance_m: Real = Field(ge=0.0, le=1000.0)
    height_m: Real = Field(default=0.0, ge=0.0, le=500.0)


class Forecast(Model):
    """The forecast wind; either figure gives the other by the gust factor."""

    mean_m_s: Real | None = Field(default=None, ge=0.0, le=MOST_M_S)
    gust_m_s: Real | None = Field(default=None, ge=0.0, le=MOST_M_S)

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.mean_m_s is None and self.gust_m_s is None:
            raise ValueError("a forecast needs mean_m_s or gust_m_s")
        if self.mean_m_s is not None and self.gust_m_s is not None and self.gust_m_s < self.mean_m_s:
            raise ValueError("gust_m_s must be at least mean_m_s")
        return self


class Wishes(Model):
    """What is wished of the seat beside the passes, and how many seconds of signal each wish is worth.

    ``downhill_deg``: true bearing in which the ground falls; left out, the level readings say. A wish whose
    bearing nobody gave, or that is worth 0, is none. ``lost_weight`` is what a second lost counts.
    """

    downhill_deg: Real | None = Field(default=None, ge=-1440.0, le=1440.0)
    wind_from_deg: Real | None = Field(default=None, ge=-1440.0, le=1440.0)
    cable_toward_deg: Real | None = Field(default=None, ge=-1440.0, le=1440.0)
    lost_weight: Real = Field(default=1.0, ge=0.0, le=1000.0)
    leg_downhill_s: Real = Field(default=120.0, ge=0.0, le=100_000.0)
    lee_s: Real = Field(default=120.0, ge=0.0, le=100_000.0)
    cable_s: Real = Field(default=60.0, ge=0.0, le=100_000.0)


class Stand(Model):
    """The whole of it.

    ``margin`` is what the holding moment must be over the wind's in the gust. Legs and guys left out are the
    clearance's. ``settling_mm`` is how far one foot may sink. ``highest_mm`` is the highest point, where
    areas, masses and the clearance's booms do not reach it.
    """

    gust_factor: Real = Field(default=1.5, ge=1.0, le=4.0)
    margin: Real = Field(default=1.5, ge=1.0, le=5.0)
    air_density_kg_m3: Real = Field(default=1.225, ge=0.5, le=2.0)
    friction: Real = Field(default=0.4, ge=0.01, le=2.0)
    settling_mm: Real = Field(default=10.0, ge=0.0, le=500.0)
    legs: Many[Foot] = Field(default=(), max_length=MOST_LEGS)
    tripod_mass_kg: Real = Field(default=0.0, ge=0.0, le=MOST_KG)
    tripod_height_mm: Real = Field(default=500.0, ge=0.0, le=LONGEST_MM)
    tripod_rating_kg: Real | None = Field(default=None, gt=0.0, le=10_000.0)
    masses: Many[Mass] = Field(default=(), max_length=MOST_MASSES)
    areas: Many[WindArea] = Field(default=(), max_length=MOST_AREAS)
    hung: Many[HungMass] = Field(default=(), max_length=MOST_HUNG)
    guys: Many[StandGuy] = Field(default=(), max_length=MOST_GUYS)
    highest_mm: Real | None = Field(default=None, ge=1.0, le=LONGEST_MM)
    near: Many[Near] = Field(default=(), max_length=MOST_NEAR)
    forecast: Forecast | None = None
    wishes: Wishes = Wishes()

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        names = [one.name for one in self.near]
        if len(set(names)) != len(names):
            raise ValueError("near: two things have the same name")
        return self
