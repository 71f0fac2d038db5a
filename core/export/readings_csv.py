"""The evening's readings as CSV: one row per moment of each contact, with the plan's identity above."""

from __future__ import annotations

import csv
import io

import numpy as np

from core.base.angles import wrap_360
from core.base.errors import ValueRangeError
from core.base.text import text_cell
from core.base.times import format_iso
from core.evaluate import Result
from core.export.identity import identity_lines
from core.mount.dial.readings import azimuth_dial, elevation_dial
from core.mount.evening.drawn import Kind, kinds_at
from core.mount.evening.results import Contact
from core.passes.frames import azimuth_elevation, range_rate, slant_range
from core.passes.stays import stay_at
from core.plan.document import Plan

HEADS = (
    "time_utc",
    "satellite",
    "norad_id",
    "azimuth_deg",
    "elevation_deg",
    "range_km",
    "range_rate_km_s",
    "azimuth_dial_deg",
    "azimuth_dial_time_round",
    "elevation_dial_deg",
    "mechanical_azimuth_deg",
    "elevation_axis_deg",
    "off_boresight_deg",
    "verdict",
    "state",
)

_STATES = {
    Kind.UPRIGHT: "on the pass",
    Kind.OVER_THE_TOP: "on the pass",
    Kind.MOVING: "moving",
    Kind.LET_GO: "let go",
    Kind.HIDDEN: "behind the mask",
}


def readings_csv(plan: Plan, result: Result, made_utc_s: float, step_s: float = 10.0) -> str:
    """CSV text (RFC 4180) with comment lines, beginning with #, that carry the plan's identity.

    Args:
        plan, result: the plan and what `evaluate` gave for it.
        made_utc_s: the making time, POSIX seconds.
        step_s: seconds between rows, 0.1 to 600; first and last worked moment always have one.

    Raises:
        ValueRangeError: the step is out of range.
    """
    if not 0.1 <= step_s <= 600.0:
        raise ValueRangeError("step", step_s, "from 0.1 to 600 seconds")
    text = io.StringIO()
    for line in identity_lines("readings", plan, result, made_utc_s):
        text.write(f"# {line}\r\n")
    writer = csv.writer(text)
    writer.writerow(HEADS)
    for contact in result.order.contacts:
        writer.writerows(_rows(contact, plan, step_s))
    return text.getvalue()


def _figure(shown_deg: float) -> str:
    """A rounded reading, all of its digits and no more."""
    return f"{shown_deg:.9g}"


def _rows(contact: Contact, plan: Plan, step_s: float) -> list[list[str]]:
    check, pointing = contact.check, contact.check.pointing
    if pointing is None:
        return []
    moments = np.append(np.arange(contact.start_utc_s, contact.end_utc_s, step_s), contact.end_utc_s)
    position, velocity = stay_at(check.pass_.stay, moments)
    azimuth, elevation = azimuth_elevation(position)
    ranges, rates = slant_range(position), range_rate(position, velocity)
    m_deg = np.interp(moments, pointing.utc_s, pointing.m_deg)
    e_deg = np.interp(moments, pointing.utc_s, pointing.e_deg)
    off = np.interp(moments, pointing.utc_s, pointing.off_deg)
    kinds = kinds_at(check, moments)
    # What the axes do is told behind the mask too.
    moving = pointing.moving[np.clip(np.searchsorted(pointing.utc_s, moments), 0, pointing.utc_s.size - 1)]
    rows = []
    for i, moment in enumerate(moments):
        dial = azimuth_dial(float(m_deg[i]), plan.mount.azimuth)
        level = elevation_dial(float(e_deg[i]), plan.mount.elevation)
        rows.append(
            [
                format_iso(float(moment)),
                text_cell(check.pass_.satellite),
                str(check.pass_.norad_id),
                f"{wrap_360(float(azimuth[i])):.3f}",
                f"{elevation[i]:.3f}",
                f"{ranges[i]:.3f}",
                f"{rates[i]:.6f}",
                _figure(dial.shown_deg),
                str(dial.time_round),
                _figure(level.shown_deg),
                f"{m_deg[i]:.3f}",
                f"{e_deg[i]:.3f}",
                f"{off[i]:.3f}",
                check.verdict,
                _STATES[Kind.MOVING if moving[i] else Kind(int(kinds[i]))],
            ]
        )
    return rows
