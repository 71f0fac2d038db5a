"""How far the keyway may lie off with the evening's verdicts as they are."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.mount.evening.results import EveningOrder
from core.mount.model.chain import zeta_deg
from core.mount.model.station import Mount
from core.mount.seat.losses.table import verdicts_at
from core.mount.seat.study import SeatStudy

#: Tonight's verdicts are looked at this far to both sides, in such steps, then to a tenth of a degree.
_FURTHEST_DEG, _STEP_DEG, _TENTH_DEG = 90.0, 0.5, 0.1


def verdicts_hold(study: SeatStudy, order: EveningOrder, mount: Mount) -> tuple[float, float]:
    """How far the keyway may lie off to both sides (minus, plus) with every contact's verdict as it is.

    By the study's table, good to some 0.4 s lost; 90 deg at most. What a verdict is where the keyway stands
    is the table's own, too, so that the two are compared alike.
    """
    mine = {contact.check.pass_ for contact in order.contacts}
    of_contacts = np.array([pass_ in mine for pass_ in study.passes], dtype=bool)
    table, here = study.table_of(mount.index_hole), zeta_deg(mount)
    present = verdicts_at(table, here).verdict_code[of_contacts]

    def holds(off_deg: float) -> bool:
        there = verdicts_at(table, here + off_deg).verdict_code[of_contacts]
        return bool((there == present).all())

    return -_holds_until(lambda off: holds(-off)), _holds_until(holds)


def _holds_until(holds: Callable[[float], bool]) -> float:
    """The last tenth of a degree up to which something holds, looked for outward."""
    steps = (_STEP_DEG * k for k in range(1, round(_FURTHEST_DEG / _STEP_DEG) + 1))
    beyond = next((off for off in steps if not holds(off)), None)
    if beyond is None:
        return _FURTHEST_DEG
    tenths = round(_STEP_DEG / _TENTH_DEG)
    first = beyond - _STEP_DEG
    good = 0
    while good + 1 < tenths and holds(first + (good + 1) * _TENTH_DEG):
        good += 1
    return round(first + good * _TENTH_DEG, 1)
