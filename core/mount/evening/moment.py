"""One moment of a pass in the operator's figures: where the satellite is and what the dials show."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.drawn import DrawnPass, Kind
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount


@dataclass(frozen=True)
class PassMoment:
    """What is read at one moment of one pass.

    Attributes:
        utc_s: the moment.
        azimuth_deg, elevation_deg, range_km: the satellite, true.
        m_deg, e_deg: the axes; None where the pass is out of reach.
        dial_azimuth, dial_elevation: what the dials show, as text; empty where out of reach.
        off_deg: angle between boresight and satellite; 0 where out of reach.
        state: in words, e.g. "upright", "over the top", "turning back", "let go", "behind the mask".
    """

    utc_s: float
    azimuth_deg: float
    elevation_deg: float
    range_km: float
    m_deg: float | None
    e_deg: float | None
    dial_azimuth: str
    dial_elevation: str
    off_deg: float
    state: str


def start_axes(check: PassCheck) -> tuple[float, float] | None:
    """Both axes (m, e) at the first worked moment of a pass; None out of reach."""
    pointing = check.pointing
    if pointing is None:
        return None
    index = int(pointing.worked.argmax())
    return float(pointing.m_deg[index]), float(pointing.e_deg[index])


#: How a moment is worked, in words; screen and legend say the same.
KIND_WORDS = {
    Kind.UPRIGHT: "upright",
    Kind.OVER_THE_TOP: "over the top",
    Kind.MOVING: "turning back",
    Kind.LET_GO: "let go",
    Kind.HIDDEN: "behind the mask",
}


def moment_of(drawn: DrawnPass, mount: Mount, utc_s: float) -> PassMoment:
    """The figures of a moment, which is held inside the pass; ``drawn`` is not thinned."""
    moment = float(np.clip(utc_s, drawn.utc_s[0], drawn.utc_s[-1]))
    m_deg = drawn.at(drawn.m_deg, moment) if drawn.in_reach else None
    e_deg = drawn.at(drawn.e_deg, moment) if drawn.in_reach else None
    return PassMoment(
        utc_s=moment,
        azimuth_deg=drawn.bearing_at(moment),
        elevation_deg=drawn.at(drawn.elevation_deg, moment),
        range_km=drawn.at(drawn.range_km, moment),
        m_deg=m_deg,
        e_deg=e_deg,
        dial_azimuth=azimuth_dial(m_deg, mount.azimuth).short if m_deg is not None else "",
        dial_elevation=elevation_dial(e_deg, mount.elevation).short if e_deg is not None else "",
        off_deg=drawn.at(drawn.off_deg, moment) if drawn.in_reach else 0.0,
        state=_state(drawn, moment),
    )


def _state(drawn: DrawnPass, utc_s: float) -> str:
    if not drawn.in_reach:
        return "out of reach"
    index = min(int(np.searchsorted(drawn.utc_s, utc_s, side="right")) - 1, drawn.utc_s.size - 1)
    return KIND_WORDS[Kind(int(drawn.kind[index]))] + (", resting" if drawn.resting[index] else "")
