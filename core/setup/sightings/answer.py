"""What the sightings say, in numbers and in sentences."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.angles import Floats
from core.mount.model.station import Posture
from core.setup.sightings.mistakes import Explanation
from core.setup.sightings.next_sighting import NextSighting
from core.setup.sightings.refused import SightingRefused


@dataclass(frozen=True)
class FittedLean:
    """The azimuth axis' lean, and its standard deviation along the bearing that is known worst."""

    angle_deg: float
    toward_deg: float
    sigma_deg: float


@dataclass(frozen=True)
class Constant:
    """One of the mount's own small errors, degrees: as fitted, or as assumed where not determined."""

    name: str
    deg: float
    sigma_deg: float
    determined: bool


@dataclass(frozen=True)
class Residual:
    """One sighting against the fit.

    Attributes:
        index: its place in the table.
        azimuth_deg, elevation_deg: measured less fitted, of the dial's axis; None where it was not read.
        weight: against the sharpest reading of the table, 1 at most; 0 where it was left out.
    """

    index: int
    azimuth_deg: float | None
    elevation_deg: float | None
    weight: float


@dataclass(frozen=True, eq=False)
class SightingFit:
    """What the sightings say.

    Attributes:
        correction_deg: epsilon in full, what the plan's correction shall be; None without an azimuth dial.
        correction_sigma_deg: one standard deviation; inf where nothing is known.
        posture: the posture that the correction holds for, where skew was fitted with it; None: both.
        elevation_zero_deg: what to add to the elevation axis' angle; None without an elevation dial.
        elevation_zero_sigma_deg: one standard deviation; inf where nothing is known.
        lean: None where it is known no better than was assumed.
        constants: the mount's own.
        covariance: (7, 7) of the unknowns in `names`, deg^2; inf on the diagonal of what is not determined.
        names: what its rows are.
        estimates: their values (7,), as assumed where the sightings say nothing.
        residuals: of every sighting that was read.
        kept: indices of the sightings that the fit rests on.
        outliers: indices of sightings that disagree with the others and were left out.
        doubtful: indices of sightings one of which is wrong, where it cannot be told which.
        undetermined: names of what the sightings do not determine.
        explanations: known mistakes that would explain what is off.
        next_sighting: where one more would tell most.
        refused: sightings that say nothing, by index.
        sentences: all this in words.
    """

    correction_deg: float | None
    correction_sigma_deg: float
    posture: Posture | None
    elevation_zero_deg: float | None
    elevation_zero_sigma_deg: float
    lean: FittedLean | None
    constants: tuple[Constant, ...]
    covariance: Floats
    names: tuple[str, ...]
    estimates: tuple[float, ...]
    residuals: tuple[Residual, ...]
    kept: tuple[int, ...]
    outliers: tuple[int, ...]
    doubtful: tuple[int, ...]
    undetermined: tuple[str, ...]
    explanations: tuple[Explanation, ...]
    next_sighting: NextSighting | None
    refused: tuple[SightingRefused, ...]
    sentences: tuple[str, ...]
