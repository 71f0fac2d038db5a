"""Invented seasons: evenings of arcs of zeta in which passes are not clear."""

from __future__ import annotations

import numpy as np

from core.mount.seat.season.not_clear import NotClear


def season_of(*evenings: tuple[int, list[tuple[float, float]]]) -> NotClear:
    """Of each evening how many passes it has, and start and width of every arc that is not clear."""
    rows = [(number, *arc) for number, (_, arcs) in enumerate(evenings) for arc in arcs]
    evening, start, width = np.array(rows, dtype=float).reshape(-1, 3).T
    passes = np.array([count for count, _ in evenings])
    return NotClear(passes, evening.astype(np.intp), start % 360.0, width)


def drawn_season(seed: int, evenings: int, arcs: int = 8, widest_deg: float = 200.0) -> NotClear:
    """Arcs about two bearings that a season prefers, as orbits do."""
    drawn = np.random.default_rng(seed)
    rows = []
    for _ in range(evenings):
        middle = np.where(drawn.random(arcs) < 0.7, 20.0, 190.0) + drawn.normal(0.0, 40.0, arcs)
        width = drawn.uniform(5.0, widest_deg, arcs)
        rows.append((arcs + int(drawn.integers(0, 5)), list(zip(middle - width / 2.0, width, strict=True))))
    return season_of(*rows)
