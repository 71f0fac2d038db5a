"""What to write down on site, step by step: short lines for the paper log, each of it once."""

from __future__ import annotations

from collections.abc import Sequence

from core.base.times import clock
from core.base.words import bearing_text, figure, plain, signed
from core.mount.model.station import OVER_THE_TOP, Mount, Posture
from core.setup.bearings import ThreeBearings
from core.setup.checklist import progress_words
from core.setup.level import Level, Shim
from core.setup.methods import Method
from core.setup.model import Sighting, StepName
from core.setup.sightings.answer import SightingFit
from core.setup.words import method_name

Lines = tuple[str, ...]


def of_level(level: Level | None, shims: Sequence[Shim]) -> Lines:
    """The lean, the instrument's own zero, and what was put under the legs."""
    if level is None:
        return ("Each reading: bearing, rise",)
    lines = [f"Lean {figure(level.lean_deg, 2)} deg toward {bearing_text(level.toward_deg)} true"]
    if level.zero_deg is not None:
        lines.append(f"The level reads {signed(level.zero_deg)} deg when level")
    lines += [f"{one.mm:.0f} mm under the leg at {one.from_keyway_deg:.0f}" for one in shims if one.mm >= 0.5]
    return tuple(lines)


def of_north(best: Method | None, utc_s: float) -> Lines:
    """By what, when, and how good."""
    if best is None or best.sigma_deg is None:
        return (f"{clock(utc_s)} UTC: no way to north",)
    lines = [f"{clock(utc_s)} UTC, by {method_name(best)}"]
    if best.bearing_deg is not None:
        lines.append(f"It stands at {bearing_text(best.bearing_deg)} true")
    if best.dials is not None:
        lines.append(f"Dial on it {best.dials.azimuth.short}, elevation {best.dials.elevation.short}")
    lines.append(f"Good to {figure(best.sigma_deg, 2)} deg")
    return tuple(lines)


def of_keyway(found: ThreeBearings, hole: str, by: str) -> Lines:
    """Where it points by all three, the hole, and how it was found."""
    lines = [
        f"Keyway {bearing_text(found.true_deg)} true",
        f"{bearing_text(found.magnetic_deg)} by the compass",
    ]
    if found.grid_deg is not None:
        lines.append(f"{bearing_text(found.grid_deg)} off the map grid")
    lines.append(f"Hole {hole}")
    return (*lines, f"Read by {by}") if by else tuple(lines)


def of_sighting(one: Sighting) -> Lines:
    """All that is read, in the order in which it is read."""
    lines = [f"{one.time[11:19]} UTC, {one.target}"]
    if one.bearing_deg is not None:
        lines.append(f"It stands at {bearing_text(one.bearing_deg)} true")
    if one.azimuth_dial_deg is not None:
        lines.append(f"Azimuth dial {plain(one.azimuth_dial_deg)}")
    if one.half_power_dials_deg is not None:
        first, last = one.half_power_dials_deg
        lines.append(f"Fell alike at {plain(first)} and {plain(last)}")
    if one.elevation_dial_deg is not None:
        lines.append(f"Elevation dial {plain(one.elevation_dial_deg)}")
    if one.came_from is not None:
        lines.append(f"Came from the {one.came_from}")
    if one.posture == OVER_THE_TOP:
        lines.append("Over the top")
    return tuple(lines)


def of_fit(fit: SightingFit, mount: Mount) -> Lines:
    """What the sightings say, with the seat that it is of, whether or not it is taken over."""
    if fit.correction_deg is None:
        lines = ["No correction: no azimuth was sighted"]
    else:
        known = figure(fit.correction_sigma_deg, 2)
        lines = [
            f"Correction {fit.correction_deg:+.2f} deg, known to {known}",
            *_seat(mount),
            *_only(fit.posture),
        ]
    if fit.elevation_zero_deg is not None:
        lines.append(f"Elevation zero {fit.elevation_zero_deg:+.2f} deg")
    if fit.lean is not None:
        lean = fit.lean
        lines.append(f"Lean {figure(lean.angle_deg, 2)} deg toward {bearing_text(lean.toward_deg)} true")
    return tuple(lines)


def _seat(mount: Mount) -> Lines:
    return (f"Keyway {bearing_text(mount.keyway_bearing_deg)} true, hole {mount.index_hole}",)


def _only(posture: Posture | None) -> Lines:
    return () if posture is None else (f"{posture[:1].upper()}{posture[1:]} only",)


def of_checklist(done: int, following: StepName | None) -> Lines:
    """How far it is, and what to add on paper."""
    if following is None:
        return ("All steps done, and when",)
    return (f"{progress_words(done)}; next {following}", "What came out otherwise than planned")


def of_correction(mount: Mount) -> Lines:
    """The correction in force, with the seat it belongs to."""
    fitted = mount.sighting_correction
    if fitted is None:
        return ("No correction taken over",)
    return (
        f"Correction {signed(fitted.deg)} deg",
        f"Keyway {bearing_text(fitted.keyway_bearing_deg)} true, hole {fitted.index_hole}",
        *_only(fitted.posture),
    )
