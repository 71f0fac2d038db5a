"""Which passes the plan's picks mean."""

from __future__ import annotations

from core.base.times import format_iso, parse_iso
from core.base.units import DAY_S
from core.mount.evening.order.rules import Wanted
from core.passes.track import Pass
from core.plan.document import Pick, Satellite


def match_picks(
    picks: tuple[Pick, ...], satellites: tuple[Satellite, ...], passes: tuple[Pass, ...]
) -> tuple[tuple[Wanted, ...] | None, tuple[str, ...]]:
    """Each pick's pass: the one of its satellite whose peak is nearest to ``near``, within half a period.

    Returns:
        The wanted passes (None without picks), and a sentence for every pick that names none.
    """
    if not picks:
        return None, ()
    known = {satellite.elements.norad_id: satellite for satellite in satellites}
    wanted: dict[int, Wanted] = {}
    told: list[str] = []
    for pick in picks:
        satellite = known.get(pick.norad_id)
        if satellite is None:
            told.append(f"A pick names catalogue number {pick.norad_id}, which is not among the satellites.")
            continue
        near = parse_iso(pick.near)
        own = [index for index, pass_ in enumerate(passes) if pass_.norad_id == pick.norad_id]
        index = min(own, key=lambda i: abs(passes[i].peak.utc_s - near), default=None)
        half_period_s = DAY_S / satellite.elements.mean_motion_rev_day / 2.0
        when = f"{satellite.name} near {format_iso(near)[:19]}Z"
        if index is None or abs(passes[index].peak.utc_s - near) > half_period_s:
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
    """Indices of the passes a study is about: the picked ones if there are any, else all."""
    wanted, _told = match_picks(picks, satellites, passes)
    return tuple(range(len(passes))) if wanted is None else tuple(want.index for want in wanted)
