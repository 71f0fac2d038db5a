"""Getting ready as JSON shapes. Field names are fixed: they are what scripts read."""

from __future__ import annotations

from typing import Any

from app.commands.shapes import number
from core.base.times import format_iso
from core.ready import Ready
from core.setup.timetable import Timetable


def ready_shape(found: Ready) -> dict[str, Any]:
    """Timetable, checklist and kit."""
    return {
        "timetable": None if found.timetable is None else _timetable_shape(found.timetable),
        "checklist": [
            {"name": one.name, "text": one.words, "holds": one.holds, "done": one.done} for one in found.steps
        ],
        "kit": [{"what": one.what, "why": one.why} for one in found.kit],
    }


def _timetable_shape(found: Timetable) -> dict[str, Any]:
    light = found.light
    return {
        "arrive": format_iso(found.arrive_utc_s),
        "arrive_by_contact": format_iso(found.arrive_by_contact_utc_s),
        "first_contact": format_iso(found.ready_utc_s),
        "sun_last": _moment(light.sun_last_utc_s),
        "sunset": _moment(light.sunset_utc_s),
        "dusk": _moment(light.dusk_utc_s),
        "north": None if found.north is None else found.north.method,
        "spare_share": number(found.spare_share),
        "stages": [
            {
                "name": one.key,
                "start": format_iso(one.start_utc_s),
                "end": format_iso(one.end_utc_s),
                "minutes": number(one.minutes),
                "needs": one.need or None,
                "moved": one.moved,
                "dark": one.dark,
            }
            for one in found.stages
        ],
    }


def _moment(utc_s: float | None) -> str | None:
    return None if utc_s is None else format_iso(utc_s)
