"""The lines of a card as the hand takes them, on dials of every kind."""

from __future__ import annotations

import pytest

from core.mount.evening.drawn import drawn_pass
from core.plan.document import Plan
from core.sheet.content import sheet_content
from core.sheet.hand.steered import Setting, lost_by_hand_s
from core.sheet.hand.table import hand_table
from core.sheet.pass_card import PassCard
from tests.evening_plans import evening_plan, full_evening_plan
from tests.lasting import result_of
from tests.plans import elements_data


def cards_of(plan: Plan) -> tuple[PassCard, ...]:
    return sheet_content(plan, result_of(plan), plan.evening.start_utc_s).cards


@pytest.mark.parametrize("division_deg", [1.0, 10.0])
def test_a_way_to_turn_is_told_where_the_figure_changes_and_nowhere_else(division_deg: float) -> None:
    """Who reads "cw 20" with the dial on 20 looks for a turn that is not there, or makes a whole one."""
    plan = full_evening_plan(
        4,
        mount__azimuth={"dial_division_deg": division_deg},
        mount__elevation={"dial_division_deg": division_deg},
    )
    for card in cards_of(plan):
        stands = card.lines[0].azimuth
        for line in card.lines[1:]:
            if line.kind == "set" and line.azimuth.figure:
                assert bool(line.turn) == (line.azimuth != stands), (card.number, line)
            stands = line.azimuth if line.azimuth.figure else stands


def test_what_stays_for_days_says_until_which():
    """A geostationary satellite over three days: "until 17:00:00" alone is the very second it begins."""
    plan = evening_plan(
        satellites=[
            {
                "name": "Still",
                "elements": elements_data(
                    70_100,
                    MEAN_MOTION=1.00273,
                    ECCENTRICITY=0.0002,
                    INCLINATION=0.05,
                    RA_OF_ASC_NODE=10.0,
                    MEAN_ANOMALY=60.0,
                    BSTAR=0.0,
                ),
            }
        ],
        evening={"start": "2024-11-01T17:00:00Z", "end": "2024-11-04T17:00:00Z"},
    )
    (card,) = cards_of(plan)
    assert card.utc == "1 Nov 17:00:00 to 4 Nov 17:00:00"
    assert card.lines[0].note.endswith("until 4 Nov 17:00:00")


def test_what_the_hand_loses_is_lost_on_the_figures_that_are_printed():
    """A dial of ten degrees is set to five: with a narrow beam that is most of what is lost."""
    plan = evening_plan(
        mount__azimuth={"dial_division_deg": 10.0},
        mount__elevation={"dial_division_deg": 10.0},
        antennas=[{"name": "long yagi", "beamwidth_deg": 6.0}],
    )
    limit = plan.station.beam_limit_deg
    losses = []
    for contact in result_of(plan).order.contacts:
        drawn = drawn_pass(contact.check, plan.mount)
        table = hand_table(plan.station, contact.check, drawn, 60)
        told, m_deg = [], 0.0
        for line in table.lines[:-1]:
            m_deg = float(line.azimuth.figure or m_deg)  # this dial shows the axes' own angles
            told.append(Setting(line.utc_s, m_deg, float(line.elevation.figure)))
        losses.append(lost_by_hand_s(drawn, plan.mount, told, limit))
        assert table.lost_by_hand_s == pytest.approx(losses[-1], abs=0.6)
    assert max(losses) > 60.0


def test_nothing_is_held_beyond_the_end_of_the_contact():
    """The last line says to stop; the switch is let go by then, however slow the motor."""
    plan = full_evening_plan(
        8,
        mount__azimuth={"rate_deg_s": 0.3, "dial_division_deg": 30.0},
        mount__elevation={"maximum_deg": 90.0, "dial_division_deg": 30.0},
    )
    ends = [(line, card.end_utc_s) for card in cards_of(plan) for line in card.lines]
    held = [(line, end_s) for line, end_s in ends if line.until_s is not None]
    assert len(held) > 3
    for line, end_s in held:
        assert line.until_s <= end_s, line
