"""What an evening is made of: contacts in order, the moves between them, and where the mount rests."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field
from math import ceil
from typing import Literal

from core.mount.model.results import PassCheck, Reason


@dataclass(frozen=True)
class Move:
    """From where the hand left the mount to where the next pass starts.

    Attributes:
        seconds_needed: both axes at their rates, as the mount drives them, settling included.
        seconds_there: from the end of one contact to the start of the next; negative where they overlap.
        m_from_deg, m_to_deg, e_from_deg, e_to_deg: the axes before and after.
        feasible: seconds_needed and the evening's margin fit.
    """

    seconds_needed: float
    seconds_there: float
    m_from_deg: float
    m_to_deg: float
    e_from_deg: float
    e_to_deg: float
    feasible: bool


@dataclass(frozen=True)
class Caution:
    """A move between contacts that would strike something.

    Attributes:
        contact: place in the order of the contact that it leads to; -1 to stow.
        text: what, where, and in which order it would not; whole sentences.
    """

    contact: int
    text: str


@dataclass(frozen=True)
class Halt:
    """Standing at the idle place between two contacts, or stowed after the last.

    Attributes:
        kind: "idle" or "stow".
        after: place in the order of the contact before; -1 before the first.
        m_deg, e_deg: the axes.
        start_utc_s, end_utc_s: from getting there to leaving; end None where it stays.
    """

    kind: Literal["idle", "stow"]
    after: int
    m_deg: float
    e_deg: float
    start_utc_s: float
    end_utc_s: float | None


@dataclass(frozen=True, eq=False)
class Contact:
    """One pass of the evening as it is worked.

    Attributes:
        check: the pass on the mount, followed in the way chosen; its pointing's ``worked`` ends where the
            contact does, and seconds_lost counts what is let go.
        reason: why.
        worth: the pick's worth, 1 without picks.
        picked: True where a pick named it.
        start_utc_s, end_utc_s: what is worked.
        move_before: from the contact before; None for the first.
        wrap_before_deg, wrap_after_deg: m - T/2 at the start and at the end: the cable's twist.
        joined_late_s, left_early_s: let go of the pass before the start and after the end.
    """

    check: PassCheck
    reason: Reason
    worth: float
    picked: bool
    start_utc_s: float
    end_utc_s: float
    move_before: Move | None
    wrap_before_deg: float
    wrap_after_deg: float
    joined_late_s: float = 0.0
    left_early_s: float = 0.0


@dataclass(frozen=True)
class EveningWorth:
    """What an evening is worth, in weighted seconds, and what that comes of.

    Attributes:
        signal_s: counted seconds of signal, each by its contact's worth.
        changes_s, postures_s, turning_s: what changes of satellite and of posture and turning azimuth cost.
        turned_deg: what azimuth turns, in contacts and between them.
        short_s: the best evening may be worth so much more at most; 0 where this is it.
    """

    signal_s: float = 0.0
    changes_s: float = 0.0
    postures_s: float = 0.0
    turning_s: float = 0.0
    turned_deg: float = 0.0
    short_s: float = 0.0

    @property
    def short_words(self) -> str:
        """That this may not be the best evening; empty where it is."""
        if self.short_s <= 0.0:
            return ""
        return f"{ceil(self.short_s)} s at most below the best order: too many long passes overlap"

    @property
    def worth_s(self) -> float:
        """The one number that the evening is chosen by."""
        return self.signal_s - self.changes_s - self.postures_s - self.turning_s


@dataclass(frozen=True)
class EveningReasons:
    """What the alternatives to an evening would cost.

    Attributes:
        why_so: of each contact, why it is worked so: the alternative refused, and by how much less the
            evening is then worth.
        why_left: of each pass left out, why.
    """

    why_so: tuple[str, ...]
    why_left: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class EveningOrder:
    """The evening in order.

    Attributes:
        contacts: by time.
        left_out: passes not taken, each with why as far as it is known at once (`EveningReasons` tell all).
        unmatched: sentences about picks that match no pass.
        motion: "full": as measured, acceleration, deadbands and the rest counted where they are told.
        rests: where the mount stands idle, and where it is stowed.
        worth: what the choice is worth.
        cautions: moves that would strike something.
    """

    contacts: tuple[Contact, ...]
    left_out: tuple[tuple[PassCheck, str], ...] = ()
    unmatched: tuple[str, ...] = field(default=())
    motion: str = "full"
    rests: tuple[Halt, ...] = ()
    worth: EveningWorth = field(default_factory=EveningWorth)
    cautions: tuple[Caution, ...] = ()


def contact_at(order: EveningOrder, utc_s: float) -> tuple[Contact | None, Contact | None]:
    """The contact being worked at a moment (the latest to start, of several), and the next one to start."""
    starts = [contact.start_utc_s for contact in order.contacts]
    place = bisect_right(starts, utc_s)
    running = [contact for contact in order.contacts[:place] if contact.end_utc_s >= utc_s]
    following = order.contacts[place] if place < len(starts) else None
    return (running[-1] if running else None), following
