"""An axis switched on and off, in steps of a hundredth of a second. Imports nothing of the project.

An axis is a plain dict: up, down (deg/s, both positive), gain (deg/s2 or None), deadband, nudge, readout.
"""

from __future__ import annotations

import math

import numpy as np

STEP_S = 0.01


def dial(value: float, readout: float) -> float:
    return value if readout == 0.0 else math.floor(value / readout + 0.5) * readout


def run(axis: dict, utc_s: np.ndarray, wanted: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Moments and places, from rest and on the wanted path at first."""
    moments = np.arange(utc_s[0], utc_s[-1] + STEP_S / 2, STEP_S)
    aims = np.interp(moments, utc_s, wanted)
    place, speed, way, begun = float(aims[0]), 0.0, 0, 0.0
    places = [place]
    leave_alone = max(axis["deadband"], axis["nudge"] / 2.0)
    for aim in aims[1:]:
        apart = dial(aim, axis["readout"]) - dial(place, axis["readout"])
        if way == 0 and abs(apart) > 1e-9 and abs(apart) >= leave_alone:
            way, begun = (1 if apart > 0 else -1), place
        if way and apart * way <= 1e-9 and abs(place - begun) >= axis["nudge"] - 1e-9:
            way = 0
        top = axis["up"] if way >= 0 else axis["down"]
        left = max((aim - place) * way, axis["nudge"] - abs(place - begun)) if way else 0.0
        if axis["gain"] is None:
            place += way * min(max(left, 0.0) if axis["readout"] == 0.0 else top * STEP_S, top * STEP_S)
        else:
            goal = way * min(top, math.sqrt(2.0 * axis["gain"] * max(left, 0.0)))
            change = axis["gain"] * STEP_S
            speed += min(max(goal - speed, -change), change)
            place += speed * STEP_S
        places.append(place)
    return moments, np.array(places)
