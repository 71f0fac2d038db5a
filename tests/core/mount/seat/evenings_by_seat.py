"""Evenings of other seats, made up: for what only tells of them."""

from __future__ import annotations

import numpy as np

from core.mount.model.station import Mount
from core.mount.seat.by_evening import best_evening
from core.mount.seat.evenings import EveningCurve
from core.mount.seat.limits import SeatLimit
from core.studies import SeatByEvening


def made_up_curve(worth_s: list[float], **columns: list[int]) -> EveningCurve:
    """Candidates as far apart as each other, from zeta 0 on."""
    count = len(worth_s)
    return EveningCurve(
        zeta_deg=np.arange(count) * 360.0 / count,
        worth_s=np.array(worth_s, dtype=float),
        signal_s=np.array(worth_s, dtype=float),
        lost_s=np.zeros(count),
        contacts=np.full(count, 6),
        turned_back=np.array(columns.get("turned_back", [0] * count)),
        over_the_top=np.array(columns.get("over_the_top", [0] * count)),
        know_to_deg=np.array(columns.get("know_to_deg", [9] * count), dtype=float),
    )


def made_up_evenings(worth_s: list[float], mount: Mount, limits: tuple[SeatLimit, ...] = ()) -> SeatByEvening:
    """Such a curve and its best."""
    curve = made_up_curve(worth_s)
    return SeatByEvening(curve, best_evening(curve, mount, limits))
