"""The adapter plate as the plan's "plate" says it.

Lengths in mm. Angles are clockwise seen from above, 0 at the datum mark; x = r sin, y = r cos. Below is the
tripod's side. Index holes are the mount's (`Mount.index_holes`): the plate adds at what radius and with which
screw.
"""

import re
from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, field_validator, model_validator

from core.base.model import Model, Real, Turned
from core.plate.tables.screws import Fit
from core.plate.tables.strengths import Material, Strength, Surface

Side = Literal["below", "above"]
ThreadName = Literal[
    "M3", "M4", "M5", "M6", "M8", "M10", "M12", "1/4-20 UNC", "3/8-16 UNC", "1/2-13 UNC", "3/4-10 UNC"
]
GivesFirst = Literal["clamp", "pin", "bolts"]

#: More holes than a hand-made plate has.
MOST_BOLTS = 48


def _material_name(value: object) -> object:
    """``6061`` and ``EN AW-6061-T6`` are 6061-T6, the temper that plates are sold in."""
    if isinstance(value, str):
        found = re.fullmatch(
            r"(?:EN AW-?|AA ?|AlMgSi ?|alumin(?:i)?um ?)?(6061|6082|7075)(?:-?T6(?:51)?)?", value, re.I
        )
        return f"{found[1]}-T6" if found else value
    return value


def _thread_name(value: object) -> object:
    """``M8x1.25`` is M8 and ``3/4-10`` is 3/4-10 UNC: all threads here are coarse."""
    if isinstance(value, str):
        coarse = {"M3": "0.5", "M4": "0.7", "M5": "0.8", "M6": "1", "M8": "1.25", "M10": "1.5", "M12": "1.75"}
        found = re.fullmatch(r"(M\d+) ?[xX×] ?([\d.]+)", value)
        if found and coarse.get(found[1]) == found[2].removesuffix(".0"):
            return found[1]
        if re.fullmatch(r"\d/\d-\d+", value):
            return f"{value} UNC"
    return value


PlateMaterial = Annotated[Material, BeforeValidator(_material_name)]
ThreadOf = Annotated[ThreadName, BeforeValidator(_thread_name)]
Place = Annotated[Real, Field(ge=-500.0, le=500.0)]


class Stock(Model):
    """What the part is cut from; sizes left out are the part's and what is cut away, 1 mm a face."""

    form: Literal["plate", "round bar"] = "plate"
    width_mm: Real | None = Field(default=None, ge=20.0, le=1000.0)
    thickness_mm: Real | None = Field(default=None, ge=3.0, le=150.0)


class Step(Model):
    """A ring that stands proud of its side by its height; its outer face goes into the tripod plate's bore.

    An inner diameter of 0 is a solid spigot. ``clearance_mm`` is the bore's diameter less the ring's as
    turned; left out, nothing is known of it and the play is the pin's alone.
    """

    inner_diameter_mm: Real = Field(default=0.0, ge=0.0, le=600.0)
    outer_diameter_mm: Real = Field(ge=5.0, le=600.0)
    height_mm: Real = Field(ge=0.5, le=100.0)
    side: Side = "below"
    clearance_mm: Real | None = Field(default=None, ge=0.0, le=5.0)

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.inner_diameter_mm >= self.outer_diameter_mm:
            raise ValueError("inner_diameter_mm must be below outer_diameter_mm")
        return self


class Bolts(Model):
    """The rotator's bolts: free coordinates if there are any, else a rectangle, else a circle.

    A rectangle's sides lie along x and y and are turned by ``first_angle_deg``. The heads lie in counterbores
    of ``counterbore_side``; the threads go ``engaged_mm`` (left out: two diameters) into the rotator's body,
    whose shear strength is ``body_shear_mpa``.
    """

    thread: ThreadOf = "M8"
    count: int = Field(default=4, ge=1, le=MOST_BOLTS)
    circle_diameter_mm: Real | None = Field(default=None, ge=5.0, le=600.0)
    first_angle_deg: Turned = 0.0
    rectangle_mm: (
        tuple[Annotated[Real, Field(gt=0.0, le=500.0)], Annotated[Real, Field(gt=0.0, le=500.0)]] | None
    ) = None
    points_mm: tuple[tuple[Place, Place], ...] | None = Field(
        default=None, min_length=1, max_length=MOST_BOLTS
    )
    head: Literal["ISO 4762", "ASME B18.3"] | None = None
    counterbore_side: Side = "below"
    fit: Fit = "normal"
    strength: Strength = "8.8"
    surface: Surface = "lubricated"
    torque_nm: Real | None = Field(default=None, ge=0.1, le=1000.0)
    engaged_mm: Real | None = Field(default=None, ge=1.0, le=100.0)
    body_shear_mpa: Real = Field(default=140.0, ge=20.0, le=600.0)

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.circle_diameter_mm is None and self.rectangle_mm is None and self.points_mm is None:
            raise ValueError("one of circle_diameter_mm, rectangle_mm and points_mm is needed")
        standard = "ISO 4762" if self.thread.startswith("M") else "ASME B18.3"
        if self.head not in (None, standard):
            raise ValueError(f"head: a cap screw {self.thread} is {standard}")
        return self


