"""What the head strip says of the plan."""

from __future__ import annotations

from dataclasses import dataclass

from app.window.context import Context
from core.elements.age import describe_age
from core.errors import NorthkeyError
from core.locator import locator_of
from core.times import clock, to_datetime
from core.zones import local_time, resolve_time_zone


@dataclass(frozen=True)
class HeadWords:
    """The texts of the head strip."""

    title: str
    place: str
    hours: str
    ages: str


def head_words(context: Context) -> HeadWords:
    """The head strip's texts for the document's plan and the latest result."""
    plan, site = context.plan, context.plan.site
    north, east = site.latitude_deg, site.longitude_deg
    place = (
        f"{abs(north):.4f} {'N' if north >= 0 else 'S'}  {abs(east):.4f} {'E' if east >= 0 else 'W'}  "
        f"{site.height_m:.0f} m  {locator_of(north, east)}"
    )
    start, end = plan.evening.start_utc_s, plan.evening.end_utc_s
    day = to_datetime(start)
    hours = f"{clock(start, False)}-{clock(end, False)} UTC"
    try:
        zone = resolve_time_zone(site)
    except NorthkeyError:
        local = f"{day.day} {day:%b}"
    else:
        first, last = local_time(start, zone), local_time(end, zone)
        local = f"{first.day} {first:%b} {first:%H:%M}-{last:%H:%M} local"
    return HeadWords(plan.title, place, f"{local}   {hours}", _ages(context))


def _ages(context: Context) -> str:
    if context.result is None or not context.result.element_ages:
        return "no elements" if not context.plan.satellites else ""
    days = [age for _name, _number, age in context.result.element_ages]
    low, high = min(days), max(days)
    if round(low, 1) == round(high, 1):
        return f"elements {describe_age(high)}"
    return f"elements {low:.1f} to {high:.1f} days old"
