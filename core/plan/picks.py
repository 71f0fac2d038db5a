"""Which passes a plan's picks mean, and the picks after a pass is taken in or let go.

A pick names a satellite and a moment, not a pass: under element sets of another day every pass is a little
earlier or later. It means the pass of its satellite whose peak is nearest, within half a period: further off,
the pass it was made for is not among them, and the nearest is another one.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from core.base.times import format_iso, parse_iso
from core.base.units import DAY_S
from core.mount.evening.order.rules import Wanted
from core.passes.stays import Stay
from core.passes.track import Pass
from core.plan.document import Pick, Satellite


class NamesAPass(Protocol):
    """A satellite and a moment: a pick, or an entry of the log."""

    @property
    def norad_id(self) -> int:
        """Its catalogue number."""
        ...

    @property
    def near(self) -> str:
        """Near the peak, ISO 8601 UTC."""
        ...


def passes_meant(
    picks: Sequence[NamesAPass], satellites: tuple[Satellite, ...], passes: tuple[Pass, ...]
) -> tuple[int | None, ...]:
    """Index of the pass that each pick, or whatever else names one, means; None for one that means none."""
    return _meant(picks, satellites, passes)


def _meant(
    picks: Sequence[NamesAPass], satellites: tuple[Satellite, ...], rises: Sequence[Pass | Stay]
) -> tuple[int | None, ...]:
    """Index of the nearest peak of each pick's satellite within half a period, or None."""
    known = {satellite.elements.norad_id: satellite for satellite in satellites}
    own: dict[int, list[int]] = {}
    for index, rise in enumerate(rises):
        own.setdefault(rise.norad_id, []).append(index)

    def meant(pick: NamesAPass) -> int | None:
        satellite, near_s = known.get(pick.norad_id), parse_iso(pick.near)
        if satellite is None or pick.norad_id not in own:
            return None
        index = min(own[pick.norad_id], key=lambda i: abs(rises[i].peak.utc_s - near_s))
        half_period_s = DAY_S / satellite.elements.mean_motion_rev_day / 2.0
        return index if abs(rises[index].peak.utc_s - near_s) <= half_period_s else None

    return tuple(meant(pick) for pick in picks)


def match_picks(
    picks: tuple[Pick, ...], satellites: tuple[Satellite, ...], passes: tuple[Pass, ...]
) -> tuple[tuple[Wanted, ...] | None, tuple[str, ...]]:
    """The passes that picks mean, by index, and a sentence for every pick that adds none.

    Returns:
        The wanted passes (None without picks: then every pass is wanted), and the sentences.
    """
    if not picks:
        return None, ()
    names = {satellite.elements.norad_id: satellite.name for satellite in satellites}
    wanted: dict[int, Wanted] = {}
    told: list[str] = []
    for pick, index in zip(picks, passes_meant(picks, satellites, passes), strict=True):
        if pick.norad_id not in names:
            told.append(f"A pick names catalogue number {pick.norad_id}, which is not among the satellites.")
            continue
        when = f"{names[pick.norad_id]} near {format_iso(parse_iso(pick.near))[:19]}Z"
        if index is None:
            told.append(f"No pass of {when}, within half a revolution: the pick is left out.")
        elif index in wanted:
            told.append(f"Two picks name the same pass, {when}: the first counts.")
        else:
            way = None if pick.way is None else (pick.way.posture, pick.way.turn)
            wanted[index] = Wanted(index, pick.worth, way)
    return tuple(wanted[index] for index in sorted(wanted)), tuple(told)


def picked_indices(
    picks: tuple[Pick, ...], satellites: tuple[Satellite, ...], passes: tuple[Pass, ...]
) -> tuple[int, ...]:
    """Indices of the passes a study is about: the picked ones if there are any picks, else all."""
    if not picks:
        return tuple(range(len(passes)))
    return tuple(sorted({index for index in passes_meant(picks, satellites, passes) if index is not None}))


def picked_stays(
    picks: tuple[Pick, ...],
    satellites: tuple[Satellite, ...],
    passes: tuple[Pass, ...],
    stays: tuple[Stay, ...],
) -> frozenset[int]:
    """Indices of the stays over the horizon whose passes are picked; empty without picks.

    A stay is known by identity: the mask may leave nothing of one, and then it has no pass. A pick that means
    none of the passes means such a hidden stay, by the same rule: what hides it has its cost.
    """
    which = passes_meant(picks, satellites, passes)
    meant = {id(passes[index].stay) for index in which if index is not None}
    left = tuple(pick for pick, index in zip(picks, which, strict=True) if index is None)
    with_pass = {id(pass_.stay) for pass_ in passes}
    hidden = tuple(stay for stay in stays if id(stay) not in with_pass)
    meant |= {id(hidden[index]) for index in _meant(left, satellites, hidden) if index is not None}
    return frozenset(index for index, stay in enumerate(stays) if id(stay) in meant)


def pick_of_pass(
    picks: tuple[Pick, ...], satellites: tuple[Satellite, ...], passes: tuple[Pass, ...]
) -> dict[int, int]:
    """Index of the pick that counts for each picked pass (index of the pass -> index of the pick)."""
    found: dict[int, int] = {}
    for place, index in enumerate(passes_meant(picks, satellites, passes)):
        if index is not None:
            found.setdefault(index, place)
    return found


def picks_with(picks: tuple[Pick, ...], pass_: Pass, worth: float = 1.0) -> tuple[Pick, ...]:
    """The picks with one more, by time: the pass whose peak is where this one's is."""
    new = Pick(norad_id=pass_.norad_id, near=format_iso(pass_.peak.utc_s), worth=worth)
    return tuple(sorted((*picks, new), key=lambda pick: parse_iso(pick.near)))


def picks_without(
    picks: tuple[Pick, ...], satellites: tuple[Satellite, ...], passes: tuple[Pass, ...], index: int
) -> tuple[Pick, ...]:
    """The picks without any that means the pass of this index."""
    meant = passes_meant(picks, satellites, passes)
    return tuple(pick for pick, which in zip(picks, meant, strict=True) if which != index)
