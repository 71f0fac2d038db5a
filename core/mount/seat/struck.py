"""At which zeta each pass would strike something, exactly: the cells to keep out of, turned by the pass."""

from __future__ import annotations

import numpy as np

from core.mount.check.strikes import Barring
from core.mount.drive.motion import Steered
from core.mount.model.station import Mount, Posture
from core.mount.seat.arcs import Struck


def struck_arcs(steered: tuple[Steered, ...], mount: Mount, posture: Posture, barring: Barring) -> Struck:
    """The arcs of zeta at which each pass, followed with no stop in the way, would strike."""
    each = [barring.struck_arcs(one, posture, mount) for one in steered]
    nothing = [np.zeros(0)]
    return Struck(
        np.repeat(np.arange(len(each)), [start.size for start, _width in each]).astype(np.intp),
        np.concatenate([*nothing, *(start for start, _width in each)]),
        np.concatenate([*nothing, *(width for _start, width in each)]),
    )
