"""A real mount on a real field, by unit vectors: what its dials show when it is pointed at something.

Written from the design's words alone. Many sightings at once, all in arrays (N,). Directions are east,
north, up; angles degrees. A mount is a dict of numbers or of arrays (N,):

    zeta                   true bearing of a boom that is square, at the horizon, on the counter-clockwise
                           stop, with the gear in the middle of its play
    lean_east, lean_north  the azimuth axis' lean as an arrow
    elevation_zero         what must be added to the elevation axis' angle as the dial has it
    skew                   how far the boom points to the right of its crossboom's square, seen from behind,
                           upright
    axis                   how much the crossboom's right end stands too high, upright
    play                   half the backlash
"""

from __future__ import annotations

from typing import Any

import numpy as np

Array = np.ndarray


def pointing_at(azimuth: Array, elevation: Array) -> Array:
    """(N, 3)."""
    az, el = np.radians(azimuth), np.radians(elevation)
    return np.stack([np.sin(az) * np.cos(el), np.cos(az) * np.cos(el), np.sin(el)], axis=-1)


def _turned(vector: Array, about: Array, angle: Array) -> Array:
    """Vectors (N, 3) turned right-handed about unit axes (N, 3), by quaternions."""
    half = np.radians(np.broadcast_to(angle, vector.shape[:1])) / 2.0
    scalar, axis = np.cos(half)[:, None], np.sin(half)[:, None] * about
    twice = 2.0 * np.cross(axis, vector)
    return vector + scalar * twice + np.cross(axis, twice)


def looks_along(mount: dict[str, Any], m: Array, e: Array) -> Array:
    """(N, 3) where the antennas look with the axes at m and e, the gears without play."""
    count = np.size(m)
    east, north, up = (np.broadcast_to(one, (count, 3)) for one in np.eye(3))
    boom = _turned(north, up, -np.broadcast_to(mount["skew"], count))
    boom = _turned(boom, east, e)  # the crossboom lies east before it is tipped
    boom = _turned(boom, north, -np.broadcast_to(mount["axis"], count))
    boom = _turned(boom, up, -(np.broadcast_to(mount["zeta"], count) + m))
    leant_east, leant_north = (np.broadcast_to(mount[key], count) for key in ("lean_east", "lean_north"))
    tau = np.hypot(leant_east, leant_north)
    safe = np.where(tau > 0.0, tau, 1.0)
    level_axis = np.stack([-leant_north / safe, leant_east / safe, np.zeros(count)], axis=-1)
    return _turned(boom, level_axis, tau)


def axes_for(mount: dict[str, Any], sky: Array, over: Array) -> tuple[Array, Array]:
    """m and e (N,) at which the antennas look along ``sky`` (N, 3), found by Newton's steps on the sky."""
    up = np.degrees(np.arcsin(np.clip(sky[:, 2], -1.0, 1.0)))
    m = np.degrees(np.arctan2(sky[:, 0], sky[:, 1])) - mount["zeta"] + np.where(over, 180.0, 0.0)
    e = np.where(over, 180.0 - up, up)
    step = 1e-4
    for _ in range(12):
        here = looks_along(mount, m, e)
        by_m = (looks_along(mount, m + step, e) - here) / step
        by_e = (looks_along(mount, m, e + step) - here) / step
        miss = sky - here
        aa, ab, bb = (np.einsum("ni,ni->n", *pair) for pair in ((by_m, by_m), (by_m, by_e), (by_e, by_e)))
        am, bm = np.einsum("ni,ni->n", by_m, miss), np.einsum("ni,ni->n", by_e, miss)
        det = aa * bb - ab * ab
        m, e = m + (am * bb - bm * ab) / det, e + (aa * bm - ab * am) / det
    assert np.abs(looks_along(mount, m, e) - sky).max() < 1e-9
    return m, e


def dials(
    mount: dict[str, Any], sky: Array, over: Array, side: Array, steps: tuple[float, float]
) -> tuple[Array, Array]:
    """What is written down of both dials, rounded to steps (0: not at all); azimuth is 0 on the stop.

    ``side`` is +1 where the dial came from the left (turning clockwise), -1 from the right: the dial, on the
    motor's side of the gear, is then ahead of the antennas by half the backlash.
    """
    m, e = axes_for(mount, sky, over)
    azimuth = m + side * mount["play"]
    elevation = e - mount["elevation_zero"]
    azimuth, elevation = (
        one if step == 0.0 else np.floor(one / step + 0.5) * step
        for one, step in ((azimuth, steps[0]), (elevation, steps[1]))
    )
    return azimuth % 360.0, elevation


def shaken(sky: Array, chance: np.random.Generator, sigma: float) -> Array:
    """Directions missed by a normal error on the sky, alike every way."""
    miss = np.radians(sigma) * chance.standard_normal(sky.shape)
    moved = sky + miss - np.einsum("ni,ni->n", miss, sky)[:, None] * sky
    return moved / np.linalg.norm(moved, axis=1)[:, None]
