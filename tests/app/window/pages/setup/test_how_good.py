"""How good the pointing is: told of the evening's contacts, antenna by antenna, and saved as a chart."""

from __future__ import annotations

import pytest

from app.window.pages.setup.steps.how_good import SAVE
from core.base.words import figure
from core.setup.budget.shares import shares_of
from tests.plans import plan_of, short_plan_data

ANTENNAS = [{"name": "yagi", "beamwidth_deg": 30.0}, {"name": "long yagi", "beamwidth_deg": 12.0}]


@pytest.fixture
def good(make):
    hand = make(antennas=ANTENNAS)
    hand.open("How good")
    return hand


def test_the_budget_is_told_for_each_antenna_and_pass(good):
    step, budget = good.page.how_good, good.page.set_up.budget
    first = budget.before.antennas[0].figures
    assert step.answer.figure.text().startswith(f"{figure(first.rss_deg)} deg")
    assert first.improve_first in step.first.text()
    assert len(step.table.rows.lines) == len(budget.times) > 0
    step.antenna.setCurrentIndex(1)
    assert good.written.startswith("long yagi: ")
    assert step.table.rows.lines[0][1] == figure(budget.before.passes[1].figures.rss_deg)


def test_every_term_has_a_bar_that_says_what_it_comes_to(good):
    view = good.page.how_good.view
    (one, _other) = shares_of(good.page.set_up.budget)
    said = view.accessibleDescription()
    assert all(share.name in said for share in one.shares)
    assert "improve first" in said
    assert not view.grab().isNull()


def test_the_chart_is_saved_beside_the_window(good, tmp_path):
    path = tmp_path / "pointing.svg"
    good.page.how_good.save_chart(path)
    good.qtbot.waitUntil(lambda: good.page.how_good.saved.text() != "", timeout=30_000)
    assert good.page.how_good.saved.text() == "Saved as pointing.svg."
    assert b"improve first" in path.read_bytes()


def test_a_chart_of_another_form_is_refused(good, qtbot, tmp_path):
    failed = []
    good.context.runner.failed.connect(lambda kind, error: failed.append((kind, str(error))))
    good.page.how_good.save_chart(tmp_path / "pointing.docx")
    qtbot.waitUntil(lambda: bool(failed), timeout=30_000)
    assert failed[0][0] == SAVE
    assert "pointing.docx" in failed[0][1]


def test_without_passes_it_says_what_to_do(make):
    hand = make(plan_of(short_plan_data(), satellites=[]))
    step = hand.open("How good")
    assert "Satellites page" in step.answer.words.text()
    assert not step.save_button.isEnabled()
