"""The least single change of the mount that would let a pass through, upright or over the top.

The keyway's bearing comes first, since it is free until the tripod is down: there the answer is the nearest
end of an arc of bearings in which the pass is clear or rests. At that very end a split may still lose less
by more than the verdict forgives; then it is the least turn further in. Where no bearing will do, it is what
the mount itself is short of: elevation range, travel or azimuth rate. Halving brackets takes for granted
that more of a change never harms, which need not be so, so every cure is proved by the
verdict that it gives, and half of it must not cure.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from core.base.angles import wrap_180, wrap_360
from core.mount.check.strikes import barring_of
from core.mount.check.trial import Trial
from core.mount.check.verdict import check_pass
from core.mount.check.ways import Reach, possible_postures, reach_of
from core.mount.drive.motion import steer
from core.mount.drive.tracks import MountTrack
from core.mount.model.chain import correction_state, guarded_travel_deg, zeta_deg
from core.mount.model.results import Change, Cure
from core.mount.model.station import Mount, Station
from core.passes.track import Pass

#: A cure is told to a tenth, rounded up: it is found to a tenth of that, and to a small part of itself.
#: Smaller steps of the mount than the second are not looked into.
_TOLERANCE, _LEAST_STEP = 0.01, 1e-5
#: Beside an arc in which a pass strikes it does not.
_BESIDE_DEG = 0.01
#: How far each part of the mount is tried: (key, furthest value).
_LIMITS: tuple[tuple[Change, float], ...] = (
    ("elevation.maximum_deg", 180.0),
    ("elevation.minimum_deg", -90.0),
    ("azimuth.travel_deg", 1440.0),
    ("azimuth.rate_deg_s", 360.0),
)


def apply_cure(mount: Mount, cure: Cure, fraction: float = 1.0) -> Mount:
    """The mount with the cure, or a fraction of it, applied.

    A correction in force goes along with the keyway: turning the tripod by so much turns boresight by so
    much. In the plan the correction is void until it is measured anew, and the sentence says so.
    """
    by = cure.by_deg * fraction
    if cure.change == "keyway_bearing_deg":
        turned = wrap_360(mount.keyway_bearing_deg + by)
        updates: dict[str, object] = {"keyway_bearing_deg": turned}
        fitted = mount.sighting_correction
        if fitted is not None and correction_state(mount) == "holds":
            updates["sighting_correction"] = fitted.model_copy(update={"keyway_bearing_deg": turned})
        return mount.model_copy(update=updates)
    axis_name, field = cure.change.split(".")
    axis = getattr(mount, axis_name)
    return mount.model_copy(update={axis_name: axis.model_copy(update={field: getattr(axis, field) + by})})


def least_cure(
    pass_: Pass,
    track: MountTrack,
    station: Station,
) -> Cure | None:
    """The least change that makes the pass upright or over the top; None where no single change does."""
    mount, trial = station.mount, Trial(track, station)

    def cured(cure: Cure) -> bool:
        return trial.holds(apply_cure(mount, cure))

    def proved(cure: Cure) -> bool:
        whole, half = apply_cure(mount, cure), apply_cure(mount, cure, 0.5)
        return trial.holds(whole, carefully=True) and not trial.holds(half, carefully=True)

    turning = _least_turn(track, station, cured, proved)
    if turning is not None:
        cured_check = check_pass(pass_, track, replace(station, mount=apply_cure(mount, turning)))
        return replace(turning, rests=cured_check.resting)
    least: Cure | None = None
    for key, furthest in _LIMITS:  # each looked for no further than the least so far
        step = _least_step(mount, key, furthest, cured, abs(least.by_deg) if least else math.inf)
        if step is not None and (least is None or abs(step.by_deg) < abs(least.by_deg)) and proved(step):
            least = step
    return least


def _least_turn(
    track: MountTrack,
    station: Station,
    cured: Callable[[Cure], bool],
    proved: Callable[[Cure], bool],
) -> Cure | None:
    """The least turn of the keyway, tonight's correction going along; None where no turn is enough."""
    mount, inside = station.mount, list[Cure]()
    for end_deg, to_middle_deg in _turns_to_arcs(track, station):
        if any(abs(cure.by_deg) <= abs(end_deg) for cure in inside):
            break
        at_end = _turned(mount, end_deg)
        if proved(at_end):
            return min([at_end, *inside], key=lambda cure: abs(cure.by_deg))
        further = None if cured(at_end) else _least_inside(mount, end_deg, to_middle_deg, cured)
        inside += [further] if further is not None and proved(further) else []
    return min(inside, key=lambda cure: abs(cure.by_deg), default=None)


