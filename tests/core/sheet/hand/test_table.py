"""The lines of a card as the hand takes them, on dials of every kind."""

from __future__ import annotations

import pytest

from core.plan.document import Plan
from core.sheet.content import sheet_content
from core.sheet.pass_card import PassCard
from tests.evening_plans import full_evening_plan
from tests.lasting import result_of


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
