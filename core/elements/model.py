"""One element set, in OMM keywords (CCSDS 502.0-B, section 4) with the units of the standard."""

from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, ConfigDict, Field

from core.base.errors import ValueRangeError
from core.base.model import Model, Real
from core.base.text import GivenName, one_line
from core.elements.epochs import canonical_epoch, epoch_utc_s, split_jd

#: Names the standard and its own sample messages use for the one theory that is read here.
_SGP4_NAMES = frozenset({"SGP4", "SGP/SGP4", "SGP", "TLE"})
#: EPHEMERIS_TYPE numbers whose elements belong to SGP4: 0 as distributed, 1 and 2 as older files number it.
_SGP4_EPHEMERIS_TYPES = frozenset({0, 1, 2})

#: Spaceflight began in 1957; from an epoch thousands of years off SGP4 goes on step by step, for minutes.
_FIRST_YEAR, _LAST_YEAR = "1957", "2099"


def _object_id(text: str) -> str:
    """The standard writes UNKNOWN where an object has no international designator."""
    text = one_line(text)
    return "" if text.upper() == "UNKNOWN" else text


def _classification(text: str) -> str:
    return one_line(text) or "U"


def _epoch(text: str) -> str:
    try:
        epoch = canonical_epoch(text)
    except ValueRangeError as error:
        raise ValueError(f"is {error.value}, it must be {error.allowed}") from None
    if not _FIRST_YEAR <= epoch[:4] <= _LAST_YEAR:
        raise ValueError(f"is {epoch[:10]}, it must be in the years {_FIRST_YEAR} to {_LAST_YEAR}")
    return epoch


def _upper(value: object) -> object:
    return value.strip().upper() if isinstance(value, str) else value


def _theory(value: object) -> object:
    upper = _upper(value)
    return "SGP4" if upper in _SGP4_NAMES else upper


def _ephemeris_type(value: int) -> int:
    if value == 4:
        raise ValueError("is 4, elements of SGP4-XP, which is another propagator than SGP4")
    if value not in _SGP4_EPHEMERIS_TYPES:
        raise ValueError(f"is {value}, elements of another propagator: only SGP4 elements (0 or 2) are read")
    return value


class ElementSet(Model):
    """Mean elements for SGP4. Stored and written under the OMM keywords that are the aliases below.

    ``epoch`` is text in the calendar form ``YYYY-MM-DDThh:mm:ss[.f...]`` (UTC, no suffix, no trailing
    zeros), kept as text so that no digit is lost; any form the standard allows is taken and brought to
    this one. ``epoch_jd`` gives it split in two floats. Two equal sets have equal texts, so sets compare
    by value.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", validate_by_name=True, validate_by_alias=True)

    name: GivenName = Field(alias="OBJECT_NAME")
    object_id: Annotated[str, AfterValidator(_object_id)] = Field(default="", alias="OBJECT_ID")
    center: Annotated[Literal["EARTH"], BeforeValidator(_upper)] = Field(default="EARTH", alias="CENTER_NAME")
    frame: Annotated[Literal["TEME"], BeforeValidator(_upper)] = Field(default="TEME", alias="REF_FRAME")
    time_system: Annotated[Literal["UTC"], BeforeValidator(_upper)] = Field(
        default="UTC", alias="TIME_SYSTEM"
    )
    theory: Annotated[Literal["SGP4"], BeforeValidator(_theory)] = Field(
        default="SGP4", alias="MEAN_ELEMENT_THEORY"
    )
    epoch: Annotated[str, AfterValidator(_epoch)] = Field(alias="EPOCH")
    mean_motion_rev_day: Real = Field(alias="MEAN_MOTION", gt=0.0, lt=20.0)
    eccentricity: Real = Field(alias="ECCENTRICITY", ge=0.0, lt=1.0)
    inclination_deg: Real = Field(alias="INCLINATION", ge=0.0, le=180.0)
    raan_deg: Real = Field(alias="RA_OF_ASC_NODE", ge=-360.0, le=360.0)
    arg_perigee_deg: Real = Field(alias="ARG_OF_PERICENTER", ge=-360.0, le=360.0)
    mean_anomaly_deg: Real = Field(alias="MEAN_ANOMALY", ge=-360.0, le=360.0)
    ephemeris_type: Annotated[int, AfterValidator(_ephemeris_type)] = Field(default=0, alias="EPHEMERIS_TYPE")
    classification: Annotated[str, AfterValidator(_classification)] = Field(
        default="U", alias="CLASSIFICATION_TYPE"
    )
    norad_id: int = Field(alias="NORAD_CAT_ID", ge=1, le=999_999_999)
    element_set_no: int = Field(default=0, alias="ELEMENT_SET_NO", ge=0, le=999_999_999)
    rev_at_epoch: int = Field(default=0, alias="REV_AT_EPOCH", ge=0, le=999_999_999)
    bstar: Real = Field(default=0.0, alias="BSTAR")
    #: As printed in two-line sets: half the first derivative, rev/day^2. SGP4 itself never uses it.
    mean_motion_dot: Real = Field(default=0.0, alias="MEAN_MOTION_DOT")
    #: As printed in two-line sets: a sixth of the second derivative, rev/day^3. SGP4 itself never uses it.
    mean_motion_ddot: Real = Field(default=0.0, alias="MEAN_MOTION_DDOT")

    @property
    def epoch_jd(self) -> tuple[float, float]:
        """Julian date (UTC) of the epoch as whole day at midnight (ending in .5) and fraction of the day."""
        return split_jd(self.epoch)

    @property
    def epoch_utc_s(self) -> float:
        """The epoch in POSIX seconds."""
        return epoch_utc_s(self.epoch)
