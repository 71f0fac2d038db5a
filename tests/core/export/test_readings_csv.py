"""The evening's readings as CSV."""

from __future__ import annotations

import csv
import itertools
import math
from functools import cache
from typing import Any

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from core.base.errors import ValueRangeError
from core.base.times import parse_iso
from core.evaluate import Result, evaluate
from core.export.readings_csv import HEADS, readings_csv
from core.passes.frames import range_rate
from core.passes.stays import stay_at
from core.plan.document import Plan
from tests.lasting import result_of
from tests.plans import changed, elements_data, full_plan_data, plan_of, short_plan_data

MADE_S = 1_730_400_000.0  # 2024-10-31T18:40:00Z
#: A travel that leaves no way: parts and a split come of it.
NARROW = changed(short_plan_data(), mount__azimuth__travel_deg=361.0, mount__elevation__maximum_deg=90.0)


def made_plan(kind: str) -> Plan:
    data = {
        "short": short_plan_data(),
        "full": full_plan_data() | {"picks": []},
        "narrow": NARROW,
        "notched": changed(
            short_plan_data(),
            site__horizon=[
                {"azimuth_deg": azimuth, "elevation_deg": elevation}
                for azimuth, elevation in [(0, 0), (60, 0), (61, 60), (75, 60), (76, 0)]
            ],
        ),
    }[kind]
    return plan_of(data)


@cache
def evaluated(kind: str) -> tuple[Plan, Result]:
    plan = made_plan(kind)
    return plan, result_of(plan)


def rows_of(text: str) -> list[dict[str, str]]:
    lines = text.split("\r\n")
    body = [line for line in lines if not line.startswith("#")]
    return list(csv.DictReader(body))


@pytest.mark.parametrize("kind", ["short", "full", "narrow", "notched"])
@pytest.mark.parametrize("step_s", [10.0, 7.3])
def test_every_contact_is_told_from_first_to_last_worked_moment(kind, step_s):
    plan, result = evaluated(kind)
    rows = rows_of(readings_csv(plan, result, MADE_S, step_s))
    by_contact = [list(group) for _, group in itertools.groupby(rows, key=lambda row: row["satellite"])]
    assert len(by_contact) == len(result.order.contacts) > 0
    for group, contact in zip(by_contact, result.order.contacts, strict=True):
        moments = np.array([parse_iso(row["time_utc"]) for row in group])
        assert moments[0] == pytest.approx(contact.start_utc_s, abs=6e-4)
        assert moments[-1] == pytest.approx(contact.end_utc_s, abs=6e-4)
        steps = np.diff(moments)
        assert np.all(steps > 0.0)
        assert np.allclose(steps[:-1], step_s, atol=1.1e-3)
        assert steps[-1] <= step_s + 1.1e-3
        assert {row["verdict"] for row in group} == {contact.check.verdict}
        assert {int(row["norad_id"]) for row in group} == {contact.check.pass_.norad_id}


def crooked(calibration: Any, axis_deg: float, straight_deg: float) -> float:
    """What a dial reads by its table, if it has one."""
    pairs = [(point.axis_deg, point.dial_deg) for point in calibration]
    return float(PchipInterpolator(*zip(*pairs, strict=True))(axis_deg)) if pairs else straight_deg


@pytest.mark.parametrize("kind", ["short", "full", "narrow", "notched"])
def test_the_figures_are_the_pass_s_own(kind):
    """Against the pass's samples, which come about another way, and the dial's formula."""
    plan, result = evaluated(kind)
    axis, level = plan.mount.azimuth, plan.mount.elevation
    rows = rows_of(readings_csv(plan, result, MADE_S))
    passes = {(p.norad_id, round(p.aos.utc_s)): p for p in result.passes}
    for row in rows:
        moment = parse_iso(row["time_utc"])
        pass_ = next(
            p
            for (number, _), p in passes.items()
            if number == int(row["norad_id"]) and p.aos.utc_s - 1 < moment < p.los.utc_s + 1
        )
        azimuth = np.interp(moment, pass_.utc_s, np.unwrap(pass_.azimuth_deg, period=360.0)) % 360.0
        assert abs((float(row["azimuth_deg"]) - azimuth + 180.0) % 360.0 - 180.0) < 0.003
        for name, values, tolerance in [
            ("elevation_deg", pass_.elevation_deg, 0.003),
            ("range_km", pass_.range_km, 0.01),
            ("range_rate_km_s", range_rate(*stay_at(pass_.stay, pass_.utc_s)), 1e-3),
        ]:
            assert float(row[name]) == pytest.approx(np.interp(moment, pass_.utc_s, values), abs=tolerance)
        m_deg, e_deg = float(row["mechanical_azimuth_deg"]), float(row["elevation_axis_deg"])
        running = crooked(axis.calibration, m_deg, axis.dial_at_stop_deg + axis.dial_scale * m_deg)
        apart = float(row["azimuth_dial_deg"]) - running
        if axis.dial_wraps_at_deg is not None:
            apart = (apart + 180.0) % 360.0 - 180.0
        assert abs(apart) <= axis.dial_division_deg / 4.0 + 1e-3
        dial_level = float(row["elevation_dial_deg"])
        upright = crooked(level.calibration, e_deg, e_deg + level.dial_offset_deg)
        assert abs(dial_level - upright) <= level.dial_division_deg / 4.0 + 1e-3
        assert axis.guard_deg - 1e-3 <= m_deg <= axis.travel_deg - axis.guard_deg + 1e-3
        assert int(row["azimuth_dial_time_round"]) >= 1


