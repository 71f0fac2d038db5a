"""Setting up in words: one sentence each, number first."""

from __future__ import annotations

from collections.abc import Sequence

from core.base.words import bearing_text, counted, listed, signed
from core.place.declination import Declination
from core.setup.grid import GridNorth
from core.setup.level import Level, Shim
from core.setup.methods import Method, MethodName, Term

SUN_CAUTION = "Never look at the Sun, nor through anything aimed at it. Sight it by its shadow."

_BY: dict[MethodName, str] = {
    "sun": "the Sun's shadow",
    "moon": "the Moon",
    "polaris": "Polaris",
    "landmark": "the landmark",
    "compass": "the compass",
    "satellite": "a satellite's signal",
}
#: Less than this under a leg is not worth a shim.
_NO_SHIM_MM = 0.5


def method_name(one: Method) -> str:
    """``the landmark mast``, ``the signal of ...``: what north is found by."""
    if one.method == "landmark":
        return f"the landmark {one.target}"
    if one.method == "satellite" and one.target:
        return f"the signal of {one.target}"
    return _BY[one.method]


def best_sentence(best: Method | None) -> str:
    """Which method is best at the moment, and how good it is."""
    if best is None or best.sigma_deg is None:
        return "No way to true north is possible at this moment: choose another, or write down a landmark."
    return f"{best.sigma_deg:.1f} deg (one sigma): {method_name(best)} is the best way to true north now."


def terms_words(terms: Sequence[Term], most: int = 3) -> str:
    """``lining up the shadow 0.25, clock 0.01``: the greatest parts of an error."""
    shown = [f"{term.name} {term.sigma_deg:.2f}" for term in terms[:most]]
    return ", ".join(shown) + (", ..." if len(terms) > most else "")


def level_sentence(level: Level | None, readings: int) -> str:
    """What the inclinometer's readings say."""
    if readings == 0:
        return "No level readings yet: lay the level along two bearings across each other."
    if level is None:
        return f"{counted(readings, 'reading')} along one line only: read once more across it."
    zero = (
        "" if level.zero_deg is None else f" The level itself reads {signed(level.zero_deg)} deg when level."
    )
    return (
        f"{level.lean_deg:.2f} deg: the axis leans toward {bearing_text(level.toward_deg)} true, "
        f"known to {level.sigma_deg:.2f} deg each way.{zero}"
    )


def shim_sentence(shims: Sequence[Shim]) -> str:
    """What to put under which legs."""
    put = [
        f"{one.mm:.0f} mm under the leg {one.from_keyway_deg:.0f} deg from the keyway"
        for one in shims
        if one.mm >= _NO_SHIM_MM
    ]
    if not shims:
        return "Where the legs stand is not written down: raise the feet on the low side."
    return f"{listed(put)}." if put else "0 mm: no leg needs a shim."


def declination_sentence(declination: Declination) -> str:
    """Where magnetic north lies, by which model, and how good that is."""
    side = "east" if declination.deg >= 0.0 else "west"
    return (
        f"{abs(declination.deg):.1f} deg: magnetic north lies {side} of true north "
        f"({declination.model}, good to {declination.sigma_deg:.1f} deg). {declination.note}"
    ).strip()


def grid_sentence(grid: GridNorth | None) -> str:
    """How to turn a bearing of a map into a true one."""
    if grid is None:
        return "So near a pole the standard map grid has no zone."
    where = f"zone {grid.zone}" if grid.zone else f"central meridian {grid.central_meridian_deg:g}"
    return f"{signed(grid.convergence_deg)} deg: add it to a bearing off the map's grid ({where})."
