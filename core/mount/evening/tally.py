"""The evening in figures: how much signal, how much lost, how far the motor turns, what does not fit."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from core.mount.evening.results import EveningOrder


@dataclass(frozen=True)
class Tally:
    """Sums over an evening.

    Attributes:
        contacts: how many.
        seconds_on: on the beam over the mask. seconds_lost: over the mask and off it.
        turns_of_azimuth: azimuth travelled in contacts and between them, by way of idle, in full circles.
        misfits: contacts (their places in the order) whose move before does not fit.
    """

    contacts: int
    seconds_on: float
    seconds_lost: float
    turns_of_azimuth: float
    misfits: tuple[int, ...]


def tally(order: EveningOrder) -> Tally:
    """The sums of an evening's order; passes that overlap count each for themselves."""
    contacts = order.contacts
    lost = sum(contact.check.seconds_lost for contact in contacts)
    return Tally(
        contacts=len(contacts),
        seconds_on=sum(contact.check.seconds_in_all for contact in contacts) - lost,
        seconds_lost=lost,
        turns_of_azimuth=sum(_travelled_deg(order, place) for place in range(len(contacts))) / 360.0,
        misfits=tuple(i for i, c in enumerate(contacts) if c.move_before and not c.move_before.feasible),
    )


def _travelled_deg(order: EveningOrder, place: int) -> float:
    """Degrees the azimuth axis turns to get to a contact and through it, whatever the sense."""
    contact = order.contacts[place]
    pointing, between = contact.check.pointing, _moved_deg(order, place)
    if pointing is None:
        return between
    inside = (pointing.utc_s >= contact.start_utc_s) & (pointing.utc_s <= contact.end_utc_s)
    return between + float(np.abs(np.diff(pointing.m_deg[inside])).sum())


def _moved_deg(order: EveningOrder, place: int) -> float:
    """Degrees from the contact before to this one, by way of the idle place where the mount goes there."""
    move = order.contacts[place].move_before
    if move is None:
        return 0.0
    idles = (rest.m_deg for rest in order.rests if rest.kind == "idle" and rest.after == place - 1)
    stops = (move.m_from_deg, *idles, move.m_to_deg)
    return sum(abs(there - here) for here, there in pairwise(stops))
