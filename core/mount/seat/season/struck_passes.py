"""At which bearings of the keyway passes of an evening would strike something, all passes at once.

Their paths are kept no longer than this: a year of them would take some gigabytes, and the arcs some
megabytes. The axes are taken to be right on the satellite; how fast they are is not asked, as it is not for
the clear arcs of a season.
"""

from __future__ import annotations

import numpy as np

from core.base.angles import Flags, Floats, Indices, wrap_180
from core.base.ragged import places_in
from core.mount.clearance.keep_out import KeepOut
from core.mount.model.chain import axis_elevation_deg, posture_shift_deg
from core.mount.model.station import POSTURES, ElevationAxis, Posture, Tilt
from core.mount.seat.arcs import Struck
from core.mount.seat.season.extents import Moments, angles_along, leaned, with_small_steps
from core.passes.track import PassTable

#: Looks at a pass are no further apart than this, in time and in azimuth: between them it is straight enough.
_STEP_S, _STEP_DEG = 4.0, 3.0


def struck_of(
    passes: PassTable, which: Flags, tilt: Tilt, keep_out: KeepOut, elevation: ElevationAxis
) -> dict[Posture, Struck]:
    """Per posture the arcs of the keyway's bearing at which some passes (M,) of a table would strike.

    Args:
        passes: the table.
        which: (M,) bool, the passes that are asked of; they are numbered anew.
        tilt: the mount's lean.
        keep_out: the cells, in the tripod's frame.
        elevation: the axis' range, in which it is held.
    """
    rows = np.flatnonzero(which)
    moments = _moments(passes, rows, tilt)
    number = np.searchsorted(rows, moments.row)
    turned = np.cumsum(wrap_180(np.diff(moments.azimuth_deg, prepend=moments.azimuth_deg[:1])))
    steps = np.flatnonzero(np.diff(moments.row) == 0)
    found = {}
    for posture in POSTURES:
        boom = moments.azimuth_deg[:1] + turned + posture_shift_deg(posture)
        told = axis_elevation_deg(moments.elevation_deg, posture)
        e_deg = np.clip(told, elevation.minimum_deg, elevation.maximum_deg)
        found[posture] = Struck(*keep_out.struck_turns_each(boom, e_deg, steps, number))
    return found


def joined_evenings(each: list[dict[Posture, Struck]], counts: list[int]) -> dict[Posture, Struck]:
    """The arcs of evenings of so many passes each as one, passes numbered on."""
    firsts = (np.cumsum(counts) - counts).tolist()

    def of(posture: Posture) -> Struck:
        arcs = [one[posture] for one in each]
        of_pass: Indices = np.concatenate(
            [np.zeros(0, np.intp), *(arc.of_pass + first for arc, first in zip(arcs, firsts, strict=True))]
        )
        starts: Floats = np.concatenate([np.zeros(0), *(arc.start_deg for arc in arcs)])
        return Struck(of_pass, starts, np.concatenate([np.zeros(0), *(arc.width_deg for arc in arcs)]))

    return {posture: of(posture) for posture in POSTURES}


def _moments(passes: PassTable, rows: Indices, tilt: Tilt) -> Moments:
    paths = leaned(passes.table.paths.of_owners(passes.stay, len(passes.table.satellites)), tilt)
    aos_s, los_s = passes.aos[rows, 0], passes.los[rows, 0]
    number = np.maximum(np.ceil((los_s - aos_s) / _STEP_S).astype(np.intp), 1) + 1
    of = np.repeat(np.arange(rows.size), number)
    utc_s = aos_s[of] + places_in(number) / (number - 1)[of] * (los_s - aos_s)[of]
    row = rows[of]
    piece = paths.piece_at(row, utc_s)
    moments = Moments(row, piece, utc_s, *angles_along(paths, piece, utc_s))
    return with_small_steps(paths, moments, _STEP_DEG)
