"""The clearance map as it is looked at: what is forbidden over boom bearing and elevation; tonight's tracks.

It tells where the mount may go. What the antenna can see over is the horizon mask: another thing, and never
in one picture with this.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, wrap_180, wrap_360
from core.base.runs import runs_of
from core.mount.check.strike_words import boom_words
from core.mount.clearance.gaps import Gaps, Nearest
from core.mount.clearance.keep_out import CELL_DEG, E_LOW_DEG
from core.mount.clearance.lengths import Clearance
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount

#: Bearings at which something strikes are told so finely.
_TOLD_DEG = 1.0


@dataclass(frozen=True, eq=False)
class BoomTrack:
    """Where the boom goes along a pass.

    Attributes:
        name: the satellite.
        boom_deg: (N,) bearing from the keyway, unwrapped.
        e_deg: (N,) elevation axis.
        worked: (N,) bool.
    """

    name: str
    boom_deg: Floats
    e_deg: Floats
    worked: Flags


@dataclass(frozen=True, eq=False)
class ClearMap:
    """What the map of a station shows.

    Attributes:
        lengths: of what. struck: (E, B) bool, cells of a quarter of a degree: rows from elevation 0 to 180,
        columns of the boom's
            bearing from the keyway, 0 to 360.
        share: of them, forbidden.
    """

    lengths: Clearance
    struck: Flags
    share: float


def clear_map(lengths: Clearance) -> ClearMap:
    """The map of some lengths; elevations from 0 to 180, so that both postures are in it."""
    first = round(-E_LOW_DEG / CELL_DEG)
    struck = lengths.keep_out.struck[first:]
    return ClearMap(lengths, struck, float(struck.mean()))


def boom_tracks(checks: tuple[PassCheck, ...], mount: Mount) -> tuple[BoomTrack, ...]:
    """Where the boom goes along each pass that is worked, as its verdict points it."""
    shift = fixed_offset_deg(mount)
    return tuple(
        BoomTrack(
            check.pass_.satellite, check.pointing.m_deg + shift, check.pointing.e_deg, check.pointing.worked
        )
        for check in checks
        if check.pointing is not None
    )


def struck_bearings(lengths: Clearance) -> tuple[tuple[float, float], ...]:
    """Arcs (start, width) of boom bearings from the keyway at which some elevation, 0 to 180, strikes."""
    columns = clear_map(lengths).struck.any(axis=0)
    if columns.all():
        return ((0.0, 360.0),)
    # From a free column on, so that no arc is cut at the keyway.
    first = int(np.flatnonzero(~columns)[0]) if columns.any() else 0
    return tuple(
        (wrap_360((start + first) * CELL_DEG), (beyond - start) * CELL_DEG)
        for start, beyond in runs_of(np.roll(columns, -first))
    )


def nearest_at(lengths: Clearance, boom_deg: float, e_deg: float) -> Nearest | None:
    """What is nearest to what with the boom there; None where nothing turns."""
    return Gaps(lengths).nearest(boom_deg, e_deg)


def nearest_words(lengths: Clearance, boom_deg: float, e_deg: float) -> str:
    """``Closest: tail of the 70 cm yagi to leg 2, 84 mm, boom 34 deg right of the keyway, elevation 71.``."""
    found = nearest_at(lengths, boom_deg, e_deg)
    if found is None:
        return "Nothing turns: no booms are given."
    place = f"{boom_words(boom_deg)}, elevation {e_deg:.0f} ({posture_words(e_deg)})"
    told = f"Closest: {found.turning} to {found.standing}, {found.gap_mm:.0f} mm, {place}."
    if found.gap_mm < lengths.gap_mm:
        return f"{told} It strikes: {lengths.gap_mm:g} mm wanted."
    if bool(lengths.keep_out.holds(np.array([boom_deg]), np.array([e_deg]))[0]):
        return f"{told} Too near to the {lengths.gap_mm:g} mm wanted to be sure: kept out of."
    return f"{told} Clear: {lengths.gap_mm:g} mm wanted."


def posture_words(e_deg: float) -> str:
    """Which posture an elevation belongs to."""
    return "over the top" if e_deg > 90.0 else "upright"


def map_sentence(found: ClearMap) -> str:
    """How much of the map is forbidden, and between which bearings."""
    if not found.struck.any():
        return f"Nothing strikes anywhere from elevation 0 to 180, with {found.lengths.gap_mm:g} mm of gap."
    arcs = struck_bearings(found.lengths)
    if arcs == ((0.0, 360.0),):
        where = "at every bearing"
    else:
        told = [f"{_from_words(start)} to {_from_words(start + width)}" for start, width in arcs[:6]]
        where = "with the boom at " + ", ".join(told) + (" and more" if len(arcs) > 6 else "")
        where += " deg from the keyway"
    return f"Forbidden is {found.share:.0%} of the map, {where}."


def _from_words(bearing_deg: float) -> str:
    return f"{round(float(wrap_180(bearing_deg)) / _TOLD_DEG) * _TOLD_DEG:+.0f}"
