"""What the head strip says of the plan."""

from __future__ import annotations

from dataclasses import dataclass

from app.window.state.context import Context
from core.base.times import clock, to_datetime
from core.base.words import day_and_month
from core.elements.age import describe_age
from core.place.locator import locator_of
from core.place.zones import local_time


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
    where = (
        f"{abs(north):.4f} {'N' if north >= 0 else 'S'}  {abs(east):.4f} {'E' if east >= 0 else 'W'}  "
        f"{site.height_m:.0f} m  {locator_of(north, east)}"
    )
    # A title that names the site already need not say it twice.
    place = f"{site.name}  {where}" if site.name and site.name not in plan.title else where
    return HeadWords(plan.title, place, _hours(context), _ages(context))


def _hours(context: Context) -> str:
    """Local time first; until the zone of the place is known from a result, UTC alone."""
    plan = context.plan
    start, end = plan.evening.start_utc_s, plan.evening.end_utc_s
    day = to_datetime(start)
    universal = f"{clock(start, False)}-{clock(end, False)} UTC"
    result, before = context.result, context.result_plan
    if result is None or before is None or before.site != plan.site:
        return f"{day_and_month(day)} {day.year}   {universal}"
    first, last = local_time(start, result.time_zone), local_time(end, result.time_zone)
    return f"{day_and_month(first)} {first.year} {first:%H:%M}-{last:%H:%M} local   {universal}"


def _ages(context: Context) -> str:
    if not context.plan.satellites:
        return "no elements"
    if context.result is None or not context.result.element_ages:
        return ""
    days = [age for _name, _number, age in context.result.element_ages]
    low, high = min(days), max(days)
    if round(low, 1) == round(high, 1):
        return f"elements {describe_age(high)}"
    if low < 0.0:  # an epoch after the evening is not old
        ahead = f"epochs to {-low:.1f} days ahead"
        return f"elements with {ahead}" if high <= 0.0 else f"elements to {high:.1f} days old, {ahead}"
    return f"elements {low:.1f} to {high:.1f} days old"
