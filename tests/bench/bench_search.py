"""The search against a plain loop of Skyfield's event finder in one run: python -m tests.bench.bench_search.

Both look for the passes of the amateur satellites over the horizon at 47.2 N 9.1 E, 1300 m, in the eight
hours from 2024-11-01T16:00Z. The event finder knows neither mask nor tracks, so only the search is raced;
what cutting the mask and sampling the tracks adds is told apart. Times are of the processor, best of several.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from time import process_time
from typing import TypeVar

import numpy as np
from skyfield.api import EarthSatellite, load, wgs84

from core.base.times import parse_iso, to_datetime
from core.elements.files import read_element_files
from core.elements.model import ElementSet
from core.elements.propagator import satrec
from core.passes.frames import Observer
from core.passes.search import StaySearch, find_stays
from core.passes.track import cut_passes
from tests.shared_data import shared_file

T = TypeVar("T")

PLACE = (47.2, 9.1, 1300.0)
START_UTC_S = parse_iso("2024-11-01T16:00:00Z")
HOURS = 8.0
RUNS = 5


def plain_loop(sets: Sequence[ElementSet]) -> int:
    """Skyfield's event finder satellite by satellite; how many culminations it reports."""
    timescale = load.timescale(builtin=True)
    start = timescale.from_datetime(to_datetime(START_UTC_S))
    end = timescale.from_datetime(to_datetime(START_UTC_S + HOURS * 3600.0))
    station = wgs84.latlon(*PLACE)
    tops = 0
    for elements in sets:
        satellite = EarthSatellite.from_satrec(satrec(elements), timescale)
        _, events = satellite.find_events(station, start, end, altitude_degrees=0.0)
        tops += int(np.sum(events == 1))
    return tops


def our_search(sets: Sequence[ElementSet]) -> StaySearch:
    """Our search over the same window."""
    return find_stays(sets, Observer(*PLACE), START_UTC_S, START_UTC_S + HOURS * 3600.0)


def best_of(runs: int, job: Callable[[], T]) -> tuple[float, T]:
    """The shortest processor time in seconds, and the last answer."""
    times = []
    for _ in range(runs):
        begin = process_time()
        answer = job()
        times.append(process_time() - begin)
    return min(times), answer


def main(files: Sequence[str]) -> None:
    """Race both; with a file as argument also time the search over all of it."""
    sets = read_element_files([shared_file("data/amateur_20241101.csv")]).sets
    our_search(sets[:1])  # imports and tables
    plain_loop(sets[:1])
    ours_s, search = best_of(RUNS, lambda: our_search(sets))
    loop_s, tops = best_of(2, lambda: plain_loop(sets))
    cut_s, passes = best_of(RUNS, lambda: cut_passes(search.stays, (), 5.0))
    print(f"{len(sets)} satellites, {HOURS:g} h: {len(search.stays)} stays, {tops} culminations by the loop")
    print(f"search         {ours_s * 1e3:8.1f} ms")
    print(f"plain loop     {loop_s * 1e3:8.1f} ms, {loop_s / ours_s:.0f} times as long")
    print(f"mask, tracks   {cut_s * 1e3:8.1f} ms for {len(passes)} passes over 5 deg")
    for file in files:
        many = read_element_files([Path(file)]).sets
        long_s, found = best_of(1, lambda many=many: our_search(many))
        print(f"{len(many)} satellites of {Path(file).name}: {long_s:.1f} s, {len(found.stays)} stays")


if __name__ == "__main__":
    main(sys.argv[1:])
