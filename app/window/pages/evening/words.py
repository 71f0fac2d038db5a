"""The Evening page's sentences: the head row, what does not fit, and what to do when nothing is shown."""

from __future__ import annotations

from dataclasses import dataclass

from app.window.state.context import Context
from core.base.times import clock
from core.base.words import counted
from core.mount.evening.lost import lost_in
from core.mount.evening.results import EveningOrder
from core.mount.evening.tally import Tally, tally


@dataclass(frozen=True)
class Nothing:
    """An empty page: what is so, why, and a button that leads to where it is cured (or none)."""

    title: str
    text: str
    button: str = ""
    page: str = ""


def evening_sentence(order: EveningOrder, passes: int, picked: bool, beam_limit_deg: float) -> str:
    """The head row: how many are worked, how much signal, what is lost and why, how far azimuth turns."""
    sums = tally(order)
    if picked:
        who = f"{sums.contacts} of {sums.contacts + len(order.left_out)} picks worked"
    else:
        who = f"{sums.contacts} of {passes} passes worked, none picked"
    lost = lost_in(order.contacts, beam_limit_deg)
    short = f"; {order.worth.short_words}" if order.worth.short_words else ""
    return (
        f"{who}: {sums.seconds_on / 60.0:.0f} min of signal; {lost.words}; "
        f"{sums.turns_of_azimuth:.1f} turns of azimuth{short}"
    )


def alarm_words(order: EveningOrder, sums: Tally) -> str:
    """What asks for a decision where passes are picked, empty where nothing does."""
    told = []
    if order.left_out:
        told.append(f"{counted(len(order.left_out), 'pick')} left out")
    if sums.misfits:
        verb = "does" if len(sums.misfits) == 1 else "do"
        told.append(f"{counted(len(sums.misfits), 'move')} {verb} not fit")
    if order.unmatched:
        told.append(f"{counted(len(order.unmatched), 'pick')} to look at")
    return ", ".join(told)


def strike_words(order: EveningOrder) -> str:
    """How many moves would strike something if made straight; empty where none does."""
    number = len(order.cautions)
    return f"{counted(number, 'move')} {'strikes' if number == 1 else 'strike'}" if number else ""


def nothing_words(context: Context) -> Nothing | None:
    """What an empty page says; None where there are passes to show."""
    plan, result = context.plan, context.evening_result
    if not plan.satellites:
        return Nothing(
            "No satellites yet",
            "Import element sets first: drop a file onto the window, or choose one on the Satellites page. "
            "Their passes over this site then appear here.",
            "Go to Satellites",
            "Satellites",
        )
    if result is None:
        return Nothing("Working out the passes", "The evening appears here in a moment.")
    if result.passes:
        return None
    start, end = plan.evening.start_utc_s, plan.evening.end_utc_s
    mask = "the horizon mask and " if plan.site.horizon else ""
    text = (
        f"None of {len(plan.satellites)} satellites comes over {mask}{plan.site.minimum_elevation_deg:g} deg "
        f"between {clock(start, False)} and {clock(end, False)} UTC."
    )
    if result.refused:
        reasons = "; ".join(str(error) for error in result.refused[:3])
        text += f" {len(result.refused)} could not be worked out: {reasons}."
        if len(result.refused) == len(plan.satellites):
            return Nothing("No passes", text, "Go to Satellites", "Satellites")
    return Nothing("No passes", text + " Change the hours or the minimum elevation.", "Go to Site", "Site")
