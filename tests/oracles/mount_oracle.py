"""The mount by brute force: unit vectors, stacked rotations, dense samples. No arcs, no closed formulae.

Written from the design's words alone and importing nothing of the project, so that it can disagree with
the code. Directions are east, north, up. A mount is a plain dict:

    keyway, iota, sigma, beta     degrees, clockwise seen from above
    hole                          name of the hole in use
    correction                    None or {"deg", "keyway", "hole", "posture"}
    tau, phi                      lean of the azimuth axis and the bearing its top leans toward
    travel, guard, e_min, e_max   degrees
    beam                          beamwidth of the narrowest antenna

A pass is anything with ``stay`` (its path), ``aos.utc_s``, ``los.utc_s`` and ``stretches``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.polynomial.chebyshev import chebval

INSIDE = 1e-6
UPRIGHT, OVER = "upright", "over the top"
POSTURES = (UPRIGHT, OVER)
UP = np.array([0.0, 0.0, 1.0])
NORTH = np.array([0.0, 1.0, 0.0])


# --- the physical chain -----------------------------------------------------------------------------


def turn_clockwise(angle_deg: float) -> np.ndarray:
    """A turn about the up axis, clockwise seen from above."""
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])


def raise_boom(angle_deg: float) -> np.ndarray:
    """A turn about the axis to the boom's right: what looks ahead (north) comes to look up."""
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])


def lean(tau_deg: float, phi_deg: float) -> np.ndarray:
    """The smallest rotation that takes up to the leaning axis, as two mirrors: across up, then half-way."""
    tau, phi = math.radians(tau_deg), math.radians(phi_deg)
    axis = np.array([math.sin(tau) * math.sin(phi), math.sin(tau) * math.cos(phi), math.cos(tau)])
    half = (UP + axis) / np.linalg.norm(UP + axis)
    return (np.eye(3) - 2.0 * np.outer(half, half)) @ (np.eye(3) - 2.0 * np.outer(UP, UP))


def correction_in_force(mount: dict[str, Any], posture: str) -> float:
    fitted = mount["correction"]
    if fitted is None or fitted["hole"] != mount["hole"]:
        return 0.0
    here, there = turn_clockwise(mount["keyway"]) @ NORTH, turn_clockwise(fitted["keyway"]) @ NORTH
    if np.linalg.norm(here - there) > 1e-10:
        return 0.0
    return 0.0 if fitted["posture"] not in (None, posture) else fitted["deg"]


def at_the_stop(mount: dict[str, Any], posture: str) -> np.ndarray:
    """Body frame to ground with the azimuth axis on its counter-clockwise stop, part upon part."""
    frame = lean(mount["tau"], mount["phi"])
    frame = frame @ turn_clockwise(mount["keyway"])  # the keyway on the ground
    frame = frame @ turn_clockwise(mount["iota"])  # pin to datum mark
    frame = frame @ turn_clockwise(mount["sigma"])  # datum mark to boresight on the stop
    frame = frame @ turn_clockwise(mount["beta"])  # the elevation unit's clocking, in either posture
    return frame @ turn_clockwise(correction_in_force(mount, posture))


def boresight(frame: np.ndarray, m_deg: np.ndarray, e_deg: np.ndarray) -> np.ndarray:
    """(N, 3) where the antennas look: azimuth axis m from the stop, elevation axis e, in one chain."""
    m, e = np.radians(m_deg), np.radians(e_deg)
    ahead = np.stack([np.zeros_like(e), np.cos(e), np.sin(e)], axis=-1)  # raise_boom(e) @ NORTH
    east = np.cos(m) * ahead[:, 0] + np.sin(m) * ahead[:, 1]  # turn_clockwise(m) @ ahead
    north = -np.sin(m) * ahead[:, 0] + np.cos(m) * ahead[:, 1]
    return np.stack([east, north, ahead[:, 2]], axis=-1) @ frame.T


# --- the sky ----------------------------------------------------------------------------------------


def _position(stay: Any, utc_s: np.ndarray) -> np.ndarray:
    """The stay's polynomial pieces, by numpy's own evaluation."""
    path = stay.path
    piece = np.searchsorted((path.middle_utc_s - path.half_s)[1:], utc_s, side="right")
    places = (utc_s - path.middle_utc_s[piece]) / path.half_s[piece]
    return chebval(places[:, None], path.coefficients[piece].transpose(2, 0, 1), tensor=False)


@dataclass
class Sky:
    """Dense samples of where the satellite is: times, unit vectors, over the mask or not."""

    utc_s: np.ndarray
    unit: np.ndarray
    over: np.ndarray
    nearest_axis_deg: float


