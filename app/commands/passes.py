"""`northkey passes`: passes of element files over a site, without a plan."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from typing import Any

from app.commands.output import json_text, say, say_json_list, say_table, shown_progress, tell, tell_all
from app.commands.shapes import pass_shape, refused_shape
from app.commands.words import refusal_words
from core.base.errors import NorthkeyError, ValueRangeError
from core.base.times import clock, format_iso
from core.base.units import DAY_S
from core.base.words import counted, cut_words
from core.elements.age import REFUSED_AGE_DAYS, age_days, far_words
from core.elements.model import ElementSet
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
    parser.add_argument("--elements", nargs="+", required=True, metavar="FILE", help="element files")
    parser.add_argument(
        "--site",
        required=True,
        metavar="LAT,LON[,HEIGHT_M]",
        help="degrees, north and east positive, height in metres; or a grid locator such as JN47ne",
    )
    parser.add_argument("--start", required=True, metavar="ISO", help="e.g. 2024-11-01T16:00:00Z")
    parser.add_argument("--hours", required=True, type=float, metavar="H", help="length of the window")
    parser.add_argument(
        "--min-elevation", type=float, default=5.0, metavar="DEG", help="minimum elevation (default: 5)"
    )
    parser.add_argument(
        "--horizon", metavar="FILE", help="CSV of azimuth, elevation points of the horizon mask"
    )
    parser.add_argument(
        "--max-age",
        type=float,
        default=REFUSED_AGE_DAYS,
        metavar="DAYS",
        help="refuse element sets whose epoch lies further from the start, either way "
        f"(default: {REFUSED_AGE_DAYS:g})",
    )
    parser.add_argument("--names", metavar="N,N", help="only these satellites, by name or catalogue number")
    parser.add_argument("--json", action="store_true", help="JSON instead of a table")
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> int:
    """Exit code 0 if anything was answered, 2 if nothing."""
    from core.elements.files import read_element_files
    from core.passes.crowd import predict_crowd
    from core.plan.document import parse_moment

    site = _site(options)
    start = parse_moment(options.start, "--start")
    if not 1.0 <= options.hours * 3600.0 <= 31 * DAY_S:
        raise ValueRangeError("--hours", options.hours, "from 0.0003 (a second) to 744 (31 days)")
    if not options.max_age > 0.0:
        raise ValueRangeError("--max-age", options.max_age, "a number of days above 0")
    reading = read_element_files(options.elements)
    tell_all(str(error) for error in reading.refused)
    tell_all(reading.notes)
    sets = _named(reading.sets, options.names)
    if not sets:
        why = "the names given leave none" if reading.sets else "the files hold none that can be used"
        raise NorthkeyError(f"no element set to predict from: {why}")
    tell_all(far_words([(elements.name, age_days(elements, start)) for elements in sets]))
    window = start, start + options.hours * 3600.0
    with shown_progress() as progress:
        tell_pass: Callable[[Pass], Any] = _json if options.json else _row
        told, refused = predict_crowd(sets, site, window, tell_pass, progress, options.max_age)
    tell_all(refusal_words(error) for error in refused)
    if options.json:
        say_json_list("passes", told, {"refused": refused_shape(refused)})
    else:
        _say(told, site, start, options)
    return 0 if len(refused) < len(sets) or told else 2


def _json(pass_: Pass) -> str:
    return json_text(pass_shape(pass_))


def _site(options: argparse.Namespace) -> Site:
    from core.place.horizon_file import read_horizon_file
    from core.place.position import parse_site_text

    if not -10.0 <= options.min_elevation < 90.0:
        raise ValueRangeError("--min-elevation", options.min_elevation, "from -10 to below 90")
    site = parse_site_text(options.site)
    horizon = read_horizon_file(options.horizon) if options.horizon else ()
    return site.model_copy(update={"minimum_elevation_deg": options.min_elevation + 0.0, "horizon": horizon})


def _named(sets: tuple[ElementSet, ...], names: str | None) -> tuple[ElementSet, ...]:
    """The sets asked for; what names none is told."""
    if names is None:
        return sets
    wanted = [name.strip() for name in names.split(",") if name.strip()]
    for name in wanted:
        if not any(_is(elements, name) for elements in sets):
            tell(f"no satellite is called {name!r} in these files")
    return tuple(elements for elements in sets if any(_is(elements, name) for name in wanted))


def _is(elements: ElementSet, name: str) -> bool:
    return elements.name.casefold() == name.casefold() or str(elements.norad_id) == name


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
