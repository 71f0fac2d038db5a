"""Invented stands for the tests, and a plain oracle: sums over point masses about every line of two feet."""

from __future__ import annotations

import math
from itertools import permutations
from typing import Any

import numpy as np
from hypothesis import strategies as st

from core.stand.model import Foot, Mass, Stand, WindArea

G = 9.80665
lengths = st.floats(100.0, 1500.0)
angles = st.floats(0.0, 360.0, exclude_max=True)
feet = st.lists(
    st.builds(Foot, from_keyway_deg=angles, radius_mm=st.floats(400.0, 1200.0)), min_size=3, max_size=7
)
masses = st.lists(
    st.builds(
        Mass,
        mass_kg=st.floats(0.5, 20.0),
        height_mm=st.floats(0.0, 2000.0),
        from_keyway_deg=angles,
        radius_mm=st.floats(0.0, 300.0),
    ),
    min_size=1,
    max_size=5,
)
areas = st.lists(
    st.builds(
        WindArea, area_m2=st.floats(0.01, 0.5), drag=st.floats(0.3, 2.0), height_mm=st.floats(200.0, 2500.0)
    ),
    min_size=1,
    max_size=4,
)
stands = st.builds(Stand, legs=feet.map(tuple), masses=masses.map(tuple), areas=areas.map(tuple))


def ring(count: int, radius_mm: float, first_deg: float = 0.0) -> tuple[Foot, ...]:
    """Feet evenly round a circle."""
    return tuple(
        Foot(from_keyway_deg=first_deg + 360.0 * k / count, radius_mm=radius_mm) for k in range(count)
    )


def worked_stand(**changes: Any) -> Stand:
    """27.4 kg with a drag moment of 0.984 m3 on three feet at 750 mm, or as changed."""
    told: dict[str, Any] = {
        "legs": ring(3, 750.0),
        "masses": (Mass(mass_kg=27.4, height_mm=900.0),),
        "areas": (WindArea(area_m2=0.82, drag=1.0, height_mm=1200.0),),
    }
    return Stand(**(told | changes))


def place(from_keyway_deg: float, radius_mm: float) -> np.ndarray:
    angle = math.radians(from_keyway_deg)
    return np.array([math.sin(angle), math.cos(angle)]) * radius_mm / 1000.0


def lines(legs: tuple[Foot, ...]) -> list[tuple[np.ndarray, np.ndarray]]:
    """Every line of two feet with all others on its left or on it: (a foot, normal outward)."""
    places = [place(leg.from_keyway_deg, leg.radius_mm) for leg in legs]
    found = []
    for one, other in permutations(range(len(places)), 2):
        along = places[other] - places[one]
        length = float(np.hypot(*along))
        if length < 1e-6:
            continue
        outward = np.array([along[1], -along[0]]) / length
        if all(outward @ (foot - places[one]) <= 1e-9 for foot in places):
            found.append((places[one], outward))
    return found


def holding_moments(stand: Stand) -> list[tuple[np.ndarray, float]]:
    """(outward normal, moment in N m that the weights hold) of every line, mass by mass."""
    told = []
    for foot, outward in lines(stand.legs):
        held = stand.tripod_mass_kg * G * float(outward @ foot)
        for mass in stand.masses:
            held += mass.mass_kg * G * float(outward @ (foot - place(mass.from_keyway_deg, mass.radius_mm)))
        for hung in stand.hung:
            held += hung.mass_kg * G * float(outward @ foot)
        told.append((outward, held))
    return told


def wind_moment(stand: Stand, speed_m_s: float) -> float:
    """N m of the wind about the ground, area by area."""
    q = stand.air_density_kg_m3 * speed_m_s * speed_m_s / 2.0
    return sum(q * one.drag * one.area_m2 * one.height_mm / 1000.0 for one in stand.areas)


def stands_up(stand: Stand, speed_m_s: float, toward_deg: float) -> bool:
    """No line of feet at which the wind turns more than the weights hold."""
    u = place(toward_deg, 1000.0)
    moment = wind_moment(stand, speed_m_s)
    return all(moment * float(u @ outward) <= held for outward, held in holding_moments(stand))
