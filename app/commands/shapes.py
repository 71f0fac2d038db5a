"""Results as JSON shapes. Field names are fixed: they are what scripts read. Times are ISO 8601 UTC."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from core.base.errors import PropagationError
from core.base.times import format_iso
from core.evaluate import Result
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.dial.summary import DialCheck
from core.mount.evening.moment import start_axes
from core.mount.model.chain import fixed_offset_deg
from core.mount.model.results import PassCheck, Reason, Rest, Strike, Way
from core.mount.model.station import Mount
from core.mount.seat.by_evening import BestEvening
from core.mount.seat.choice import BestSeat
from core.mount.seat.intervals import Interval, IsolatedBearing
from core.mount.seat.study import HoleStudy, SeatStudy
from core.passes.stays import Event
from core.passes.track import Pass
from core.studies import SeatByEvening


def number(value: float, digits: int = 4) -> float:
    """Rounded for output; never minus zero."""
    return round(float(value), digits) + 0.0


def event_shape(event: Event, with_range: bool = False) -> dict[str, Any]:
    """A moment: time, azimuth, elevation, and range where asked for."""
    shape: dict[str, Any] = {
        "time": format_iso(event.utc_s),
        "azimuth_deg": number(event.azimuth_deg),
        "elevation_deg": number(event.elevation_deg),
    }
    return shape | {"range_km": number(event.range_km, 3)} if with_range else shape


def pass_shape(pass_: Pass) -> dict[str, Any]:
    """One pass as `passes --json` prints it."""
    return {
        "satellite": pass_.satellite,
        "norad_id": pass_.norad_id,
        "aos": event_shape(pass_.aos),
        "peak": event_shape(pass_.peak),
        "tca": event_shape(pass_.tca, with_range=True),
        "los": event_shape(pass_.los),
        "stretches": [[format_iso(start), format_iso(end)] for start, end in pass_.stretches],
        "cut": pass_.cut,
    }


def refused_shape(refused: Iterable[PropagationError]) -> list[dict[str, Any]]:
    """Satellites that gave no answer, with the reason."""
    return [{"satellite": error.satellite, "reason": error.reason} for error in refused]


def way_shape(way: Way, mount: Mount) -> dict[str, Any]:
    """One way, with the dial at AOS and LOS."""
    return {
        "posture": way.posture,
        "turn": way.turn,
        "clear": way.clear,
        "rests": way.rests,
        "m_min_deg": number(way.m_min_deg),
        "m_max_deg": number(way.m_max_deg),
        "e_min_deg": number(way.e_min_deg),
        "e_max_deg": number(way.e_max_deg),
        "dial_aos_deg": number(azimuth_dial(way.m_aos_deg, mount.azimuth).value_deg),
        "dial_los_deg": number(azimuth_dial(way.m_los_deg, mount.azimuth).value_deg),
        "elevation_dial_aos_deg": number(elevation_dial(way.e_aos_deg, mount.elevation).value_deg),
        "elevation_dial_los_deg": number(elevation_dial(way.e_los_deg, mount.elevation).value_deg),
        "peak_azimuth_rate_deg_s": number(way.peak_azimuth_rate_deg_s),
        "seconds_lost": number(way.seconds_lost, 1),
        "rest": None if way.rest is None else rest_shape(way.rest),
    }


def rest_shape(rest: Rest) -> dict[str, Any]:
    """Where a way rests and what it costs."""
    return {
        "where": rest.where,
        "start": format_iso(rest.start_utc_s),
        "end": format_iso(rest.end_utc_s),
        "seconds": number(rest.seconds, 1),
        "overrun_deg": number(rest.overrun_deg),
        "off_deg": number(rest.off_deg),
        "loss_db": number(rest.loss_db, 2),
    }


def strike_shape(strike: Strike, mount: Mount) -> dict[str, Any]:
    """A way that is refused, and where it comes nearest to what it would strike."""
    return {
        "posture": strike.posture,
        "turn": strike.turn,
        "time": format_iso(strike.utc_s),
        "turning": strike.turning,
        "standing": strike.standing,
        "gap_mm": number(strike.gap_mm, 1),
        "wanted_mm": number(strike.wanted_mm, 1),
        "boom_from_keyway_deg": number(strike.boom_from_keyway_deg),
        "e_deg": number(strike.e_deg),
        "dial_deg": number(azimuth_dial(strike.m_deg, mount.azimuth).value_deg),
        "elevation_dial_deg": number(elevation_dial(strike.e_deg, mount.elevation).value_deg),
    }


def check_shape(check: PassCheck, reason: Reason, mount: Mount) -> dict[str, Any]:
    """One pass on the mount as `check --json` prints it."""
    shape = pass_shape(check.pass_) | {
        "clear": list(check.clear_postures),
        "ways": [way_shape(way, mount) for way in check.ways],
        "verdict": check.verdict,
        "resting": check.resting,
        "seconds_lost": number(check.seconds_lost, 1),
        "seconds_over_mask": number(check.seconds_in_all, 1),
        "reason": reason.text,
        "strikes": [strike_shape(strike, mount) for strike in reason.strikes],
        "cure": None,
        "split": None,
        "part": None,
    }
    if reason.cure is not None:
        cure = reason.cure
        shape["cure"] = {
            "change": f"mount.{cure.change}",
            "by": number(cure.by_deg, 6),
            "to": number(cure.to_value, 6),
        }
    if check.split is not None:
        split = check.split
        shape["split"] = {
            "kind": split.kind,
            "start": format_iso(split.start_utc_s),
            "end": format_iso(split.end_utc_s),
            "back": format_iso(split.back_utc_s),
            "from": {"posture": split.from_posture, "turn": split.from_turn},
            "to": {"posture": split.to_posture, "turn": split.to_turn},
            "absences": [{"from": format_iso(a), "to": format_iso(b)} for a, b in split.absences],
        }
    if check.part is not None:
        part = check.part
        shape["part"] = {
            "from": format_iso(part.start_utc_s),
            "to": format_iso(part.end_utc_s),
            "posture": part.posture,
            "turn": part.turn,
            "absences": [{"from": format_iso(a), "to": format_iso(b)} for a, b in part.absences],
        }
    return shape


def plan_head(result: Result) -> dict[str, Any]:
    """What every answer about a plan begins with: what it was computed from and what was assumed."""
    return {"identity": result.identity, "assumed": list(result.assumed), "motion": result.order.motion}


def interval_shape(piece: Interval | IsolatedBearing, passes: tuple[Pass, ...]) -> dict[str, Any]:
    """Counts of a stretch of bearings (or of a single one), and which passes are not clear there."""
    place: dict[str, Any]
    if isinstance(piece, Interval):
        place = {"from_deg": number(piece.from_deg, 6), "to_deg": number(piece.to_deg, 6)}
    else:
        place = {"keyway_bearing_deg": number(piece.keyway_bearing_deg, 6)}
    return place | {
        "clear_upright": piece.counts.clear_upright,
        "clear_over_the_top_only": piece.counts.clear_over_the_top_only,
        "not_clear": piece.counts.not_clear,
        "lost": [
            {"norad_id": passes[index].norad_id, "aos": format_iso(passes[index].aos.utc_s)}
            for index in piece.counts.not_clear_indices
        ],
    }


def best_shape(best: BestSeat) -> dict[str, Any]:
    """The best seat."""
    return {
        "keyway_bearing_deg": number(best.keyway_bearing_deg, 6),
        "index_hole": best.index_hole,
        "place_within_deg": [number(best.place_within_deg[0]), number(best.place_within_deg[1])],
        "know_to_deg": number(best.know_to_deg),
        "seconds_lost": number(best.seconds_lost, 1),
        "splits": best.splits,
        "parts": best.parts,
        "out_of_reach": best.out_of_reach,
        "forbidden": best.forbidden,
    }


def second_best_shape(study: SeatStudy, there: tuple[PassCheck, ...], mount: Mount) -> dict[str, Any] | None:
    """The best seat in another place, and where each pass starts on the dials there."""
    second = study.second_best
    if second is None:
        return None
    return best_shape(second) | {"starts": [_start_shape(check, mount) for check in there]}


def _start_shape(check: PassCheck, mount: Mount) -> dict[str, Any]:
    pass_, place = check.pass_, start_axes(check)
    return {
        "satellite": pass_.satellite,
        "norad_id": pass_.norad_id,
        "aos": format_iso(pass_.aos.utc_s),
        "verdict": check.verdict,
        "seconds_lost": number(check.seconds_lost, 1),
        "azimuth_dial_deg": None
        if place is None
        else number(azimuth_dial(place[0], mount.azimuth).value_deg),
        "elevation_dial_deg": (
            None if place is None else number(elevation_dial(place[1], mount.elevation).value_deg)
        ),
    }


def dial_check_shape(check: DialCheck) -> dict[str, Any]:
    """One line of the travel test."""
    return {
        "axis": check.axis,
        "place": check.place,
        "axis_deg": number(check.axis_deg),
        "bearing_deg": None if check.bearing_deg is None else number(check.bearing_deg),
        "dial_deg": number(check.dial_deg),
        "dial": check.reading,
    }


def hole_shape(study: HoleStudy, passes: tuple[Pass, ...]) -> dict[str, Any]:
    """The study with one hole."""
    curve = study.curve
    return {
        "intervals": [interval_shape(piece, passes) for piece in study.intervals],
        "points": [interval_shape(point, passes) for point in study.isolated],
        "curve": [
            [number(bearing, 6), number(lost_s, 1), int(splits), int(parts), int(out_of_reach)]
            for bearing, lost_s, splits, parts, out_of_reach in zip(
                curve.bearing_deg, curve.lost_s, curve.splits, curve.parts, curve.out_of_reach, strict=True
            )
        ],
        "best": best_shape(study.best),
    }


def by_evening_shape(evenings: SeatByEvening | None, mount: Mount) -> dict[str, Any]:
    """The seats by what their evenings are worth: for the hole in use, and the best over all holes."""
    if evenings is None:
        return {"best_evening": None, "evening_curve": []}
    curve = evenings.curve_of(mount.index_hole).turned(-fixed_offset_deg(mount))
    columns = (
        curve.zeta_deg,
        curve.worth_s,
        curve.signal_s,
        curve.contacts,
        curve.turned_back,
        curve.over_the_top,
    )
    return {
        "best_evening": None if evenings.best is None else best_evening_shape(evenings.best),
        "evening_curve": [
            [number(bearing, 6), number(worth_s, 1), number(signal_s, 1), int(contacts), int(back), int(over)]
            for bearing, worth_s, signal_s, contacts, back, over in zip(*columns, strict=True)
        ],
    }


def best_evening_shape(best: BestEvening) -> dict[str, Any]:
    """The seat whose evening is best."""
    return {
        "keyway_bearing_deg": number(best.keyway_bearing_deg, 6),
        "index_hole": best.index_hole,
        "place_within_deg": [number(side, 3) for side in best.place_within_deg],
        "know_to_deg": number(best.know_to_deg, 3),
        "seconds_lost": number(best.seconds_lost, 1),
        "worth_s": number(best.worth_s, 1),
        "signal_s": number(best.signal_s, 1),
        "contacts": best.contacts,
        "turned_back": best.turned_back,
        "over_the_top": best.over_the_top,
        "forbidden": best.forbidden,
    }


def orient_shape(study: SeatStudy, there: tuple[PassCheck, ...], mount: Mount) -> dict[str, Any]:
    """The study of the seat: the hole in use at the top, every hole under "holes"."""
    shape = hole_shape(study.hole_in_use, study.passes)
    holes = {
        hole.hole.name: {
            "offset_deg": number(hole.hole.offset_deg),
            "drilled_deg": number(hole.hole.drilled_deg),
        }
        | hole_shape(hole, study.passes)
        for hole in study.holes
    }
    return shape | {
        "index_hole": study.hole_in_use.hole.name,
        "best": best_shape(study.best),
        "second_best": second_best_shape(study, there, mount),
        "forbidden": [
            {"from_deg": number(limit.from_deg), "to_deg": number(limit.to_deg), "why": limit.why}
            for limit in study.limits
        ],
        "passes_studied": len(study.passes),
        "left_out": [
            {"satellite": pass_.satellite, "norad_id": pass_.norad_id, "reason": "neither rises nor sets"}
            for pass_ in study.left_out
        ],
        "holes": holes,
    }