def sky_of(pass_: Any, mount: dict[str, Any], samples: int = 6000, step_deg: float = 4.0) -> Sky:
    """Even samples from AOS to LOS, then halved until the azimuth turns less than ``step_deg`` in each."""
    ends = [moment for stretch in pass_.stretches for moment in stretch]
    utc = np.unique(np.concatenate([np.linspace(pass_.aos.utc_s, pass_.los.utc_s, samples), ends]))
    to_mount = lean(mount["tau"], mount["phi"]).T

    def unit_at(moments: np.ndarray) -> np.ndarray:
        where = _position(pass_.stay, moments)
        return where / np.linalg.norm(where, axis=1)[:, None]

    unit = unit_at(utc)
    for _ in range(40):
        wide = np.abs(_turned_deg((unit @ to_mount.T)[:, :2])) > step_deg
        wide &= np.diff(utc) > 1e-5
        if not wide.any():
            break
        extra = (utc[:-1][wide] + utc[1:][wide]) / 2.0
        order = np.argsort(np.concatenate([utc, extra]), kind="stable")
        unit = np.concatenate([unit, unit_at(extra)])[order]
        utc = np.concatenate([utc, extra])[order]
    over = np.zeros(len(utc), dtype=bool)
    for start, end in pass_.stretches:
        over |= (utc >= start) & (utc <= end)
    return _sky(utc, unit, over, mount)


def sky_from_angles(
    mount: dict[str, Any], azimuth_deg: np.ndarray, elevation_deg: np.ndarray, utc_s: np.ndarray
) -> Sky:
    """A sky given by azimuth and elevation in the mount frame, all of it over the mask."""
    azimuth, elevation = np.radians(azimuth_deg), np.radians(elevation_deg)
    flat = np.stack([np.sin(azimuth) * np.cos(elevation), np.cos(azimuth) * np.cos(elevation)], axis=-1)
    in_mount = np.concatenate([flat, np.sin(elevation)[:, None]], axis=-1)
    unit = in_mount @ lean(mount["tau"], mount["phi"]).T
    return _sky(utc_s, unit, np.ones(len(utc_s), dtype=bool), mount)


def _sky(utc: np.ndarray, unit: np.ndarray, over: np.ndarray, mount: dict[str, Any]) -> Sky:
    in_mount = unit @ lean(mount["tau"], mount["phi"])
    nearest = math.degrees(float(np.hypot(in_mount[:, 0], in_mount[:, 1]).min()))
    return Sky(utc, unit, over, nearest)


def _turned_deg(flat: np.ndarray) -> np.ndarray:
    """(N-1,) clockwise turn from each horizontal vector to the next, by their cross and dot products."""
    a, b = flat[:-1], flat[1:]
    cross = a[:, 1] * b[:, 0] - a[:, 0] * b[:, 1]
    return np.degrees(np.arctan2(cross, (a * b).sum(axis=1)))


# --- ways -------------------------------------------------------------------------------------------


@dataclass
class Candidate:
    """The pass followed in one posture with the azimuth axis begun in one full circle.

    ``m_aos`` is held to the guards, ``free_m_aos`` is the satellite's own, and ``turn`` counts that: only
    so do two ways of one posture never share a turn. Margins are degrees to falling the other way.
    """

    posture: str
    turn: int
    clear: bool
    rests: bool
    m_min: float
    m_max: float
    e_min: float
    e_max: float
    m_aos: float
    seconds_off: float
    worst_off: float
    clear_margin: float
    rest_margin: float
    turn_margin: float
    free_m_aos: float


def follow(mount: dict[str, Any], posture: str, sky: Sky) -> tuple[np.ndarray, np.ndarray]:
    """m (from [0, 360) at AOS on) and e of every sample, unclamped, each checked against the chain."""
    frame = at_the_stop(mount, posture)
    body = sky.unit @ frame  # the ground's vectors as the mount's body on its stop sees them
    ahead = body[:, :2] / np.linalg.norm(body[:, :2], axis=1)[:, None]
    if posture == OVER:
        ahead = -ahead  # laid over the top, the boom at e = 0 would look the other way
    first = float(_turned_deg(np.array([[0.0, 1.0], ahead[0]]))[0]) % 360.0
    m = first + np.concatenate([[0.0], np.cumsum(_turned_deg(ahead))])
    forward = (body[:, :2] * ahead).sum(axis=1)
    e = np.degrees(np.arctan2(body[:, 2], forward))
    e = np.where(e < -90.0, e + 360.0, e)
    assert np.abs(boresight(frame, m, e) - sky.unit).max() < 1e-9
    return m, e


