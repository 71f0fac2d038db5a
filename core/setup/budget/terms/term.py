"""The terms of the pointing budget: what each is, how large, whence, and what it turns.

A term has one or several channels, each with a draw of its own. A channel's parts say which axes that one
draw turns, and how far: most have one part; what a fit of sightings leaves over has several, since its
figures err together.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, get_args

from core.setup.model import Side

Kind = Literal["random", "fixed for the evening"]
#: Size is one standard deviation of a normal one and the half width of a uniform one. "either flank": plus or
#: minus the size, by which flank of the play the gear lies on. "known": the size itself.
Distribution = Literal["normal", "uniform", "either flank", "known"]
#: What a draw turns. "azimuth" and "elevation": the axis, whatever its dial says. "azimuth gear", "elevation
#: gear": the same as far as the play shows. "lean north", "lean east": the top of the azimuth axis goes that
#: way. "track, seconds", "track, degrees": ahead along the satellite's path. "boom across": one antenna off
#: its crossboom's square, to the right seen from behind upright.
Turns = Literal[
    "azimuth",
    "elevation",
    "azimuth gear",
    "elevation gear",
    "lean north",
    "lean east",
    "track, seconds",
    "track, degrees",
    "boom across",
]
TURNS: tuple[Turns, ...] = get_args(Turns)

RANDOM: Kind = "random"
FIXED: Kind = "fixed for the evening"

#: One standard deviation in sizes, and the bound that the worst case takes: the ends of what is bounded, and
#: of a normal one twice its standard deviation (19 in 20 are nearer).
DEVIATION: dict[Distribution, float] = {
    "normal": 1.0,
    "uniform": 3.0**-0.5,
    "either flank": 1.0,
    "known": 1.0,
}
BOUND: dict[Distribution, float] = {"normal": 2.0, "uniform": 1.0, "either flank": 1.0, "known": 1.0}


@dataclass(frozen=True)
class Part:
    """What a channel turns, and its size there: one for all passes, or one for each.

    Attributes:
        turns: the axis.
        sizes: (1,) or (P,), degrees, or seconds along the track.
    """

    turns: Turns
    sizes: tuple[float, ...]


#: Parts that one draw turns together.
Channel = tuple[Part, ...]


@dataclass(frozen=True)
class Term:
    """One term of the budget.

    Attributes:
        name: e.g. "dial readout".
        kind: the same all evening, or another at every reading, step or satellite.
        distribution: of every channel.
        channels: independent of each other; empty for a term that is not there.
        size: as it was given, before it is laid on the axes.
        unit: of the size, "deg" or "s".
        source: where the size comes from, in words.
        default: what is taken where nobody says, in words.
        absorbed: a fit of sightings takes its place (as far as it fits that).
        per_antenna: drawn for each antenna by itself.
    """

    name: str
    kind: Kind
    distribution: Distribution
    channels: tuple[Channel, ...]
    size: float
    unit: str
    source: str
    default: str
    absorbed: bool = False
    per_antenna: bool = False

    def halved(self) -> Term:
        """The same at half its size."""
        return replace(
            self,
            size=self.size / 2.0,
            channels=tuple(
                tuple(Part(part.turns, tuple(size / 2.0 for size in part.sizes)) for part in channel)
                for channel in self.channels
            ),
        )


@dataclass(frozen=True)
class North:
    """How well the keyway's bearing is known, one standard deviation, and by which method."""

    sigma_deg: float
    method: str


@dataclass(frozen=True)
class Absorbed:
    """What a fit of sightings found, in place of north, play and, where fitted, elevation zero and lean.

    Attributes:
        correction_sigma_deg: of the azimuth correction; None where azimuth was not fitted.
        elevation_zero_sigma_deg: of the elevation zero; None where it was not fitted.
        lean_sigma_deg: of the lean, each way; None where it was not fitted.
        covariance_deg2: of what was fitted, in the order correction (clockwise), elevation zero (the axis
            stands higher), lean of the axis' top toward east, toward north, and with ``fitted_skew`` the
            sighted boom's angle to the right; None where they err independently.
        sighted: the antenna along whose boom it was sighted; None where no boom is in the correction.
        sighted_over: it was sighted over the top.
        fitted_skew: the covariance has the sighted boom's angle too.
        came_from: the side from which the azimuth dial came when it was set to read true; None where it was
            not, or where the fit refers to the middle of the gear's play.
        rose: the elevation dial came to its readings from below; None likewise.
    """

    correction_sigma_deg: float | None = None
    elevation_zero_sigma_deg: float | None = None
    lean_sigma_deg: float | None = None
    covariance_deg2: tuple[tuple[float, ...], ...] | None = None
    sighted: str | None = None
    sighted_over: bool = False
    fitted_skew: bool = False
    came_from: Side | None = None
    rose: bool | None = None

    def __post_init__(self) -> None:
        if self.fitted_skew and self.boom_in_correction is None:
            raise ValueError("fitted_skew wants the antenna that was sighted along, and a correction")

    @property
    def sigmas_deg(self) -> tuple[float | None, float | None, float | None]:
        """Of correction, elevation zero and lean."""
        return self.correction_sigma_deg, self.elevation_zero_sigma_deg, self.lean_sigma_deg

    @property
    def boom_in_correction(self) -> str | None:
        """The antenna whose boom's angle the correction holds."""
        return self.sighted if self.correction_sigma_deg is not None else None


def alone(turns: Turns, *sizes: float) -> Channel:
    """A channel of one part."""
    return (Part(turns, sizes),)
