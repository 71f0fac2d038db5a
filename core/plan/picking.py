"""Picking passes: which pick means which pass, and the picks after a pass is taken in or let go."""

from __future__ import annotations

from core.base.times import format_iso, parse_iso
from core.passes.track import Pass
from core.plan.document import Pick, Satellite
from core.plan.picks import match_picks


def pick_of_pass(
    picks: tuple[Pick, ...], satellites: tuple[Satellite, ...], passes: tuple[Pass, ...]
) -> dict[int, int]:
    """Index of the pick that counts for each picked pass (index of the pass -> index of the pick)."""
    found: dict[int, int] = {}
    for place, index in enumerate(_meant(picks, satellites, passes)):
        if index is not None:
            found.setdefault(index, place)
    return found


def _meant(
    picks: tuple[Pick, ...], satellites: tuple[Satellite, ...], passes: tuple[Pass, ...]
) -> list[int | None]:
    """The pass each pick means, or None where it names none."""
    meant: list[int | None] = []
    for pick in picks:
        wanted, _told = match_picks((pick,), satellites, passes)
        meant.append(wanted[0].index if wanted else None)
    return meant


def picks_with(picks: tuple[Pick, ...], pass_: Pass, worth: float = 1.0) -> tuple[Pick, ...]:
    """The picks with one more, by time: the pass whose peak is where this one's is."""
    new = Pick(norad_id=pass_.norad_id, near=format_iso(pass_.peak.utc_s), worth=worth)
    return tuple(sorted((*picks, new), key=lambda pick: parse_iso(pick.near)))


def picks_without(
    picks: tuple[Pick, ...], satellites: tuple[Satellite, ...], passes: tuple[Pass, ...], index: int
) -> tuple[Pick, ...]:
    """The picks without any that means the pass of this index."""
    meant = _meant(picks, satellites, passes)
    return tuple(pick for pick, which in zip(picks, meant, strict=True) if which != index)