def _least_inside(
    mount: Mount, end_deg: float, to_middle_deg: float, cured: Callable[[Cure], bool]
) -> Cure | None:
    """At an arc's end a split may lose less by more than the rule forgives: the least turn in from there."""
    if not cured(_turned(mount, end_deg + to_middle_deg)):
        return None
    short_deg, enough_deg = 0.0, to_middle_deg
    while abs(enough_deg - short_deg) > min(_TOLERANCE, abs(end_deg + enough_deg) / 40.0):
        middle_deg = (short_deg + enough_deg) / 2.0
        if middle_deg in (short_deg, enough_deg):
            break
        if cured(_turned(mount, end_deg + middle_deg)):
            enough_deg = middle_deg
        else:
            short_deg = middle_deg
    return _turned(mount, end_deg + enough_deg)


def _turned(mount: Mount, by_deg: float) -> Cure:
    by = wrap_180(by_deg)
    return Cure("keyway_bearing_deg", by, wrap_360(mount.keyway_bearing_deg + by))


def _turns_to_arcs(track: MountTrack, station: Station) -> list[tuple[float, float]]:
    """Turns of the keyway to every arc end, least first, each with the turn on to the arc's middle."""
    mount, turns = station.mount, []
    for posture in possible_postures(mount):
        reach = reach_of(track, posture, mount.elevation, station.beam_limit_deg)
        for start, stop in _arcs(reach, mount):
            half = (stop - start) / 2.0
            zeta = zeta_deg(mount, posture)
            turns += [(wrap_180(start - zeta), half), (wrap_180(stop - zeta), -half)]
    turns += _turns_off_strikes(track, station)
    return sorted(turns, key=lambda turn: abs(turn[0]))


def _turns_off_strikes(track: MountTrack, station: Station) -> list[tuple[float, float]]:
    """Turns of the keyway to just beside every arc in which the pass would strike; as `_turns_to_arcs`."""
    barring, mount, turns = barring_of(station), station.mount, list[tuple[float, float]]()
    if barring is None:
        return turns
    steered = steer(track, mount, station.steering)
    for posture in possible_postures(mount):
        zeta = zeta_deg(mount, posture)
        start, width = barring.struck_arcs(steered, posture, mount)
        free = np.diff(np.append(start, start[:1] + 360.0)) - width
        for index, end in enumerate((start + width).tolist()):
            room = float(free[index])
            if room <= 4.0 * _BESIDE_DEG:
                continue
            half = room / 2.0 - _BESIDE_DEG
            turns.append((wrap_180(end + _BESIDE_DEG - zeta), half))
            turns.append((wrap_180(end + room - _BESIDE_DEG - zeta), -half))
    return turns


def _arcs(reach: Reach, mount: Mount) -> list[tuple[float, float]]:
    """The clear and the resting arc of zeta, where there is one that is not the whole circle."""
    guard, top = guarded_travel_deg(mount.azimuth)
    spans = []
    if reach.elevation_clear:
        spans.append((reach.high_deg - top, reach.low_deg - guard))
    if reach.can_rest:
        spans.append((reach.rest_low_deg - top, reach.rest_high_deg - guard))
    return [(start, stop) for start, stop in spans if 0.0 <= stop - start < 360.0]


def _least_step(
    mount: Mount, key: Change, furthest: float, cured: Callable[[Cure], bool], most: float
) -> Cure | None:
    """The least change of one figure of the mount, of those that are no more than ``most``.

    Every trial of a rate follows the pass anew, for a measured drive step by step; so a bracket is halved no
    further than the tenth that is told, and one of rates by their ratio.
    """
    axis_name, field = key.split(".")
    present = float(getattr(getattr(mount, axis_name), field))
    enough = math.copysign(min(abs(furthest - present), most), furthest - present)
    if enough == 0.0 or not cured(Cure(key, enough, present + enough)):
        return None
    short = 0.0
    while abs(enough - short) > min(_TOLERANCE, abs(enough) / 8.0):
        middle = (short + enough) / 2.0
        if key == "azimuth.rate_deg_s":
            middle = math.sqrt((present + short) * (present + enough)) - present
        if cured(Cure(key, middle, present + middle)):
            enough = middle
        else:
            short = middle
        if abs(enough) < _LEAST_STEP:
            break
    return Cure(key, enough, present + enough)
