"""Site, hours and element files in the words of a command, for commands that need no plan."""

from __future__ import annotations

import argparse

from app.commands.output import tell_all
from core.base.errors import NorthkeyError, ValueRangeError
from core.elements.age import REFUSED_AGE_DAYS, age_days, far_words
from core.elements.model import ElementSet
from core.place.site import Site


def add_elements_words(parser: argparse.ArgumentParser) -> None:
    """Element files, site, horizon, hours and names."""
    parser.add_argument("--elements", nargs="+", required=True, metavar="FILE", help="element files")
    parser.add_argument(
        "--site",
        required=True,
        metavar="LAT,LON[,HEIGHT_M]",
        help="degrees, north and east positive, height in metres; or a grid locator such as JN47ne",
    )
    parser.add_argument("--start", required=True, metavar="ISO", help="e.g. 2024-11-01T16:00:00Z")
    parser.add_argument("--hours", required=True, type=float, metavar="H", help="length of the window")
    parser.add_argument("--min-elevation", type=float, metavar="DEG", help="minimum elevation (default: 5)")
    parser.add_argument(
        "--horizon", metavar="FILE", help="CSV of azimuth, elevation points of the horizon mask"
    )
    parser.add_argument(
        "--max-age",
        type=float,
        metavar="DAYS",
        help="refuse element sets whose epoch lies further from the start, either way "
        f"(default: {REFUSED_AGE_DAYS:g})",
    )
    parser.add_argument("--names", metavar="N,N", help="only these satellites, by name or catalogue number")


def site_of(options: argparse.Namespace) -> Site:
    """The site with its horizon; what is not given is left out.

    Raises:
        NorthkeyError: a position, an elevation or a horizon file that cannot be taken.
    """
    from core.place.horizon_file import read_horizon_file
    from core.place.position import parse_site_text

    given: dict[str, object] = {}
    if options.min_elevation is not None:
        if not -10.0 <= options.min_elevation < 90.0:
            raise ValueRangeError("--min-elevation", options.min_elevation, "from -10 to below 90")
        given["minimum_elevation_deg"] = options.min_elevation + 0.0
    site = parse_site_text(options.site)
    if options.horizon:
        given["horizon"] = read_horizon_file(options.horizon)
    return site.model_copy(update=given)


def sets_of(options: argparse.Namespace, start_utc_s: float) -> tuple[ElementSet, ...]:
    """The element sets of the files, of the names asked for; refusals, notes and ages are told.

    Raises:
        NorthkeyError: there is none, or the greatest age is no age.
    """
    if options.max_age is not None and not 0.0 < options.max_age <= 100_000.0:
        raise ValueRangeError("--max-age", options.max_age, "a number of days above 0, 100000 at most")
    from core.elements.choosing import sets_named
    from core.elements.files import read_element_files

    reading = read_element_files(options.elements)
    tell_all(str(error) for error in reading.refused)
    tell_all(reading.notes)
    sets = reading.sets
    if options.names is not None:
        sets, told = sets_named(sets, options.names)
        tell_all(told)
    if not sets:
        why = "the names given leave none" if reading.sets else "the files hold none that can be used"
        raise NorthkeyError(f"no element set to predict from: {why}")
    tell_all(far_words([(elements.name, age_days(elements, start_utc_s)) for elements in sets]))
    return sets
