"""One element set, in OMM keywords (CCSDS 502.0-B, section 4) with the units of the standard."""

from __future__ import annotations

from typing import Literal

from pydantic import ConfigDict, Field

from core.model import Model, Real


class ElementSet(Model):
    """Mean elements for SGP4. Stored and written under the OMM keywords that are the aliases below.

    ``epoch`` is text in the calendar form ``YYYY-MM-DDThh:mm:ss[.f...]`` (UTC, no suffix), kept as text
    so that no digit is lost; ``epoch_jd`` gives it split in two floats.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", validate_by_name=True, validate_by_alias=True)

    name: str = Field(alias="OBJECT_NAME", min_length=1)
    object_id: str = Field(default="", alias="OBJECT_ID")
    center: Literal["EARTH"] = Field(default="EARTH", alias="CENTER_NAME")
    frame: Literal["TEME"] = Field(default="TEME", alias="REF_FRAME")
    time_system: Literal["UTC"] = Field(default="UTC", alias="TIME_SYSTEM")
    theory: Literal["SGP4"] = Field(default="SGP4", alias="MEAN_ELEMENT_THEORY")
    epoch: str = Field(alias="EPOCH")
    mean_motion_rev_day: Real = Field(alias="MEAN_MOTION", gt=0.0, lt=20.0)
    eccentricity: Real = Field(alias="ECCENTRICITY", ge=0.0, lt=1.0)
    inclination_deg: Real = Field(alias="INCLINATION", ge=0.0, le=180.0)
    raan_deg: Real = Field(alias="RA_OF_ASC_NODE", ge=-360.0, le=360.0)
    arg_perigee_deg: Real = Field(alias="ARG_OF_PERICENTER", ge=-360.0, le=360.0)
    mean_anomaly_deg: Real = Field(alias="MEAN_ANOMALY", ge=-360.0, le=360.0)
    ephemeris_type: int = Field(default=0, alias="EPHEMERIS_TYPE")
    classification: str = Field(default="U", alias="CLASSIFICATION_TYPE")
    norad_id: int = Field(alias="NORAD_CAT_ID", ge=1, le=999_999_999)
    element_set_no: int = Field(default=0, alias="ELEMENT_SET_NO", ge=0)
    rev_at_epoch: int = Field(default=0, alias="REV_AT_EPOCH", ge=0)
    bstar: Real = Field(default=0.0, alias="BSTAR")
    #: As printed in two-line sets: half the first derivative, rev/day^2.
    mean_motion_dot: Real = Field(default=0.0, alias="MEAN_MOTION_DOT")
    #: As printed in two-line sets: a sixth of the second derivative, rev/day^3.
    mean_motion_ddot: Real = Field(default=0.0, alias="MEAN_MOTION_DDOT")

    @property
    def epoch_jd(self) -> tuple[float, float]:
        """Julian date (UTC) of the epoch as whole day at midnight (ending in .5) and fraction of the day."""
        from core.elements.epochs import split_jd

        return split_jd(self.epoch)
