"""The table of terms for a station and its evening: sizes, sources and defaults; before and after a fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.base.words import plain
from core.mount.model.calibration import dial_curve
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, Mount, Station
from core.setup.along_track import ALONG_TRACK_SOURCE, along_track_s
from core.setup.budget.terms.fitted import after_fit, boom_channel
from core.setup.budget.terms.term import (
    FIXED,
    RANDOM,
    Absorbed,
    Distribution,
    Kind,
    North,
    Term,
    Turns,
    alone,
)
from core.setup.model import PointingErrors

_PRACTICE = "common practice, no source"
_DEFAULTS = PointingErrors()


def term_table(
    station: Station,
    antenna: Antenna,
    errors: PointingErrors,
    ages_days: Sequence[float],
    north: North | None = None,
    absorbed: Absorbed | None = None,
) -> tuple[Term, ...]:
    """All terms of one antenna, in the order in which they are told; those of size 0 too.

    Args:
        station, antenna: dials and deadbands; the antennas' typed skew.
        errors: what is assumed.
        ages_days: (P,) of the elements of each pass's satellite.
        north: how the keyway's bearing was found; None: typed, and as good as ``errors`` says.
        absorbed: the fit of the sightings; None before it.

    Raises:
        ValueError: the fit's covariance has not the size of what was fitted, or the antenna that was sighted
            along is none of the station's.
    """
    north = North(errors.north_deg, "typed, no method named") if north is None else north
    seat = (*_seat(north, errors), _elevation_zero(errors), _lean(errors))
    if absorbed is not None:
        seat = after_fit(seat, absorbed, antenna)
    booms = _booms(station, antenna, errors, absorbed)
    return (*seat, *_drive(station.mount, errors), *booms, *_along(errors, ages_days))


def _typed(value: float, default: float) -> str:
    return f"assumed; {_PRACTICE}" if value == default else "typed in the plan"


def _normal(
    name: str, turns: tuple[Turns, ...], size: float, default: float, kind: Kind, absorbed: bool = False
) -> Term:
    """A normal term of `PointingErrors`, with a draw of that size for each axis that it turns."""
    channels = tuple(alone(each, size) for each in turns)
    source, told = _typed(size, default), f"{plain(default)} deg"
    return Term(name, kind, "normal", channels, size, "deg", source, told, absorbed)


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


def _elevation_zero(errors: PointingErrors) -> Term:
    size = errors.elevation_zero_deg
    return _normal("elevation zero", ("elevation",), size, _DEFAULTS.elevation_zero_deg, FIXED, True)


def _lean(errors: PointingErrors) -> Term:
    return _normal("lean", ("lean east", "lean north"), errors.lean_deg, _DEFAULTS.lean_deg, FIXED, True)


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
    """How far an axis may be from where it is wanted by its dial, degrees either way.

    Figures are printed to half a division and set to half a division: half of one in all. A readout that goes
    in steps is off by half a step.
    """
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
        f"{plain(elevation.readout_step_deg)} deg in azimuth and elevation; half of the larger either way"
    )
    return source, "half a division of 1 deg"


def _booms(
    station: Station, antenna: Antenna, errors: PointingErrors, absorbed: Absorbed | None
) -> tuple[Term, ...]:
    """The antenna's boom, the one that was sighted along, and the skews that are typed."""
    size, name = errors.boom_deg, None if absorbed is None else absorbed.boom_in_correction
    fitted = absorbed is not None and absorbed.fitted_skew
    skews = {one.name: one.skew_deg for one in station.antennas}
    if name is not None and name not in skews:
        raise ValueError(f"sighted along {name!r}, which is none of the antennas {', '.join(skews)}")
    plain_boom = _normal("boom", ("boom across",), size, _DEFAULTS.boom_deg, FIXED)
    boom = replace(plain_boom, per_antenna=True)
    booms = [boom]
    if name == antenna.name:
        channel = boom_channel(size, size, antenna, absorbed)
        booms = [] if fitted else [replace(boom, channels=(channel,))]
    elif name is not None and not fitted:
        channel = boom_channel(0.0, size, antenna, absorbed)
        booms.append(replace(boom, name="sighted boom", channels=(channel,)))
    return *booms, _skew(antenna, 0.0 if name is None else skews[name], absorbed)


def _skew(antenna: Antenna, sighted_deg: float, absorbed: Absorbed | None) -> Term:
    own = antenna.skew_deg
    parts = alone("boom across", own)
    if sighted_deg:
        parts = (*parts, *boom_channel(own, sighted_deg, antenna, absorbed)[-1:])
    source = f"typed for {antenna.name}; reversed over the top"
    return Term("skew", FIXED, "known", (parts,), abs(own), "deg", source, "0 deg", per_antenna=True)


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
