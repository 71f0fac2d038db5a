"""Moves between contacts that would strike something: what, where, and in which order they would not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from core.base.times import clock
from core.mount.check.strike_words import boom_words, gap_words
from core.mount.check.strikes import Barring, barring_of, strike_of
from core.mount.clearance.lengths import Clearance
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.joining import AxisAngles, Joining, joining, place_at
from core.mount.evening.line import Leg, evening_line, straight_move
from core.mount.evening.order.rules import MountStart
from core.mount.evening.results import Caution, EveningOrder
from core.mount.model.results import PassCheck, Pointing
from core.mount.model.station import UPRIGHT, Mount, Station

_FROM_ANYWHERE = "From elsewhere not every straight move is clear: look before you turn."
#: Elevations to turn at that are tried beside the ends of the move itself.
_TURNED_AT_DEG = tuple(float(e) for e in sorted(range(0, 181, 5), key=lambda e: abs(e - 90)))


def cautions_of(
    order: EveningOrder, station: Station, mount_start: MountStart | None = None
) -> tuple[Caution, ...]:
    """A caution for every move of the evening's line that would strike; none without lengths."""
    barring, lengths = barring_of(station), station.clearance
    if barring is None or lengths is None:
        return ()
    found = []
    for leg in evening_line(order, station.mount, 0.0, mount_start):
        if leg.kind not in {"move", "stowing", "misfit"}:
            continue
        strikes = _strike_words(leg, barring, lengths, station.mount)
        if strikes:
            to = "stow" if leg.contact < 0 else order.contacts[leg.contact].check.pass_.satellite
            text = f"Made straight, the move to {to} at {clock(float(leg.utc_s[0]))} {strikes}"
            found.append(Caution(leg.contact, text))
    return tuple(found)


def joining_with_caution(check: PassCheck, station: Station, idle: AxisAngles) -> Joining | None:
    """`joining`, which goes straight to the pass, with the caution that this strikes where it does.

    Asked are the moves from the idle place to where the pass begins and to where it is joined. From anywhere
    is from very many places: with anything to strike it is said that not all of their moves are clear.
    """
    found = joining(check, station.mount, idle)
    barring, lengths = barring_of(station), station.clearance
    if found is None or barring is None or lengths is None or check.pointing is None:
        return found
    moments = (found.start_utc_s, found.from_idle_utc_s)
    told: tuple[str, ...] = ()
    for utc_s in moments:
        if utc_s is None or told:
            continue
        there = place_at(check.pointing, utc_s)
        leg = straight_move("move", 0, found.start_utc_s, idle, there, station.mount)
        strikes = _strike_words(leg, barring, lengths, station.mount)
        told = (f"Straight from idle it {strikes}",) if strikes else ()
    return replace(found, caution=" ".join((*told, _FROM_ANYWHERE)))


def _strike_words(leg: Leg, barring: Barring, lengths: Clearance, mount: Mount) -> str:
    """What a move strikes, and which order of it does not; empty where it strikes nothing."""
    still = np.zeros(leg.utc_s.size, dtype=bool)
    moving = Pointing(leg.utc_s, leg.m_deg, leg.e_deg, np.zeros(leg.utc_s.size), still, ~still)
    strike = strike_of(moving, barring, lengths, (UPRIGHT, 0))
    if strike is None:
        return ""
    return (
        f"strikes {strike.standing}: {strike.turning}, {boom_words(strike.boom_from_keyway_deg)}, "
        f"elevation {strike.e_deg:.0f}; {gap_words(strike.gap_mm, strike.wanted_mm)}. "
        f"{_order_words(leg, barring, mount)}"
    )


def _order_words(leg: Leg, barring: Barring, mount: Mount) -> str:
    """The order of one axis at a time that is clear."""
    here, there = AxisAngles(float(leg.m_deg[0]), float(leg.e_deg[0])), leg.end
    at_deg = turning_elevation_deg(here, there, barring, mount)
    if at_deg is None:
        return "No order of one axis at a time is clear: look before every step."
    last = f"elevation to dial {elevation_dial(there.e_deg, mount.elevation).text}"
    turned = f"turn to dial {azimuth_dial(there.m_deg, mount.azimuth).text}"
    first = f"elevation to dial {elevation_dial(at_deg, mount.elevation).text} first"
    if at_deg == here.e_deg:
        return f"Clear is: {turned} first, then {last}."
    if at_deg == there.e_deg:
        return f"Clear is: {first}, then {turned}."
    return f"Clear is: {first}, then {turned}, then {last}."


def turning_elevation_deg(
    here: AxisAngles, there: AxisAngles, barring: Barring, mount: Mount
) -> float | None:
    """At which elevation azimuth may turn from one place to another; None where at none that is tried.

    Elevation goes there first, then azimuth turns, then elevation goes on. The higher of the two ends is
    tried first, then straight up, the lower end, and what is nearest to straight up.
    """
    low, high = sorted((here.e_deg, there.e_deg))
    for at in (high, 90.0, low, *_TURNED_AT_DEG):
        if not mount.elevation.minimum_deg <= at <= mount.elevation.maximum_deg:
            continue
        m_deg = np.array([here.m_deg, here.m_deg, there.m_deg, there.m_deg])
        e_deg = np.array([here.e_deg, at, at, there.e_deg])
        if not barring.steps(m_deg, e_deg).any():
            return at
    return None
