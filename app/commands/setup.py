"""`northkey setup`: finding true north on site, level, and how good it has to be."""

from __future__ import annotations

import argparse
import math

from app.commands.output import say, say_json, say_table, shown_progress
from app.commands.plan_input import add_plan_words, evaluated
from app.commands.ready_shapes import ready_shape
from app.commands.ready_words import say_ready
from app.commands.setup_shapes import setup_shape
from core.base.times import clock, parse_iso, parse_moment
from core.base.words import bearing_text, counted, signed
from core.evaluate import identity
from core.on_site import OnSite, set_up, usual_moment
from core.place.position import describe_position
from core.plan.assumed import assumed
from core.plan.document import Plan
from core.ready import Ready, get_ready
from core.setup.budget.answer import PointingBudget
from core.setup.budget.words import gained_sentence, improve_words, loss_words, rules_sentence, time_words
from core.setup.methods import Method
from core.setup.minutes import Minutes
from core.setup.sightings.answer import Residual, SightingFit
from core.setup.words import (
    SUN_CAUTION,
    best_sentence,
    declination_sentence,
    grid_sentence,
    level_sentence,
    shim_sentence,
    terms_words,
)

#: The printed sky has a line every so many minutes.
_EVERY_MINUTES = 10


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "setup",
        help="when to be there; on site: true north, level, sightings, and how good it has to be",
        description="When to be there, what to do in which order, what to pack. Ways to true north at a "
        "moment and how good each is, with the dials at which the boom points at the Sun, the Moon and "
        "Polaris; the plate's lean and what to put under which leg.",
    )
    add_plan_words(parser)
    parser.add_argument(
        "--at", metavar="ISO", help="the moment, UTC; without it, an hour before the evening's start"
    )
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0: there is always something to tell."""
    at_utc_s = None if options.at is None else parse_moment(options.at, "--at")
    plan, result, memo = evaluated(options)
    at_utc_s = usual_moment(plan) if at_utc_s is None else at_utc_s
    with shown_progress() as progress:
        found = set_up(plan, at_utc_s, memo, progress, result)
        ready = get_ready(plan, result, memo, progress)
    if options.json:
        head = {"identity": identity(plan), "assumed": list(assumed(plan))}
        say_json(head | setup_shape(found) | ready_shape(ready))
    else:
        _say(found, plan, result.time_zone, ready)
    return 0


def _say(found: OnSite, plan: Plan, zone: str, ready: Ready) -> None:
    say(f"{plan.title}  (plan {identity(plan)})")
    say((f"{plan.site.name}: " if plan.site.name else "") + describe_position(plan.site))
    say()
    say_ready(ready, zone)
    say(f"At {clock(found.at_utc_s)} UTC. {best_sentence(found.best)}")
    say(SUN_CAUTION)
    heads = ["way", "true", "up", "azimuth dial", "elevation dial", "good to", "made of, or why not"]
    say_table(heads, [_method_row(one) for one in found.methods])
    say()
    _say_sky(found)
    say("Compass: " + declination_sentence(found.declination))
    say("Map: " + grid_sentence(found.grid))
    say("Level: " + level_sentence(found.level, len(plan.level_readings)))
    if found.level is not None:
        say("Shims: " + shim_sentence(found.shims))
    if found.fit is not None:
        _say_fit(found.fit, plan)
    if found.budget is not None and found.budget.now.passes:
        _say_budget(found.budget, zone)


def _method_row(one: Method) -> list[str]:
    return [
        " ".join(filter(None, [one.method, one.target if one.method in ("landmark", "satellite") else ""])),
        "" if one.bearing_deg is None else bearing_text(one.bearing_deg),
        "" if one.elevation_deg is None else f"{one.elevation_deg:.1f}",
        "" if one.azimuth_dial is None else one.azimuth_dial.short,
        "" if one.elevation_dial is None else one.elevation_dial.short,
        "" if one.sigma_deg is None else f"{one.sigma_deg:.2f}",
        " ".join(filter(None, [terms_words(one.terms), one.reason])),
    ]


def _say_sky(found: OnSite) -> None:
    """Every ten minutes, what is up: true bearing, elevation as seen, both dials; the Sun with its shadow."""
    heads = ["UTC"]
    for body in found.minutes:
        heads += [f"{body.body} true", "up", "dials"]
    heads += ["shadow to", "of 1 m"]
    rows = []
    for minute in range(0, len(found.minutes[0].utc_s), _EVERY_MINUTES):
        row = [clock(float(found.minutes[0].utc_s[minute]), seconds=False)]
        for body in found.minutes:
            row += _sky_cells(body, minute)
        sun = found.minutes[0]
        rows.append([*row, *_shadow_cells(sun, minute)])
    say_table(heads, rows)
    say()


def _shadow_cells(sun: Minutes, minute: int) -> list[str]:
    length_m = float(sun.shadow_m[minute])
    if math.isnan(length_m):
        return ["", ""]
    return [bearing_text(float(sun.shadow_bearing_deg[minute])), f"{length_m:.2f}"]


def _sky_cells(body: Minutes, minute: int) -> list[str]:
    dials = body.dials[minute]
    if body.apparent_deg[minute] < 0.0:
        return ["", "down", ""]
    return [
        bearing_text(float(body.azimuth_deg[minute])),
        f"{body.apparent_deg[minute]:.1f}",
        "" if dials is None else f"{dials.azimuth.short}, {dials.elevation.short}",
    ]


def _say_fit(fit: SightingFit, plan: Plan) -> None:
    """The sightings with what is left of each, and what they say together."""
    say()
    say(f"Sightings: {counted(len(fit.kept), 'sighting')} of {len(plan.sightings)} in the fit")
    heads = ["no.", "UTC", "target", "azimuth left", "elevation left", "weight"]
    say_table(heads, [_residual_row(one, plan, fit) for one in fit.residuals])
    for refused in fit.refused:
        say(str(refused))
    for sentence in fit.sentences:
        say(sentence)


def _residual_row(one: Residual, plan: Plan, fit: SightingFit) -> list[str]:
    sighting = plan.sightings[one.index]
    weight = "left out" if one.index in fit.outliers else f"{one.weight:.2f}"
    return [
        str(one.index + 1),
        clock(parse_iso(sighting.time)),
        sighting.target,
        "" if one.azimuth_deg is None else signed(one.azimuth_deg),
        "" if one.elevation_deg is None else signed(one.elevation_deg),
        weight,
    ]


def _say_budget(budget: PointingBudget, zone: str) -> None:
    """How good the pointing is, by pass and antenna; how well each pass's time is known."""
    say()
    say("Pointing: " + rules_sentence(budget.now))
    gained = gained_sentence(budget)
    if gained:
        say(gained)
    known = {(one.norad_id, one.aos_utc_s): time_words(one, zone) for one in budget.times}
    heads = ["satellite", "local time", "antenna", "deg", "worst deg", "loss", "improve first"]
    rows = [
        [
            one.satellite,
            known[one.norad_id, one.aos_utc_s],
            one.antenna,
            f"{one.figures.rss_deg:.1f}",
            f"{one.figures.worst_deg:.1f}",
            loss_words(one.figures.loss_db),
            improve_words(one.figures),
        ]
        for one in budget.now.passes
    ]
    say_table(heads, rows)
