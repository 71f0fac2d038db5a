"""Dial readings as they are printed."""

from __future__ import annotations

from dataclasses import dataclass

from core.mount.dial.readings import DialReading, azimuth_dial, dial_figure, elevation_dial
from core.mount.evening.drawn import DrawnPass
from core.mount.model.station import Mount


@dataclass(frozen=True)
class PrintedDial:
    """A dial reading as printed: the figure, and ``2nd`` where the dial reads the same twice."""

    figure: str
    time_round: str = ""

    @property
    def text(self) -> str:
        """``20`` or ``20 (2nd)``, as it stands on the page."""
        return f"{self.figure} ({self.time_round})" if self.time_round else self.figure


#: Where nothing can be set.
NO_DIAL = PrintedDial("")


def printed_dial(reading: DialReading) -> PrintedDial:
    """A reading as printed."""
    round_ = short_ordinal(reading.time_round) if reading.times_in_all > 1 else ""
    return PrintedDial(dial_figure(reading.shown_deg), round_)


def short_ordinal(number: int) -> str:
    """``1st``, ``2nd``, ``3rd``, ``4th``; no dial comes round eleven times."""
    return {1: "1st", 2: "2nd", 3: "3rd"}.get(number, f"{number}th")


def printed_azimuth(m_deg: float, mount: Mount) -> PrintedDial:
    """The azimuth dial where the axis is there."""
    return printed_dial(azimuth_dial(m_deg, mount.azimuth))


def printed_axes(m_deg: float, e_deg: float, mount: Mount) -> tuple[PrintedDial, PrintedDial]:
    """Both dials where the axes are there: azimuth, elevation."""
    return printed_azimuth(m_deg, mount), printed_dial(elevation_dial(e_deg, mount.elevation))


def dials_at(drawn: DrawnPass, utc_s: float, mount: Mount) -> tuple[PrintedDial, PrintedDial]:
    """Both dials at a moment of a pass; empty out of reach."""
    if not drawn.in_reach:
        return NO_DIAL, NO_DIAL
    return printed_axes(drawn.at(drawn.m_deg, utc_s), drawn.at(drawn.e_deg, utc_s), mount)


def place_words(m_deg: float, e_deg: float, mount: Mount) -> str:
    """``azimuth 180, elevation 0``, as the dials read."""
    azimuth, elevation = printed_axes(m_deg, e_deg, mount)
    return f"azimuth {azimuth.text}, elevation {elevation.text}"
