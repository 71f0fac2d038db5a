"""Idling between contacts and stowing after the last, as the sheet says it."""

from __future__ import annotations

from core.base.times import clock
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.results import EveningOrder, Halt
from core.mount.model.station import Mount
from core.sheet.set_up import as_dial


def idle_before(order: EveningOrder, index: int) -> Halt | None:
    """Where the mount idles before a contact (its place in the order), or None."""
    return next((rest for rest in order.rests if rest.kind == "idle" and rest.after == index - 1), None)


def leave_by(rest: Halt) -> str:
    """When the idle place is left: ``17:13:14``."""
    return "" if rest.end_utc_s is None else clock(rest.end_utc_s)


def place_words(rest: Halt, mount: Mount) -> str:
    """``azimuth 180, elevation 0``, as the dials read."""
    azimuth = as_dial(azimuth_dial(rest.m_deg, mount.azimuth)).text
    elevation = as_dial(elevation_dial(rest.e_deg, mount.elevation)).text
    return f"azimuth {azimuth}, elevation {elevation}"


def stow_words(order: EveningOrder, mount: Mount) -> str:
    """``Stow at azimuth 180, elevation 90``; empty where it is not stowed."""
    rest = next((rest for rest in order.rests if rest.kind == "stow"), None)
    return "" if rest is None else f"Stow at {place_words(rest, mount)}"
