"""The station's lengths, as far as they decide whether something strikes: what the plan's "clearance" says.

All in the tripod's frame: angles clockwise from the keyway in use seen from above, heights over the ground,
radii from the azimuth axis. Lines have no thickness; what they have is in the stated gap.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any, Literal, Self

from pydantic import Field, model_validator

from core.base.model import Many, Model, Real, Turned
from core.base.text import Name

if TYPE_CHECKING:
    from core.mount.clearance.keep_out import KeepOut

#: More booms, legs and guys than a portable station has.
MOST_BOOMS, MOST_LEGS, MOST_GUYS = 8, 8, 16
#: Lengths of a portable station, mm.
LONGEST_MM = 20_000.0

Elements = Literal["horizontal", "vertical", "X"]


class Boom(Model):
    """An antenna's boom on the crossboom, looked at along boresight upright.

    ``side_mm`` is where it crosses the crossboom, left negative. The elements stand at the ends of front and
    tail, ``X`` being two at 45 deg; half lengths of 0 are no elements.
    """

    name: Name = "yagi"
    side_mm: Real = Field(default=0.0, ge=-LONGEST_MM, le=LONGEST_MM)
    front_mm: Real = Field(default=1000.0, ge=0.0, le=LONGEST_MM)
    tail_mm: Real = Field(default=500.0, ge=0.0, le=LONGEST_MM)
    front_half_element_mm: Real = Field(default=0.0, ge=0.0, le=LONGEST_MM)
    tail_half_element_mm: Real = Field(default=0.0, ge=0.0, le=LONGEST_MM)
    elements: Elements = "horizontal"


class Leg(Model):
    """A leg as a straight line from its foot on the ground to its top."""

    from_keyway_deg: Turned = 0.0
    radius_mm: Real = Field(default=800.0, ge=0.0, le=LONGEST_MM)
    top_radius_mm: Real = Field(default=50.0, ge=0.0, le=LONGEST_MM)
    top_height_mm: Real = Field(default=1200.0, ge=1.0, le=LONGEST_MM)


class Guy(Model):
    """A guy from the azimuth axis at ``height_mm`` to its peg in the ground."""

    from_keyway_deg: Turned = 0.0
    height_mm: Real = Field(default=1200.0, ge=1.0, le=LONGEST_MM)
    peg_radius_mm: Real = Field(default=1500.0, ge=1.0, le=LONGEST_MM)


class Column(Model):
    """The round column from the ground up to the azimuth axis' joint, which all that turns must clear too."""

    radius_mm: Real = Field(default=40.0, ge=0.0, le=1000.0)
    top_height_mm: Real = Field(default=1200.0, ge=1.0, le=LONGEST_MM)


class Cable(Model):
    """Where the cable leaves what turns, and how much slack is to be had for the whole travel."""

    from_keyway_deg: Turned = 0.0
    radius_mm: Real = Field(default=100.0, ge=0.0, le=5000.0)
    height_mm: Real = Field(default=1200.0, ge=0.0, le=LONGEST_MM)
    slack_mm: Real = Field(default=1000.0, ge=0.0, le=LONGEST_MM)


class Clearance(Model):
    """What turns and what stands still, and the least gap between them.

    ``axis_forward_mm`` is how far the elevation axis lies before the azimuth axis, along the bearing that the
    boom has at elevation 0. The crossboom is that axis: ``crossboom_left_mm`` and ``crossboom_right_mm`` are
    its halves.
    """

    axis_height_mm: Real = Field(default=1400.0, ge=100.0, le=LONGEST_MM)
    axis_forward_mm: Real = Field(default=0.0, ge=-2000.0, le=2000.0)
    crossboom_left_mm: Real = Field(default=0.0, ge=0.0, le=LONGEST_MM)
    crossboom_right_mm: Real = Field(default=0.0, ge=0.0, le=LONGEST_MM)
    booms: Many[Boom] = Field(default=(Boom(),), max_length=MOST_BOOMS)
    legs: Many[Leg] = Field(default=(), max_length=MOST_LEGS)
    guys: Many[Guy] = Field(default=(), max_length=MOST_GUYS)
    column: Column | None = None
    gap_mm: Real = Field(default=50.0, ge=1.0, le=2000.0)
    cable: Cable | None = None

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        names = [boom.name for boom in self.booms]
        if len(set(names)) != len(names):
            raise ValueError("booms: two booms have the same name")
        return self

    @cached_property
    def keep_out(self) -> KeepOut:
        """Where the boom must not be; worked out once, since every pass and seat asks it of these lengths."""
        from core.mount.clearance.keep_out import keep_out_of

        return keep_out_of(self)

    def __copy__(self) -> Self:
        """A copy is made to be changed: it works its own out."""
        copied = super().__copy__()
        copied.__dict__.pop("keep_out", None)
        return copied

    def __deepcopy__(self, memo: dict[int, Any] | None = None) -> Self:
        """As `__copy__`."""
        copied = super().__deepcopy__(memo)
        copied.__dict__.pop("keep_out", None)
        return copied
