"""The table of terms for a station and its evening: sizes, sources and defaults; before and after a fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from core.base.words import plain
from core.mount.model.calibration import dial_curve
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, Mount
from core.setup.budget.terms.along import ALONG_TRACK_SOURCE, along_track_s
from core.setup.budget.terms.term import (
    FIXED,
    RANDOM,
    Absorbed,
    Channel,
    Distribution,
    Kind,
    North,
    Part,
    Term,
    Turns,
    alone,
)
from core.setup.model import PointingErrors

#: One standard deviation of the elevation dial's zero, set by a level on the boom.
ELEVATION_ZERO_DEG = 1.0
_PRACTICE = "common practice, no source"
_DEFAULTS = PointingErrors()
#: What a fit's covariance is in, in its order.
_FITTED: tuple[Turns, ...] = ("azimuth", "elevation", "lean north", "lean east")


def term_table(
    mount: Mount,
    antenna: Antenna,
    errors: PointingErrors,
    ages_days: Sequence[float],
    north: North | None = None,
    absorbed: Absorbed | None = None,
    elevation_zero_deg: float = ELEVATION_ZERO_DEG,
) -> tuple[Term, ...]:
    """All terms of one antenna, in the order in which they are told; those of size 0 too.

    Args:
        mount, antenna: dials and deadbands; the antenna's typed skew.
        errors: what is assumed.
        ages_days: (P,) of the elements of each pass's satellite.
        north: how the keyway's bearing was found; None: typed, and as good as ``errors`` says.
        absorbed: the fit of the sightings; None before it.
        elevation_zero_deg: one standard deviation of the elevation dial's zero before the sighting.
    """
    north = North(errors.north_deg, "typed, no method named") if north is None else north
    seat = (*_seat(north, errors), _elevation_zero(elevation_zero_deg), _lean(errors))
    if absorbed is not None:
        seat = _after(seat, absorbed)
    return (*seat, *_drive(mount, errors), *_boom(antenna, errors), *_along(errors, ages_days))


def _typed(value: float, default: float) -> str:
    return f"assumed; {_PRACTICE}" if value == default else "typed in the plan"


def _normal(
    name: str, turns: tuple[Turns, ...], size: float, default: float, kind: Kind, absorbed: bool = False
) -> Term:
    """A normal term of `PointingErrors`, with a draw of that size for each axis that it turns."""
    channels = tuple(alone(each, size) for each in turns)
    source, told = _typed(size, default), f"{plain(default)} deg"
    return Term(name, kind, "normal", channels, size, "deg", source, told, absorbed)


def _vector(name: str, turns: tuple[Turns, Turns], size: float, default: float, absorbed: bool) -> Term:
    """A normal term of unknown direction: its size is the root mean square of how far it goes."""
    term = _normal(name, turns, size, default, FIXED, absorbed)
    return replace(term, channels=tuple(alone(each, size * 0.5**0.5) for each in turns))


def _seat(north: North, errors: PointingErrors) -> tuple[Term, ...]:
    azimuth: tuple[Turns, ...] = ("azimuth",)
    return (
        Term(
            "north",
            FIXED,
            "normal",
            (alone("azimuth", north.sigma_deg),),
            north.sigma_deg,
            "deg",
            north.method,
            f"{plain(_DEFAULTS.north_deg)} deg",
            absorbed=True,
        ),
        _normal("keyway play", azimuth, errors.keyway_play_deg, _DEFAULTS.keyway_play_deg, FIXED, True),
        _normal("index play", azimuth, errors.index_play_deg, _DEFAULTS.index_play_deg, FIXED, True),
    )


def _elevation_zero(size: float) -> Term:
    return _normal("elevation zero", ("elevation",), size, ELEVATION_ZERO_DEG, FIXED, True)


def _lean(errors: PointingErrors) -> Term:
    return _vector("lean", ("lean north", "lean east"), errors.lean_deg, _DEFAULTS.lean_deg, absorbed=True)


def _after(seat: tuple[Term, ...], absorbed: Absorbed) -> tuple[Term, ...]:
    """What of the seat's terms a fit leaves, and what it left over itself."""
    gone: set[str] = set()
    fitted: list[Term] = []
    for names, word, turns, sigma in (
        (("north", "keyway play", "index play"), "azimuth", ("azimuth",), absorbed.correction_sigma_deg),
        (("elevation zero",), "elevation", ("elevation",), absorbed.elevation_zero_sigma_deg),
        (("lean",), "lean", ("lean north", "lean east"), absorbed.lean_sigma_deg),
    ):
        if sigma is not None:
            gone.update(names)
            channels = tuple(alone(each, sigma) for each in turns)  # type: ignore[arg-type]
            fitted.append(_of_fit(f"{word} by the sightings", channels, sigma))
    if absorbed.covariance_deg2 is not None:
        fitted = [_together(absorbed, absorbed.covariance_deg2)]
    return (*fitted, *(term for term in seat if term.name not in gone))


def _of_fit(name: str, channels: tuple[Channel, ...], size: float) -> Term:
    return Term(
        name,
        FIXED,
        "normal",
        channels,
        size,
        "deg",
        "the covariance of the sightings' fit",
        "none without a fit",
    )


