"""Where a set-up with small errors really looks: stacked turns, chords, differences; no formula of the sky.

Written from the words of the pointing budget alone and importing nothing of the project. Draws are plain
arrays by the name of what they turn, (D, 1) for what stays, (D, K) for what changes from moment to moment:

    azimuth, elevation       degrees by which the axis is further than its dial says
    lean_north, lean_east    degrees by which the top of the azimuth axis leans beyond what is believed
    seconds, ahead           how far ahead of the satellite the dials are set: time, degrees along its path
    across                   degrees by which the antenna stands off its crossboom's square, to the right
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.polynomial.chebyshev import chebval

TURNS = ("azimuth", "elevation", "lean_north", "lean_east", "seconds", "ahead", "across")


def position_km(pass_: Any, utc_s: np.ndarray) -> np.ndarray:
    """The pass's polynomials by numpy's own evaluation, (..., 3) east, north, up."""
    path = pass_.stay.path
    piece = np.searchsorted((path.middle_utc_s - path.half_s)[1:], utc_s, side="right")
    places = (utc_s - path.middle_utc_s[piece]) / path.half_s[piece]
    return np.moveaxis(
        chebval(places, np.moveaxis(path.coefficients[piece], (-2, -1), (1, 0)), tensor=False), 0, -1
    )


def even_moments(stretches: Any, count: int) -> np.ndarray:
    """(count,) the middles of so many equal parts of all the worked seconds."""
    widths = np.array([end - start for start, end in stretches])
    at = (np.arange(count) + 0.5) / count * widths.sum()
    row = np.searchsorted(np.cumsum(widths), at)
    return np.array([stretches[i][0] for i in row]) + at - (np.cumsum(widths) - widths)[row]


def off_deg(
    pass_: Any, utc_s: np.ndarray, drawn: dict[str, np.ndarray], over: bool, tilt: tuple[float, float]
) -> np.ndarray:
    """(D, K) angles between the antenna and the satellite at moments (K,).

    Args:
        pass_: the pass.
        utc_s: the moments.
        drawn: what the axes are off by; what is not named is right.
        over: worked over the top.
        tilt: the lean that is believed: degrees, and the bearing that the top leans toward.
    """
    shape = next(iter(drawn.values())).shape[0], utc_s.size
    off = {name: np.broadcast_to(drawn.get(name, np.zeros((1, 1))), shape) for name in TURNS}
    believed = _lean_matrix(
        np.array(tilt[0] * np.sin(np.radians(tilt[1]))), np.array(tilt[0] * np.cos(np.radians(tilt[1])))
    )
    truth = _unit(position_km(pass_, utc_s)) @ believed
    aim = _ahead(pass_, utc_s + off["seconds"], off["ahead"]) @ believed
    azimuth = np.degrees(np.arctan2(aim[..., 0], aim[..., 1]))
    elevation = np.degrees(np.arcsin(np.clip(aim[..., 2], -1.0, 1.0)))
    m = azimuth + off["azimuth"] + (180.0 if over else 0.0)
    e = (180.0 - elevation if over else elevation) + off["elevation"]
    across = np.radians(off["across"])
    boom = np.stack([np.sin(across), np.cos(across), np.zeros(shape)], axis=-1)
    turned = _times(_turn(m), _times(_raise(e), boom))
    looks = _times(_lean_matrix(off["lean_east"], off["lean_north"]), turned)
    return np.degrees(2.0 * np.arcsin(np.linalg.norm(looks - truth, axis=-1) / 2.0))


def turning_back(pass_: Any, utc_s: np.ndarray, tilt: tuple[float, float]) -> tuple[np.ndarray, np.ndarray]:
    """(K,) where azimuth turns counter-clockwise, and where elevation falls, in the leaning mount's frame."""
    believed = _lean_matrix(
        np.array(tilt[0] * np.sin(np.radians(tilt[1]))), np.array(tilt[0] * np.cos(np.radians(tilt[1])))
    )
    before, after = (_unit(position_km(pass_, utc_s + by)) @ believed for by in (-0.05, 0.05))
    clockwise = before[:, 1] * after[:, 0] - before[:, 0] * after[:, 1]
    return clockwise < 0.0, after[:, 2] < before[:, 2]


def _ahead(pass_: Any, utc_s: np.ndarray, degrees: np.ndarray) -> np.ndarray:
    """Directions so far ahead on the great circle through two looks a moment apart."""
    here = _unit(position_km(pass_, utc_s))
    soon = _unit(position_km(pass_, utc_s + 0.05))
    square = _unit(np.cross(here, soon))
    angle = np.radians(degrees)[..., None]
    return here * np.cos(angle) + np.cross(square, here) * np.sin(angle)


def _unit(vector: np.ndarray) -> np.ndarray:
    return vector / np.linalg.norm(vector, axis=-1, keepdims=True)


def _times(matrix: np.ndarray, vector: np.ndarray) -> np.ndarray:
    return (matrix @ vector[..., None])[..., 0]


def _rows(*rows: tuple[Any, Any, Any]) -> np.ndarray:
    parts = [np.stack(np.broadcast_arrays(*row), axis=-1) for row in rows]
    return np.stack(np.broadcast_arrays(*parts), axis=-2).astype(float)


def _turn(angle_deg: np.ndarray) -> np.ndarray:
    """About the up axis, clockwise seen from above."""
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
    return _rows((c, s, 0.0 * c), (-s, c, 0.0 * c), (0.0 * c, 0.0 * c, 1.0 + 0.0 * c))


def _raise(angle_deg: np.ndarray) -> np.ndarray:
    """About the axis to the boom's right: what looks ahead comes to look up."""
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
    return _rows((1.0 + 0.0 * c, 0.0 * c, 0.0 * c), (0.0 * c, c, -s), (0.0 * c, s, c))


def _lean_matrix(east_deg: np.ndarray, north_deg: np.ndarray) -> np.ndarray:
    """The smallest rotation that takes up to the leaning axis, as two mirrors: across up, then half-way."""
    angle = np.radians(np.hypot(east_deg, north_deg))
    toward = np.arctan2(east_deg, north_deg)
    axis = np.stack([np.sin(angle) * np.sin(toward), np.sin(angle) * np.cos(toward), np.cos(angle)], axis=-1)
    up = np.array([0.0, 0.0, 1.0])
    half = _unit(up + axis)
    mirror = np.eye(3) - 2.0 * half[..., :, None] * half[..., None, :]
    return mirror @ (np.eye(3) - 2.0 * np.outer(up, up))
