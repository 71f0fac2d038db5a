"""The log in words: short, the number first."""

from __future__ import annotations

from core.afterwards.planned import azimuth_more_deg, elevation_more_deg, is_within, planned_at
from core.afterwards.rows import EveningLog, LogRow
from core.base.times import clock, format_iso, parse_iso
from core.base.words import counted, figure, plain
from core.log.model import LogEntry
from core.mount.dial.readings import (
    azimuth_curve,
    azimuth_from_dial,
    dial_figure,
    elevation_curve,
    elevation_from_dial,
)
from core.mount.model.station import AzimuthAxis, ElevationAxis, Mount
from core.passes.track import Pass
from core.plan.document import Plan

#: A dial this far from the planned one may stand in the wrong row, dial degrees.
FAR_DEG = 30.0
#: A tenth is shown; less than half of it is no difference.
_NONE_DEG = 0.05


def worked_words(worked: bool | None) -> str:
    """``yes``, ``no`` or nothing."""
    return "" if worked is None else "yes" if worked else "no"


def planned_words(row: LogRow, mount: Mount) -> str:
    """``212.5 / 34``: the dials as printed for the moment that is noted, else for the peak."""
    planned = planned_at(row, row.best_utc_s, mount)
    if planned is None:
        return "out of reach"
    return f"{planned.azimuth.short} / {planned.elevation.short}"


def row_words(row: LogRow, mount: Mount) -> tuple[str, bool]:
    """What is to be said of a row's dials against what was planned, and whether it asks for attention."""
    entry = row.entry
    if entry is None or not (entry.has_a_dial or entry.time):
        return "", False
    if not is_within(row, row.best_utc_s):
        aos, los = clock(row.pass_.aos.utc_s), clock(row.pass_.los.utc_s)
        return f"{clock(row.best_utc_s)} is not in this pass, {aos} to {los} UTC", True
    off = off_the_dial_words(entry, mount)
    if off:
        return off, True
    told = [
        (words, more)
        for words, more in (
            ("azimuth", azimuth_more_deg(row, mount)),
            ("elevation", elevation_more_deg(row, mount)),
        )
        if more is not None
    ]
    if not told:
        return "", False
    off_plan = [f"{axis} {more_words(more)}" for axis, more in told if abs(more) >= _NONE_DEG]
    words = ", ".join(off_plan) if off_plan else "as planned"
    far = any(abs(more) > FAR_DEG for _axis, more in told)
    return (f"{words}: is it the right row?" if far else words), far


def more_words(more_deg: float) -> str:
    """``3 deg more than planned``, ``as planned``."""
    if abs(more_deg) < _NONE_DEG:
        return "as planned"
    return f"{plain(abs(more_deg), 1)} deg {'more' if more_deg > 0.0 else 'less'} than planned"


def off_the_dial_words(entry: LogEntry, mount: Mount) -> str:
    """Why a figure cannot have been read; empty where both can."""
    figure, level = entry.azimuth_dial_deg, entry.elevation_dial_deg
    if figure is not None:
        places = azimuth_from_dial(figure, mount.azimuth)
        if not places:
            return f"{plain(figure)} is not on the azimuth dial: {azimuth_span(mount.azimuth)}"
        if entry.time_round is not None and entry.time_round > len(places):
            many = "once" if len(places) == 1 else f"{len(places)} times"
            return f"The azimuth dial shows {plain(figure)} only {many}"
    if level is not None and elevation_from_dial(level, mount.elevation) is None:
        return f"{plain(level)} is not on the elevation dial: {elevation_span(mount.elevation)}"
    return ""


def azimuth_span(axis: AzimuthAxis) -> str:
    """``it shows 0 to 450``."""
    low, high = axis.dial_wraps_to_deg, axis.dial_wraps_at_deg
    if low is None or high is None:
        curve = azimuth_curve(axis)
        low, high = sorted((curve.dial_at(0.0), curve.dial_at(axis.travel_deg)))
    return f"it shows {dial_figure(low)} to {dial_figure(high)}"


def elevation_span(axis: ElevationAxis) -> str:
    """``it shows 0 to 180``."""
    curve = elevation_curve(axis)
    low, high = sorted((curve.dial_at(axis.minimum_deg), curve.dial_at(axis.maximum_deg)))
    return f"it shows {dial_figure(low)} to {dial_figure(high)}"


def pass_words(pass_: Pass) -> str:
    """``Alder, 17:40 to 17:52 UTC, peak 30 deg``."""
    first, last = (clock(end.utc_s, seconds=False) for end in (pass_.aos, pass_.los))
    return f"{pass_.satellite}, {first} to {last} UTC, peak {figure(pass_.peak.elevation_deg, 0)} deg"


def unmatched_words(log: EveningLog, plan: Plan) -> tuple[str, ...]:
    """A sentence for every entry that has no row."""
    names = {one.elements.norad_id: one.name for one in plan.satellites}
    told = []
    for _place, entry in log.unmatched:
        when = f"near {format_iso(parse_iso(entry.near))[:16].replace('T', ' ')} UTC"
        if entry.norad_id not in names:
            told.append(
                f"An entry {when} is of catalogue number {entry.norad_id}, which is not among the satellites."
            )
        else:
            told.append(f"No pass of {names[entry.norad_id]} {when}: its entry has no row.")
    for _place, entry in log.doubled:
        told.append(f"Two entries are of the same pass of {names[entry.norad_id]}: the first counts.")
    return tuple(told)


def summary_words(log: EveningLog) -> str:
    """In words: ``12 contacts planned: 9 worked, 2 not, 1 not noted; 1 pass more.``."""
    planned = [row for row in log.rows if row.number is not None]
    noted = [None if row.entry is None else row.entry.worked for row in planned]
    more = len(log.rows) - len(planned)
    parts = [f"{noted.count(True)} worked"]
    parts += [f"{noted.count(False)} not"] if noted.count(False) else []
    parts += [f"{noted.count(None)} not noted"] if noted.count(None) else []
    also = f"; {counted(more, 'pass')} more" if more else ""
    return f"{counted(len(planned), 'contact')} planned: {', '.join(parts)}{also}."


def other_identity_words(theirs: str, title: str, own: str) -> str:
    """That a file is of another plan, and what is done with it."""
    named = f"plan {theirs} ({title})" if title else f"plan {theirs}"
    return (
        f"The file is of {named}, this one is {own}. An edit after the page was made gives a plan another "
        "identity; another evening does too. Entries go to the passes they were noted near."
    )