@pytest.mark.parametrize("kind", ["short", "narrow"])
def test_boresight_and_satellite_are_as_far_apart_as_is_told(kind):
    """From zeta and the axes by the spherical law of cosines (no tilt in these plans)."""
    plan, result = evaluated(kind)
    zeta = result.seat.counter_clockwise_stop_deg
    for row in rows_of(readings_csv(plan, result, MADE_S)):
        bearing = math.radians(zeta + float(row["mechanical_azimuth_deg"]))
        axis = math.radians(float(row["elevation_axis_deg"]))
        azimuth, elevation = (math.radians(float(row[name])) for name in ("azimuth_deg", "elevation_deg"))
        cosine = math.sin(axis) * math.sin(elevation)
        cosine += math.cos(axis) * math.cos(elevation) * math.cos(bearing - azimuth)
        off = math.degrees(math.acos(min(1.0, cosine)))
        assert float(row["off_boresight_deg"]) == pytest.approx(off, abs=0.05)


def test_states_name_moves_and_the_mask():
    plan, result = evaluated("narrow")
    split = next(contact.check for contact in result.order.contacts if contact.check.split)
    rows = [
        row
        for row in rows_of(readings_csv(plan, result, MADE_S, 1.0))
        if row["verdict"] == "split" and row["satellite"] == split.pass_.satellite
    ]
    assert split.split is not None
    for row in rows:
        moment = parse_iso(row["time_utc"])
        if split.split.start_utc_s + 1.0 < moment < split.split.end_utc_s - 1.0:
            assert row["state"] == "moving"
        elif not split.split.start_utc_s - 1.0 <= moment <= split.split.end_utc_s + 1.0:
            assert row["state"] == "on the pass"
    plan, result = evaluated("notched")
    states = [
        row["state"] for row in rows_of(readings_csv(plan, result, MADE_S)) if row["satellite"] == "Alder"
    ]
    assert "behind the mask" in states
    assert states[0] == "on the pass"


def test_the_head_carries_the_plan_s_identity():
    plan, result = evaluated("full")
    lines = readings_csv(plan, result, MADE_S).split("\r\n")
    assert lines[0] == f"# northkey readings, plan {result.identity}, made 2024-10-31T18:40:00.000Z"
    assert lines[1] == "# title: Föhrenkamm, first evening"
    assert lines[2] == "# elements of 2024-11-01T06:28:48.432 to 2024-11-01T06:28:48.432 UTC"
    assert lines[3].startswith("# keyway 143.00 deg true, hole B, counter-clockwise stop 214.80 deg true")
    assert lines[4] == ",".join(HEADS)


def test_names_of_all_kinds_stay_in_their_cell():
    name = '=a "b", c\r\n# d;\u2028é'
    data = changed(short_plan_data(), title="one\ntwo\r# three\u2028four")
    data["satellites"] = [{"name": name, "elements": elements_data(70001)}]
    plan = plan_of(data)
    text = readings_csv(plan, result_of(plan), MADE_S)
    head, _, body = text.partition(",".join(HEADS))
    assert [line[:1] for line in head.split("\r\n")[:-1]] == ["#"] * 4
    assert {row[1] for row in csv.reader(body.removeprefix("\r\n").splitlines(keepends=True)) if row} == {
        '\'=a "b", c # d; é'
    }


def test_nothing_to_work_is_a_head_without_rows():
    plan = plan_of(short_plan_data(), site__minimum_elevation_deg=80.0)
    assert rows_of(readings_csv(plan, result_of(plan), MADE_S)) == []
    plan = plan_of(short_plan_data(), satellites=[])
    assert "# no elements\r\n" in readings_csv(plan, result_of(plan), MADE_S)


def test_a_fine_dial_loses_no_digit():
    plan = plan_of(
        short_plan_data(), mount__azimuth__dial_at_stop_deg=3500.0, mount__azimuth__dial_division_deg=0.01
    )
    for row in rows_of(readings_csv(plan, result_of(plan), MADE_S)):
        shown = float(row["azimuth_dial_deg"])
        assert shown == pytest.approx(3500.0 + float(row["mechanical_azimuth_deg"]), abs=0.0031)


@pytest.mark.parametrize("step_s", [0.0, -1.0, 0.099, 600.1, math.nan, math.inf])
def test_steps_out_of_range_are_refused(step_s):
    plan, result = evaluated("short")
    with pytest.raises(ValueRangeError, match=r"0\.1 to 600"):
        readings_csv(plan, result, MADE_S, step_s)


def test_the_same_plan_gives_the_same_text():
    again = made_plan("full")
    assert readings_csv(again, evaluate(again), MADE_S) == readings_csv(*evaluated("full"), MADE_S)