class Clamp(Model):
    """The centre bolt that clamps the plate onto the tripod plate, screwed into ``centre_thread`` from below.

    ``engaged_mm`` left out is the whole thread; ``contact_diameter_mm`` is how far out the two plates touch,
    left out to the plate's outside.
    """

    strength: Strength = "SAE 2"
    surface: Surface = "lubricated"
    torque_nm: Real | None = Field(default=None, ge=0.1, le=1000.0)
    engaged_mm: Real | None = Field(default=None, ge=1.0, le=150.0)
    contact_diameter_mm: Real | None = Field(default=None, ge=10.0, le=600.0)


class IndexPin(Model):
    """The cap screw in an index hole; its head sits in the tripod plate's keyway.

    ``engaged_mm`` is the tapped depth, left out two diameters; ``head_diameter_mm`` a measured or turned
    head, left out the standard's plain maximum.
    """

    thread: ThreadOf = "M5"
    circle_radius_mm: Real = Field(ge=5.0, le=300.0)
    strength: Strength = "8.8"
    surface: Surface = "lubricated"
    torque_nm: Real | None = Field(default=None, ge=0.1, le=1000.0)
    engaged_mm: Real | None = Field(default=None, ge=1.0, le=150.0)
    head_diameter_mm: Real | None = Field(default=None, ge=2.0, le=40.0)


class Keyway(Model):
    """The slot in the tripod plate; cut right across, the part goes in two ways."""

    width_mm: Real = Field(ge=1.0, le=60.0)
    depth_mm: Real = Field(ge=0.5, le=60.0)
    right_across: bool = False
    material: PlateMaterial = "6061-T6"


class Loads(Model):
    """What turns the joint about the azimuth axis.

    Wind of ``wind_m_s`` (the gust) on ``area_m2`` that stands ``lever_mm`` off the axis; it also tips the
    rotator, by ``drag_area_height_m3``, the sum of drag x area x height over the part. ``inertia_kg_m2`` is
    halted at the stop within ``stop_s``; a hand of ``hand_n`` at the boom's tip, ``boom_mm`` off the axis
    (left out: the longest of the plan's clearance, else 1500). ``friction`` between plates; ``gives_first``:
    what is meant to.
    """

    wind_m_s: Real = Field(default=20.0, ge=0.0, le=80.0)
    area_m2: Real = Field(default=0.24, ge=0.0, le=20.0)
    drag: Real = Field(default=1.2, ge=0.1, le=2.5)
    lever_mm: Real = Field(default=400.0, ge=0.0, le=10_000.0)
    drag_area_height_m3: Real = Field(default=0.3, ge=0.0, le=50.0)
    inertia_kg_m2: Real = Field(default=4.7, ge=0.0, le=1000.0)
    stop_s: Real = Field(default=0.02, ge=0.001, le=5.0)
    hand_n: Real = Field(default=200.0, ge=0.0, le=2000.0)
    boom_mm: Real | None = Field(default=None, ge=50.0, le=20_000.0)
    friction: Real = Field(default=0.15, ge=0.02, le=1.0)
    gives_first: GivesFirst = "clamp"


class Plate(Model):
    """The adapter. ``thickness_mm`` is the whole of it, step and all."""

    material: PlateMaterial = "6061-T6"
    stock: Stock = Stock()
    thickness_mm: Real = Field(ge=3.0, le=150.0)
    outside_diameter_mm: Real = Field(ge=20.0, le=600.0)
    step: Step | None = None
    bolts: Bolts | None = None
    centre_thread: ThreadName | None = None
    clamp: Clamp = Clamp()
    index_pin: IndexPin
    keyway: Keyway
    anodise_um: Real = Field(default=0.0, ge=0.0, le=150.0)
    loads: Loads = Loads()
    units: Literal["mm", "inch"] = "mm"

    _coarse = field_validator("centre_thread", mode="before")(_thread_name)

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.step is not None:
            if self.step.height_mm >= self.thickness_mm:
                raise ValueError("step: height_mm must be below thickness_mm, which is the whole thickness")
            if self.step.outer_diameter_mm > self.outside_diameter_mm:
                raise ValueError("step: outer_diameter_mm must not be over outside_diameter_mm")
        return self
