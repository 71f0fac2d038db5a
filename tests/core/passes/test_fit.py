"""Paths laid through exact states, against exact states elsewhere; and how little is asked for."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings

from core.base.curves import hermite_values
from core.elements.propagator import satrec
from core.passes.exact import ExactStates
from core.passes.fit import Spans, lay_paths
from core.passes.frames import EarthTurn
from core.passes.search import CHORDS, find_stays, reach_km, sampling_step_s
from tests.core.passes.test_search import HILL, HOUR, START, invented, observers, orbits
from tests.propagator_calls import counted_calls


def states_of(elements, observer, hours=12.0):
    """One satellite over one station."""
    window = START, START + hours * HOUR
    return ExactStates([elements], [satrec(elements)], (observer, EarthTurn.over(*window)), window)


@settings(max_examples=40)
@given(elements=orbits(), observer=observers)
def test_a_path_is_the_satellites_own_to_a_millimetre(elements, observer):
    states = states_of(elements, observer)
    ends = np.array([states.start_utc_s]), np.array([states.end_utc_s])
    paths = lay_paths(states, Spans(np.zeros(1, dtype=np.intp), *ends))
    utc_s = np.linspace(states.start_utc_s, states.end_utc_s, 1501)
    which = np.zeros(utc_s.size, dtype=np.intp)
    position, _velocity = paths.at(paths.piece_at(which, utc_s), utc_s)
    code, exact = states.positions(which, utc_s)
    assert not code.any()
    # POSIX seconds have a step of 0.24 microseconds, in which a satellite moves by 2 mm.
    assert np.abs(position - exact).max() < 4e-6


@settings(max_examples=40)
@given(elements=orbits(), observer=observers)
def test_chords_of_a_cubic_miss_the_height_by_less_than_the_reach(elements, observer):
    states = states_of(elements, observer)
    step_s = sampling_step_s(states.orbits)
    grid = np.linspace(states.start_utc_s, states.end_utc_s, 2 + int(12.0 * HOUR / step_s))
    _, height, rate = states.heights_on_grid(np.zeros(1, dtype=np.intp), grid)
    shares, width = np.linspace(0.0, 1.0, 2 * CHORDS + 1), np.diff(grid)
    cubic = hermite_values(shares, width, height[0, :-1], height[0, 1:], rate[0, :-1], rate[0, 1:])
    utc_s = (grid[:-1, None] + shares * width[:, None]).ravel()
    exact = states.positions(np.zeros(utc_s.size, dtype=np.intp), utc_s)[1]
    cubic[:, 1::2] = 0.5 * (cubic[:, :-1:2] + cubic[:, 2::2])
    assert np.abs(cubic.ravel() - exact[:, 2]).max() < reach_km(states.orbits, step_s)[0]


def test_a_low_satellite_costs_few_states_a_day():
    """SGP4's states are most of what a search takes: 250 a satellite and day, whatever else is done."""
    crowd = [
        invented(NORAD_CAT_ID=91000 + n, MEAN_MOTION=13.5 + 0.05 * n, MEAN_ANOMALY=(37.0 * n) % 360.0)
        for n in range(40)
    ]
    with counted_calls() as counted:
        stays = find_stays(crowd, HILL, START, START + 24.0 * HOUR).stays
    assert len(stays) > 150
    assert counted.states < 250 * len(crowd)
