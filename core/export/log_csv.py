"""The log as CSV: a row for each contact, with what was noted beside what was printed."""

from __future__ import annotations

import csv
import io

from core.afterwards.planned import azimuth_more_deg, elevation_more_deg, planned_at
from core.afterwards.rows import EveningLog, LogRow
from core.afterwards.words import worked_words
from core.base.text import text_cell
from core.base.times import format_iso
from core.evaluate import Result
from core.export.identity import identity_lines
from core.log.model import LogEntry
from core.mount.dial.readings import DialReading, dial_figure
from core.mount.model.station import Mount
from core.plan.document import Plan

HEADS = (
    "number",
    "satellite",
    "norad_id",
    "date_utc",
    "start_utc",
    "end_utc",
    "worked",
    "azimuth_dial_deg",
    "azimuth_dial_time_round",
    "elevation_dial_deg",
    "dials_at_utc",
    "printed_azimuth_dial_deg",
    "printed_azimuth_dial_time_round",
    "printed_elevation_dial_deg",
    "azimuth_more_deg",
    "elevation_more_deg",
    "last_heard_utc",
    "note",
)


def log_csv(plan: Plan, result: Result, log: EveningLog, made_utc_s: float) -> str:
    """CSV text (RFC 4180) with comment lines, beginning with #, that carry the plan's identity.

    Contacts that nobody noted anything of have empty cells; an entry that means no pass of the evening has no
    times of one.

    Args:
        plan, result: the plan and what `evaluate` gave for it.
        log: the plan's, laid beside the result.
        made_utc_s: the making time, POSIX seconds.
    """
    text = io.StringIO()
    for line in identity_lines("log", plan, result, made_utc_s):
        text.write(f"# {line}\r\n")
    names = {one.elements.norad_id: one.name for one in plan.satellites}
    writer = csv.writer(text)
    writer.writerow(HEADS)
    writer.writerows(_row(row, plan.mount) for row in log.rows)
    for _place, entry in sorted((*log.unmatched, *log.doubled)):
        writer.writerow(_without_pass(entry, names.get(entry.norad_id, "")))
    return text.getvalue()


def _row(row: LogRow, mount: Mount) -> list[str]:
    entry, start = row.entry, format_iso(row.start_utc_s)
    planned = planned_at(row, row.best_utc_s, mount)
    return [
        "" if row.number is None else str(row.number),
        text_cell(row.pass_.satellite),
        str(row.pass_.norad_id),
        start[:10],
        start,
        format_iso(row.end_utc_s),
        *_noted(entry, format_iso(row.best_utc_s)),
        "" if planned is None else dial_figure(planned.azimuth.shown_deg),
        "" if planned is None else _time_round(planned.azimuth),
        "" if planned is None else dial_figure(planned.elevation.shown_deg),
        _figure(azimuth_more_deg(row, mount)),
        _figure(elevation_more_deg(row, mount)),
        *_heard(entry),
    ]


def _without_pass(entry: LogEntry, name: str) -> list[str]:
    best = entry.time or ""
    noted = _noted(entry, best)
    return [
        "",
        text_cell(name),
        str(entry.norad_id),
        entry.near[:10],
        "",
        "",
        *noted,
        *[""] * 5,
        *_heard(entry),
    ]


def _noted(entry: LogEntry | None, best: str) -> list[str]:
    if entry is None:
        return [""] * 5
    return [
        worked_words(entry.worked),
        _figure(entry.azimuth_dial_deg),
        "" if entry.time_round is None else str(entry.time_round),
        _figure(entry.elevation_dial_deg),
        best if entry.has_a_dial else entry.time or "",
    ]


def _heard(entry: LogEntry | None) -> list[str]:
    return ["", ""] if entry is None else [entry.last_heard or "", text_cell(entry.note)]


def _time_round(reading: DialReading) -> str:
    return str(reading.time_round) if reading.times_in_all > 1 else ""


def _figure(value: float | None) -> str:
    return "" if value is None else f"{round(value, 4) + 0.0:.9g}"
