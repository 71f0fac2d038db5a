"""Seconds lost, told apart by why: off the beam, let go for another contact, before joining.

What lies before a contact's start or after its end is lost by the choice only where the way that is followed
has the satellite in the beam there; where it has not, no earlier joining and no later leaving would gain it,
and it is off the beam like what is off it in between.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from core.base.words import duration
from core.mount.evening.results import Contact
from core.mount.model.results import Pointing

#: The words, the same everywhere.
OFF_BEAM, LET_GO, BEFORE_JOINING = "off the beam", "let go for another contact", "before joining"
#: Less is not told, seconds.
_NOTHING_S = 0.5
#: A touch of the beam's edge is inside.
_EDGE_DEG = 1e-9


@dataclass(frozen=True)
class SecondsLost:
    """Seconds over the mask that are not worked, by why; 0 or more each.

    Attributes:
        off_beam_s: the satellite is outside the beam of the way that is followed.
        let_go_s: it would be inside, but the contact ends before, for another one.
        before_joining_s: it would be inside, but the mount joins it only later.
    """

    off_beam_s: float = 0.0
    let_go_s: float = 0.0
    before_joining_s: float = 0.0

    @property
    def total_s(self) -> float:
        """All that is lost."""
        return self.off_beam_s + self.let_go_s + self.before_joining_s

    @property
    def words(self) -> str:
        """``"38 s off the beam, 2 min 06 s let go for another contact"``; ``"nothing lost"``."""
        pairs = (
            (self.off_beam_s, OFF_BEAM),
            (self.let_go_s, LET_GO),
            (self.before_joining_s, BEFORE_JOINING),
        )
        told = [f"{duration(seconds)} {why}" for seconds, why in pairs if seconds >= _NOTHING_S]
        return ", ".join(told) or "nothing lost"


def lost_of(contact: Contact, beam_limit_deg: float) -> SecondsLost:
    """What a contact loses of its pass; the three add up to its check's ``seconds_lost``.

    Args:
        contact: of an evening's order.
        beam_limit_deg: a satellite further off boresight is lost, `Station.beam_limit_deg`.
    """
    check = contact.check
    left_s = check.seconds_lost
    if check.pointing is None:
        return SecondsLost(off_beam_s=left_s)
    stretches = check.pass_.stretches
    before_s = after_s = 0.0
    if contact.joined_late_s > 0.0:
        before_s = _on_beam_s(check.pointing, stretches, beam_limit_deg, -np.inf, contact.start_utc_s)
    if contact.left_early_s > 0.0:
        after_s = _on_beam_s(check.pointing, stretches, beam_limit_deg, contact.end_utc_s, np.inf)
    # What is lost in all is measured on a coarser grid: the choice cannot have lost more than that.
    before_s = min(before_s, left_s)
    after_s = min(after_s, left_s - before_s)
    return SecondsLost(max(left_s - before_s - after_s, 0.0), after_s, before_s)


def lost_in(contacts: Iterable[Contact], beam_limit_deg: float) -> SecondsLost:
    """What an evening's contacts lose together."""
    each = [lost_of(contact, beam_limit_deg) for contact in contacts]
    return SecondsLost(
        sum(one.off_beam_s for one in each),
        sum(one.let_go_s for one in each),
        sum(one.before_joining_s for one in each),
    )


def _on_beam_s(
    pointing: Pointing,
    stretches: tuple[tuple[float, float], ...],
    limit_deg: float,
    from_utc_s: float,
    to_utc_s: float,
) -> float:
    """Seconds over the mask and in the beam between two moments, by the pointing's samples."""
    on = pointing.off_deg <= limit_deg + _EDGE_DEG
    inside = on[:-1] & on[1:]
    total = 0.0
    for start, end in stretches:
        low = np.maximum(pointing.utc_s[:-1], max(start, from_utc_s))
        high = np.minimum(pointing.utc_s[1:], min(end, to_utc_s))
        total += float(np.maximum(high - low, 0.0)[inside].sum())
    return total