def candidates(mount: dict[str, Any], sky: Sky, posture: str) -> list[Candidate]:
    """Every full circle in which the pointing could begin, the useless ones too."""
    if posture == OVER and mount["e_max"] <= 90.0:
        return []
    m, e = follow(mount, posture, sky)
    return [_candidate(mount, sky, posture, begun, e) for begun in _begun_in_every_circle(mount, m)]


def _begun_in_every_circle(mount: dict[str, Any], m: np.ndarray) -> list[np.ndarray]:
    """The azimuth axis all through the pass for every full circle in which it could begin, and one beyond."""
    low, high = mount["guard"], mount["travel"] - mount["guard"]
    first = math.floor((low - m.max()) / 360.0) - 1
    last = math.ceil((high - m.min()) / 360.0) + 1
    return [m + 360.0 * k for k in range(first, last + 1)]


def _room(mount: dict[str, Any], m: np.ndarray, e: np.ndarray) -> float:
    """Degrees to the nearest guard or end of the elevation axis; negative past one."""
    low, high = mount["guard"], mount["travel"] - mount["guard"]
    return min(
        float(m.min()) - low,
        high - float(m.max()),
        float(e.min()) - mount["e_min"],
        mount["e_max"] - float(e.max()),
    )


def _candidate(mount: dict[str, Any], sky: Sky, posture: str, m: np.ndarray, e: np.ndarray) -> Candidate:
    low, high = mount["guard"], mount["travel"] - mount["guard"]
    room = _room(mount, m, e)
    held_m, held_e = np.clip(m, low, high), np.clip(e, mount["e_min"], mount["e_max"])
    pointed = boresight(at_the_stop(mount, posture), held_m, held_e)
    chord = np.linalg.norm(pointed - sky.unit, axis=1)
    off = np.degrees(2.0 * np.arcsin(np.clip(chord / 2.0, 0.0, 1.0)))
    half = mount["beam"] / 2.0
    worst = float(off[sky.over].max()) if sky.over.any() else 0.0
    clear = room >= -INSIDE
    lost = sky.over & (off > half)
    steps = np.diff(sky.utc_s)
    seconds = float((steps * (lost[:-1] & lost[1:])).sum() + (steps * (lost[:-1] ^ lost[1:])).sum() / 2.0)
    into_turn = m[0] % 360.0
    return Candidate(
        posture=posture,
        turn=math.floor((m[0] + INSIDE) / 360.0),
        clear=clear,
        rests=not clear and worst <= half,
        m_min=float(held_m.min()),
        m_max=float(held_m.max()),
        e_min=float(held_e.min()),
        e_max=float(held_e.max()),
        m_aos=float(held_m[0]),
        seconds_off=seconds,
        worst_off=worst,
        clear_margin=abs(room),
        rest_margin=abs(worst - half),
        turn_margin=min(into_turn, 360.0 - into_turn),
        free_m_aos=float(m[0]),
    )


def all_candidates(mount: dict[str, Any], sky: Sky) -> list[Candidate]:
    return [found for posture in POSTURES for found in candidates(mount, sky, posture)]


def decided(found: list[Candidate], sky: Sky, margin_deg: float = 0.01) -> bool:
    """No decision about this pass hangs by less than ``margin_deg``, nor its sense around the axis."""
    return sky.nearest_axis_deg > margin_deg and all(
        one.clear_margin > margin_deg
        and (one.clear or one.rest_margin > margin_deg)
        and (one.turn_margin > margin_deg or not (one.clear or one.rests))
        for one in found
    )


# --- the study of the seat --------------------------------------------------------------------------


def kind_of_pass(mount: dict[str, Any], sky: Sky) -> str:
    """ "upright", "over the top only" or "not clear", by clear ways alone."""
    for posture in POSTURES if mount["e_max"] > 90.0 else (UPRIGHT,):
        m, e = follow(mount, posture, sky)
        if any(_room(mount, begun, e) >= -INSIDE for begun in _begun_in_every_circle(mount, m)):
            return "upright" if posture == UPRIGHT else "over the top only"
    return "not clear"


def counts_at(mount: dict[str, Any], skies: list[Sky], keyway_deg: float) -> tuple[int, int, tuple[int, ...]]:
    """(clear upright, clear over the top only, indices of those not clear) with the keyway there."""
    turned = {**mount, "keyway": keyway_deg}
    kinds = [kind_of_pass(turned, sky) for sky in skies]
    lost = tuple(index for index, kind in enumerate(kinds) if kind == "not clear")
    return kinds.count("upright"), kinds.count("over the top only"), lost
