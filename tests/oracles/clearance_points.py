"""Gaps by brute force: points along every line, turned by matrices of its own."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def points_between(first: Floats, second: Floats, number: int = 400) -> Floats:
    """(number, 3) points evenly from one end of a line to the other."""
    share = np.linspace(0.0, 1.0, number)[:, None]
    return np.asarray(first + share * (second - first))


def sampled_distance(first: Floats, second: Floats, number: int = 400) -> float:
    """Least distance between points of two lines (2, 3): never less than the true one."""
    one, other = (points_between(line[0], line[1], number) for line in (first, second))
    square = (one**2).sum(axis=1)[:, None] + (other**2).sum(axis=1)[None, :] - 2.0 * one @ other.T
    return float(np.sqrt(max(square.min(), 0.0)))


def about_z(bearing_deg: float) -> Floats:
    """Rotation clockwise seen from above, x to the right and y ahead."""
    a = math.radians(bearing_deg)
    return np.array([[math.cos(a), math.sin(a), 0.0], [-math.sin(a), math.cos(a), 0.0], [0.0, 0.0, 1.0]])


def about_x(elevation_deg: float) -> Floats:
    """Rotation that lifts what is ahead."""
    e = math.radians(elevation_deg)
    return np.array([[1.0, 0.0, 0.0], [0.0, math.cos(e), -math.sin(e)], [0.0, math.sin(e), math.cos(e)]])


def turning_points(lengths: dict[str, Any], boom_deg: float, e_deg: float, number: int = 60) -> Floats:
    """(K, 3) points of everything that turns but the crossboom, in the tripod's frame."""
    points = []
    for boom in lengths["booms"]:
        side = boom["side_mm"]
        here = [((side, -boom["tail_mm"], 0.0), (side, boom["front_mm"], 0.0))]
        for along, half in (
            (-boom["tail_mm"], boom["tail_half_element_mm"]),
            (boom["front_mm"], boom["front_half_element_mm"]),
        ):
            angles = {"horizontal": [0.0], "vertical": [90.0], "X": [45.0, 135.0]}[boom["elements"]]
            for angle in angles if half else []:
                x, z = half * math.cos(math.radians(angle)), half * math.sin(math.radians(angle))
                here.append(((side - x, along, -z), (side + x, along, z)))
        points += [points_between(np.array(a), np.array(b), number) for a, b in here]
    every = np.concatenate(points)
    lifted = every @ about_x(e_deg).T + np.array([0.0, lengths["axis_forward_mm"], lengths["axis_height_mm"]])
    return np.asarray(lifted @ about_z(boom_deg).T)


def standing_points(lengths: dict[str, Any], number: int = 60) -> Floats:
    """(K, 3) points of the legs and guys."""
    points = []
    for leg in lengths["legs"]:
        turn = about_z(leg["from_keyway_deg"]).T
        foot, top = (
            np.array([0.0, leg[radius], height]) @ turn
            for radius, height in (("radius_mm", 0.0), ("top_radius_mm", leg["top_height_mm"]))
        )
        points.append(points_between(foot, top, number))
    for guy in lengths["guys"]:
        peg = np.array([0.0, guy["peg_radius_mm"], 0.0]) @ about_z(guy["from_keyway_deg"]).T
        points.append(points_between(peg, np.array([0.0, 0.0, guy["height_mm"]]), number))
    return np.concatenate(points)


def sampled_gap(lengths: dict[str, Any], boom_deg: float, e_deg: float, number: int = 60) -> float:
    """Least gap between points of what turns and what stands, or the ground; never less than the true."""
    turning, standing = turning_points(lengths, boom_deg, e_deg, number), standing_points(lengths, number)
    apart = turning[:, None, :] - standing[None, :, :]
    square = (apart**2).sum(axis=2)
    ground = max(float(turning[:, 2].min()), 0.0)
    return min(float(np.sqrt(max(square.min(), 0.0))), ground)