def _together(absorbed: Absorbed, covariance_deg2: tuple[tuple[float, ...], ...]) -> Term:
    """What a fit left over where its figures err together: independent draws that turn several axes each.

    Raises:
        ValueError: the covariance has not the size of what was fitted.
    """
    covariance = np.array(covariance_deg2, dtype=float)
    azimuth, elevation, lean = (
        sigma is not None
        for sigma in (
            absorbed.correction_sigma_deg,
            absorbed.elevation_zero_sigma_deg,
            absorbed.lean_sigma_deg,
        )
    )
    there = (azimuth, elevation, lean, lean)
    turned = [each for each, fitted in zip(_FITTED, there, strict=True) if fitted]
    if covariance.shape != (len(turned), len(turned)):
        raise ValueError(f"covariance_deg2 is {covariance.shape}, and {len(turned)} figures were fitted")
    spread, ways = np.linalg.eigh(covariance)
    roots = ways * np.sqrt(np.clip(spread, 0.0, None))
    channels = tuple(
        tuple(Part(each, (float(size),)) for each, size in zip(turned, column, strict=True))
        for column in roots.T
    )
    return _of_fit("the sightings' fit", channels, float(np.sqrt(np.trace(covariance))))


def _drive(mount: Mount, errors: PointingErrors) -> tuple[Term, ...]:
    azimuth, elevation = mount.azimuth, mount.elevation
    both = _half_division_deg(azimuth), _half_division_deg(elevation)
    readout = _two_axes("dial readout", RANDOM, "uniform", ("azimuth", "elevation"), both, _readout(mount))
    play = (errors.backlash_deg,) * 2
    backlash = _two_axes(
        "backlash",
        FIXED,
        "either flank",
        ("azimuth gear", "elevation gear"),
        play,
        (_typed(play[0], _DEFAULTS.backlash_deg), f"{plain(_DEFAULTS.backlash_deg)} deg"),
    )
    bands = azimuth.deadband_deg, elevation.deadband_deg
    deadband = _two_axes(
        "deadband",
        RANDOM,
        "uniform",
        ("azimuth", "elevation"),
        bands,
        (f"the mount: {plain(bands[0])} deg in azimuth, {plain(bands[1])} deg in elevation", "0 deg"),
    )
    axes: tuple[Turns, ...] = ("azimuth", "elevation")
    return readout, backlash, deadband, _normal("wind", axes, errors.wind_deg, _DEFAULTS.wind_deg, RANDOM)


def _two_axes(
    name: str,
    kind: Kind,
    distribution: Distribution,
    turns: tuple[Turns, Turns],
    sizes: tuple[float, float],
    words: tuple[str, str],
) -> Term:
    channels = tuple(alone(each, size) for each, size in zip(turns, sizes, strict=True))
    return Term(name, kind, distribution, channels, max(sizes), "deg", *words)


def _half_division_deg(axis: AzimuthAxis | ElevationAxis) -> float:
    """To how many degrees of the axis its dial is read, either way: half a division, or half a step."""
    if isinstance(axis, AzimuthAxis):
        first, last, scale = 0.0, axis.travel_deg, axis.dial_scale
    else:
        first, last, scale = axis.minimum_deg, axis.maximum_deg, 1.0
    curve = dial_curve(axis.calibration, scale, 0.0)
    slope = abs(curve.dial_at(last) - curve.dial_at(first)) / (last - first)
    return max(axis.dial_division_deg / slope, axis.readout_step_deg) / 2.0


def _readout(mount: Mount) -> tuple[str, str]:
    azimuth, elevation = mount.azimuth, mount.elevation
    source = (
        f"the mount's dials: divisions of {plain(azimuth.dial_division_deg)} and "
        f"{plain(elevation.dial_division_deg)} deg, steps of {plain(azimuth.readout_step_deg)} and "
        f"{plain(elevation.readout_step_deg)} deg in azimuth and elevation; read to half of the larger"
    )
    return source, "half a division of 1 deg"


def _boom(antenna: Antenna, errors: PointingErrors) -> tuple[Term, Term]:
    skew = antenna.skew_deg
    typed = f"typed for {antenna.name}; reversed over the top"
    return (
        _vector("boom", ("boom across", "boom up"), errors.boom_deg, _DEFAULTS.boom_deg, absorbed=False),
        Term("skew", FIXED, "known", (alone("boom across", skew),), abs(skew), "deg", typed, "0 deg"),
    )


def _along(errors: PointingErrors, ages_days: Sequence[float]) -> tuple[Term, Term, Term]:
    ahead_s = tuple(along_track_s(days) for days in ages_days) or (along_track_s(0.0),)
    half_step = errors.hand_step_deg / 2.0
    by_hand = f"steered by hand: a step of {plain(errors.hand_step_deg)} deg when it is half a step off; "
    source = by_hand + _typed(errors.hand_step_deg, _DEFAULTS.hand_step_deg)
    return (
        Term(
            "element age",
            RANDOM,
            "normal",
            (alone("track, seconds", *ahead_s),),
            max(ahead_s),
            "s",
            ALONG_TRACK_SOURCE,
            "the elements' own age",
        ),
        Term(
            "clock",
            FIXED,
            "normal",
            (alone("track, seconds", errors.clock_s),),
            errors.clock_s,
            "s",
            _typed(errors.clock_s, _DEFAULTS.clock_s),
            f"{plain(_DEFAULTS.clock_s)} s",
        ),
        Term(
            "step lag",
            RANDOM,
            "uniform",
            (alone("track, degrees", half_step),),
            half_step,
            "deg",
            source if half_step else "none: a controller follows",
            f"half a step of {plain(_DEFAULTS.hand_step_deg)} deg",
        ),
    )
