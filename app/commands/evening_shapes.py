"""The evening as JSON shapes. Field names are fixed, as in `app.commands.shapes`."""

from __future__ import annotations

from typing import Any

from app.commands.shapes import check_shape, number, way_shape
from core.base.times import format_iso
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.cautions import joining_with_caution
from core.mount.evening.joining import AxisAngles
from core.mount.evening.lost import lost_of
from core.mount.evening.results import Contact, EveningOrder, EveningReasons, EveningWorth, Halt, Move
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount, Station
from core.passes.track import Pass
from core.replan import Replanned


def move_shape(move: Move | None, mount: Mount) -> dict[str, Any] | None:
    """The move before a contact."""
    if move is None:
        return None
    return {
        "from_dial_deg": number(azimuth_dial(move.m_from_deg, mount.azimuth).value_deg),
        "to_dial_deg": number(azimuth_dial(move.m_to_deg, mount.azimuth).value_deg),
        "from_elevation_dial_deg": number(elevation_dial(move.e_from_deg, mount.elevation).value_deg),
        "to_elevation_dial_deg": number(elevation_dial(move.e_to_deg, mount.elevation).value_deg),
        "seconds_needed": number(move.seconds_needed, 1),
        "seconds_there": number(move.seconds_there, 1),
        "feasible": move.feasible,
    }


def joining_shape(check: PassCheck, station: Station, idle: AxisAngles) -> dict[str, Any] | None:
    """How soon a pass is joined from a dead start at its first worked moment; null when out of reach."""
    found = joining_with_caution(check, station, idle)
    if found is None:
        return None
    return {
        "from_idle": _time_or_none(found.from_idle_utc_s),
        "from_anywhere": _time_or_none(found.from_anywhere_utc_s),
        "leave_idle_by": format_iso(found.leave_idle_utc_s),
        "leave_anywhere_by": format_iso(found.leave_anywhere_utc_s),
        "caution": found.caution or None,
    }


def _time_or_none(utc_s: float | None) -> str | None:
    return None if utc_s is None else format_iso(utc_s)


def now_shape(again: Replanned) -> dict[str, Any]:
    """Where the mount stands now, and when the first contact is joined from there."""
    mount, (m_deg, e_deg) = again.plan.mount, again.place
    azimuth = azimuth_dial(m_deg, mount.azimuth)
    return {
        "time": format_iso(again.now.utc_s),
        "azimuth_dial_deg": number(azimuth.value_deg),
        "time_round": azimuth.time_round,
        "elevation_dial_deg": number(elevation_dial(e_deg, mount.elevation).value_deg),
        "m_deg": number(m_deg),
        "e_deg": number(e_deg),
        "bearing_deg": number(again.bearing_deg),
        "on_first": _time_or_none(again.on_first_utc_s),
        "over": [_pass_id_shape(pass_) for pass_ in again.over],
        "missed": [_pass_id_shape(pass_) for pass_ in again.missed],
    }


def _pass_id_shape(pass_: Pass) -> dict[str, Any]:
    return {
        "satellite": pass_.satellite,
        "norad_id": pass_.norad_id,
        "aos": format_iso(pass_.aos.utc_s),
    }


def contact_shape(contact: Contact, why_so: str, station: Station, idle: AxisAngles) -> dict[str, Any]:
    """One contact of the evening."""
    mount, lost = station.mount, lost_of(contact, station.beam_limit_deg)
    return check_shape(contact.check, contact.reason, mount) | {
        "worth": number(contact.worth),
        "picked": contact.picked,
        "start": format_iso(contact.start_utc_s),
        "end": format_iso(contact.end_utc_s),
        "chosen": None if contact.check.chosen is None else way_shape(contact.check.chosen, mount),
        "move_before": move_shape(contact.move_before, mount),
        "joining": joining_shape(contact.check, station, idle),
        "wrap_before_deg": number(contact.wrap_before_deg),
        "wrap_after_deg": number(contact.wrap_after_deg),
        "joined_late_s": number(contact.joined_late_s, 1),
        "left_early_s": number(contact.left_early_s, 1),
        "off_beam_s": number(lost.off_beam_s, 1),
        "let_go_s": number(lost.let_go_s, 1),
        "before_joining_s": number(lost.before_joining_s, 1),
        "explained": why_so,
    }


def evening_shape(
    order: EveningOrder, told: EveningReasons, station: Station, idle: AxisAngles
) -> dict[str, Any]:
    """The evening in order, with what its alternatives would cost."""
    mount = station.mount
    return {
        "contacts": [
            contact_shape(contact, why, station, idle)
            for contact, why in zip(order.contacts, told.why_so, strict=True)
        ],
        "left_out": [
            {
                "satellite": check.pass_.satellite,
                "norad_id": check.pass_.norad_id,
                "aos": format_iso(check.pass_.aos.utc_s),
                "reason": why,
            }
            for (check, _), why in zip(order.left_out, told.why_left, strict=True)
        ],
        "unmatched": list(order.unmatched),
        "cautions": [{"contact": one.contact, "text": one.text} for one in order.cautions],
        "rests": [rest_place_shape(rest, mount) for rest in order.rests],
        "worth": worth_shape(order.worth),
    }


def rest_place_shape(rest: Halt, mount: Mount) -> dict[str, Any]:
    """Where the mount stands idle or stowed."""
    return {
        "kind": rest.kind,
        "after": rest.after,
        "dial_deg": number(azimuth_dial(rest.m_deg, mount.azimuth).value_deg),
        "elevation_dial_deg": number(elevation_dial(rest.e_deg, mount.elevation).value_deg),
        "start": format_iso(rest.start_utc_s),
        "end": _time_or_none(rest.end_utc_s),
    }


def worth_shape(worth: EveningWorth) -> dict[str, Any]:
    """What the evening is worth, and what that comes of."""
    return {
        "worth_s": number(worth.worth_s, 1),
        "signal_s": number(worth.signal_s, 1),
        "changes_s": number(worth.changes_s, 1),
        "postures_s": number(worth.postures_s, 1),
        "turning_s": number(worth.turning_s, 1),
        "turned_deg": number(worth.turned_deg, 1),
        "short_s": number(worth.short_s, 1),
    }
