"""The log as JSON. Field names are fixed: they are what scripts read."""

from __future__ import annotations

from typing import Any

from app.commands.shapes import number
from core.afterwards.edits import ReadBack
from core.afterwards.planned import azimuth_more_deg, elevation_more_deg, planned_at
from core.afterwards.rows import EveningLog, LogRow
from core.afterwards.sightings import FromLog, from_log
from core.afterwards.words import row_words, unmatched_words
from core.base.times import format_iso
from core.evaluate import Result
from core.plan.document import Plan


def log_shape(
    plan: Plan, result: Result, log: EveningLog, back: ReadBack | None, made: int, effect: str | None
) -> dict[str, Any]:
    """What `log --json` prints."""
    found = {id(one.row): one for one in from_log(plan, log)}
    return {
        "identity": result.identity,
        "assumed": list(result.assumed),
        "rows": [_row(row, plan, found.get(id(row))) for row in log.rows],
        "unmatched": list(unmatched_words(log, plan)),
        "read": None
        if back is None
        else {"new": back.new, "changed": back.changed, "same": back.same, "unmatched": back.unmatched},
        "sightings_made": made,
        "effect": effect,
    }


def _row(row: LogRow, plan: Plan, found: FromLog | None) -> dict[str, Any]:
    entry, planned = row.entry, planned_at(row, row.best_utc_s, plan.mount)
    noted = {
        name: None if entry is None else getattr(entry, name)
        for name in ("worked", "azimuth_dial_deg", "time_round", "elevation_dial_deg", "time", "last_heard")
    }
    return {
        "number": row.number,
        "satellite": row.pass_.satellite,
        "norad_id": row.pass_.norad_id,
        "start": format_iso(row.start_utc_s),
        "end": format_iso(row.end_utc_s),
        **noted,
        "note": "" if entry is None else entry.note,
        "printed_azimuth_dial_deg": None if planned is None else number(planned.azimuth.shown_deg),
        "printed_time_round": None if planned is None else planned.azimuth.time_round,
        "printed_elevation_dial_deg": None if planned is None else number(planned.elevation.shown_deg),
        "azimuth_more_deg": _or_null(azimuth_more_deg(row, plan.mount)),
        "elevation_more_deg": _or_null(elevation_more_deg(row, plan.mount)),
        "told": row_words(row, plan.mount)[0],
        "sighting": _sighting(found),
        "no_sighting": "" if found is None else found.reason,
    }


def _sighting(found: FromLog | None) -> str | None:
    if found is None or found.sighting is None:
        return None
    return "made" if found.same else "possible"


def _or_null(value: float | None) -> float | None:
    return None if value is None else number(value)
