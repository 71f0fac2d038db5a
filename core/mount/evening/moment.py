"""One moment of the evening in the operator's figures: where the satellite is and what the dials show."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

import numpy as np

from core.base.angles import unwrap_deg, wrap_360
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.drawn import Kind, PassPath
from core.mount.evening.results import Contact, EveningOrder
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount


@dataclass(frozen=True)
class Reading:
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


_WORDS = {
    Kind.UPRIGHT: "upright",
    Kind.OVER_THE_TOP: "over the top",
    Kind.MOVING: "turning back",
    Kind.LET_GO: "let go",
    Kind.HIDDEN: "behind the mask",
}


def covers(path: PassPath, utc_s: float) -> bool:
    """The moment lies between AOS and LOS."""
    return bool(path.utc_s[0] <= utc_s <= path.utc_s[-1])


def reading_at(check: PassCheck, path: PassPath, mount: Mount, utc_s: float) -> Reading:
    """The figures of a moment, which is held inside the pass; ``path`` is the check's `pass_path`."""
    pass_, pointing = check.pass_, check.pointing
    moment = float(np.clip(utc_s, path.utc_s[0], path.utc_s[-1]))
    index = min(int(np.searchsorted(path.utc_s, moment, side="right")) - 1, path.utc_s.size - 1)
    state = _WORDS[Kind(int(path.kind[index]))]
    if path.resting[index]:
        state += ", resting"
    m_deg = e_deg = None
    off_deg = 0.0
    if pointing is not None:
        m_deg, e_deg, off_deg = (
            float(np.interp(moment, pointing.utc_s, values))
            for values in (pointing.m_deg, pointing.e_deg, pointing.off_deg)
        )
    return Reading(
        utc_s=moment,
        azimuth_deg=wrap_360(float(np.interp(moment, pass_.utc_s, unwrap_deg(pass_.azimuth_deg)))),
        elevation_deg=float(np.interp(moment, pass_.utc_s, pass_.elevation_deg)),
        range_km=float(np.interp(moment, pass_.utc_s, pass_.range_km)),
        m_deg=m_deg,
        e_deg=e_deg,
        dial_azimuth=azimuth_dial(m_deg, mount.azimuth).short if m_deg is not None else "",
        dial_elevation=elevation_dial(e_deg, mount.elevation).short if e_deg is not None else "",
        off_deg=off_deg,
        state=state if pointing is not None else "out of reach",
    )


def contact_at(order: EveningOrder, utc_s: float) -> tuple[Contact | None, Contact | None]:
    """The contact being worked at a moment (the latest to start, of several), and the next one to start."""
    starts = [contact.start_utc_s for contact in order.contacts]
    place = bisect_right(starts, utc_s)
    running = [contact for contact in order.contacts[:place] if contact.end_utc_s >= utc_s]
    following = order.contacts[place] if place < len(starts) else None
    return (running[-1] if running else None), following
