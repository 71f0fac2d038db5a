"""How the two dials read, in sentences."""

from __future__ import annotations

import math
from collections.abc import Sequence

from core.base.words import ordinal, plain
from core.mount.dial.readings import azimuth_dial, dial_figure, elevation_dial
from core.mount.model.station import AzimuthAxis, ElevationAxis
from core.setup.model import Sighting
from core.sheet.dials import short_ordinal
from core.sheet.set_up.correction import mean_scale


def azimuth_words(axis: AzimuthAxis) -> str:
    """How the azimuth dial reads, in sentences."""
    sense = "rises" if axis.dial_scale > 0.0 else "falls"
    by = plain(abs(mean_scale(axis)), 4)
    start = dial_figure(azimuth_dial(0.0, axis).shown_deg)
    mean = f" in the mean (crooked: by a table of {len(axis.calibration)} pairs)" if axis.calibration else ""
    text = (
        f"Azimuth dial: {start} on the counter-clockwise stop, "
        f"{sense} by {by} for each degree turned clockwise{mean}"
    )
    if axis.dial_wraps_at_deg is None or axis.dial_wraps_to_deg is None:
        text += ", runs on without wrapping."
    else:
        text += f"; at {plain(axis.dial_wraps_at_deg)} it starts again from {plain(axis.dial_wraps_to_deg)}."
        most = max(azimuth_dial(m, axis).times_in_all for m in (0.0, axis.travel_deg / 2.0, axis.travel_deg))
        if most > 1:
            text += (
                " Where it reads the same more than once, (1st), "
                f"({short_ordinal(2)}) says which time round from that stop is meant"
                f" (up to the {ordinal(most)})."
            )
    return text


def division_words(azimuth: AzimuthAxis, elevation: ElevationAxis) -> str:
    """To what the dials are printed: half a division."""
    first, second = (plain(axis.dial_division_deg / 2.0) for axis in (azimuth, elevation))
    if first == second:
        return f"Both are printed to {first} deg."
    return f"Azimuth is printed to {first} deg, elevation to {second}."


def elevation_words(axis: ElevationAxis) -> str:
    """How the elevation dial reads, in sentences."""
    level, up, over = (dial_figure(elevation_dial(e, axis).shown_deg) for e in (0.0, 90.0, 180.0))
    text = f"Elevation dial: {level} level, {up} straight up"
    if axis.maximum_deg > 90.0:
        text += (
            f", {over} level again, laid over the top" if axis.maximum_deg >= 180.0 else ", more over the top"
        )
    if axis.calibration:
        text += f", by a table of {len(axis.calibration)} pairs"
    limits = [dial_figure(elevation_dial(e, axis).shown_deg) for e in (axis.minimum_deg, axis.maximum_deg)]
    return f"{text}; it can go from {limits[0]} to {limits[1]}."


def approach_words(axis: AzimuthAxis, backlash_deg: float, sightings: Sequence[Sighting]) -> str:
    """From which side every azimuth dial is come to where the gear has play; empty where it has none.

    It is the side that most of the sightings in use came from, so that their correction holds: a dial that
    came from the left was turned clockwise. Without any, clockwise.
    """
    if backlash_deg <= 0.0:
        return ""
    sides = [one.came_from for one in sightings if one.used and one.came_from is not None]
    sense = "counter-clockwise" if sides.count("right") > sides.count("left") else "clockwise"
    half = axis.dial_division_deg / 2.0
    past = half * (math.floor(backlash_deg * abs(mean_scale(axis)) / half + 1e-9) + 1)
    as_sighted = ", as in the sightings" if sides else ""
    return (
        f"Gear play {plain(backlash_deg)} deg: come to every azimuth dial {sense}{as_sighted}: "
        f"go {plain(past)} past and come back."
    )
