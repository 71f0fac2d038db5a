"""`northkey passes`: passes of element files over a site, without a plan."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from typing import Any

from app.commands.elements_input import add_elements_words, sets_of, site_of
from app.commands.output import json_text, say, say_json_list, say_table, shown_progress, tell_all
from app.commands.shapes import pass_shape, refused_shape
from app.commands.words import refusal_words
from core.base.errors import ValueRangeError
from core.base.times import clock, format_iso
from core.base.units import DAY_S
from core.base.words import counted, cut_words
from core.elements.age import REFUSED_AGE_DAYS
from core.passes.track import Pass
from core.place.site import Site


def add_parser(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """The command's words."""
    parser = commands.add_parser(
        "passes",
        help="passes of element files over a site (no plan needed)",
        description="Passes of the satellites in element files (two-line sets, or OMM as KVN, XML, JSON or "
        "CSV) over a site. Times are UTC.",
    )
    add_elements_words(parser)
    parser.add_argument("--json", action="store_true", help="JSON instead of a table")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if anything was answered, 2 if nothing."""
    from core.base.times import parse_moment
    from core.passes.crowd import predict_crowd

    site = site_of(options)
    start = parse_moment(options.start, "--start")
    if not 1.0 <= options.hours * 3600.0 <= 31 * DAY_S:
        raise ValueRangeError("--hours", options.hours, "from 0.0003 (a second) to 744 (31 days)")
    sets = sets_of(options, start)
    window = start, start + options.hours * 3600.0
    with shown_progress() as progress:
        tell_pass: Callable[[Pass], Any] = _json if options.json else _row
        told, refused = predict_crowd(
            sets, site, window, tell_pass, progress, options.max_age or REFUSED_AGE_DAYS
        )
    tell_all(refusal_words(error) for error in refused)
    if options.json:
        say_json_list("passes", told, {"refused": refused_shape(refused)})
    else:
        _say(told, site, start, options)
    return 0 if len(refused) < len(sets) or told else 2


def _json(pass_: Pass) -> str:
    return json_text(pass_shape(pass_))


def _say(rows: Sequence[Sequence[str]], site: Site, start: float, options: argparse.Namespace) -> None:
    from core.place.position import describe_position

    say(describe_position(site))
    say(
        f"{counted(len(rows), 'pass')} over {site.minimum_elevation_deg:g} deg"
        f"{' and the horizon mask' if site.horizon else ''}, "
        f"{options.hours:g} h from {format_iso(start)}; times UTC"
    )
    if not rows:
        return
    say()
    heads = ["satellite", "number", "date", "AOS", "az", "peak", "el", "az", "LOS", "az", "min", "km", ""]
    say_table(heads, rows, left=(0, 12))


def _row(pass_: Pass) -> list[str]:
    lasting = sum(end - begin for begin, end in pass_.stretches)
    return [
        pass_.satellite,
        str(pass_.norad_id),
        format_iso(pass_.aos.utc_s)[:10],
        clock(pass_.aos.utc_s),
        f"{pass_.aos.azimuth_deg:.0f}",
        clock(pass_.peak.utc_s),
        f"{pass_.peak.elevation_deg:.1f}",
        f"{pass_.peak.azimuth_deg:.0f}",
        clock(pass_.los.utc_s),
        f"{pass_.los.azimuth_deg:.0f}",
        f"{lasting / 60.0:.1f}",
        f"{pass_.tca.range_km:.0f}",
        _remark(pass_),
    ]


def _remark(pass_: Pass) -> str:
    remarks = []
    if pass_.cut:
        remarks.append(cut_words(pass_.cut))
    if len(pass_.stretches) > 1:
        remarks.append(f"in {len(pass_.stretches)} stretches")
    return ", ".join(remarks)
