"""The chart of the pointing budget: what it draws, in which pattern, and that it is drawn the same again."""

from __future__ import annotations

import matplotlib.colors
import pytest
from matplotlib.patches import Rectangle

from app.window.look.scheme import DARK, LIGHT
from app.window.pages.setup.budget_chart import bar_words, budget_chart, budget_figure, title_words
from core.setup.budget.budget import pointing_budget
from core.setup.budget.shares import shares_of
from core.setup.budget.terms.term import Absorbed
from tests.core.setup.budget.made import station, worked

BEFORE = pointing_budget(station(), [worked(60.0)], draws=2)
AFTER = pointing_budget(station(), [worked(60.0)], absorbed=Absorbed(0.5, 0.5), draws=2)
NOTHING = pointing_budget(station(), [], draws=2)


def bars(axes) -> list[Rectangle]:
    return [one for one in axes.patches if isinstance(one, Rectangle)]


@pytest.mark.parametrize(("form", "begins"), [("png", b"\x89PNG"), ("pdf", b"%PDF")])
def test_it_draws(form, begins):
    assert budget_chart(NOTHING, form).startswith(begins)
    assert budget_chart(BEFORE).startswith(b"\x89PNG")


def test_it_draws_the_same_again():
    chart = budget_chart(AFTER, "svg")
    assert chart.startswith(b"<?xml")
    assert b"improve first" in chart
    assert chart == budget_chart(AFTER, "svg")


def test_a_bar_for_each_share_before_and_after():
    (axes,) = budget_figure(AFTER).axes
    (one,) = shares_of(AFTER)
    wanted = sorted(100.0 * part for share in one.shares for part in (share.before, share.after) if part)
    assert sorted(bar.get_width() for bar in bars(axes)) == pytest.approx(wanted)
    assert [label.get_text() for label in axes.get_yticklabels()] == [share.name for share in one.shares]


@pytest.mark.parametrize("scheme", [LIGHT, DARK])
def test_what_is_fixed_is_hatched_and_what_to_improve_has_the_accent(scheme):
    (axes,) = budget_figure(BEFORE, scheme).axes
    (one,) = shares_of(BEFORE)
    for row, (bar, share) in enumerate(zip(bars(axes), one.shares, strict=True)):
        assert bar.get_y() + bar.get_height() / 2.0 == pytest.approx(row)
        assert bool(bar.get_hatch()) == share.fixed
        color = scheme.accent if share.name in one.improve_first else scheme.signal
        assert bar.get_edgecolor() == matplotlib.colors.to_rgba(color)
    told = [text.get_text() for text in axes.texts]
    assert [words for words in told if words.endswith("improve first")] == [told[0]]


def test_the_words_of_bars():
    (one,) = shares_of(AFTER)
    told = {share.name: bar_words(share, sighted=True) for share in one.shares}
    assert told["north"].startswith("gone, was 1.")
    assert told["elevation by the sightings"] == "0.5 deg"
    assert "was" not in told["step lag"]
    assert (
        title_words(one) == f"yagi: {one.after_deg:.1f} deg after the sighting, {one.before_deg:.1f} before"
    )
    (unsighted,) = shares_of(BEFORE)
    assert title_words(unsighted).endswith("deg before any sighting")


def test_without_passes_it_says_so():
    (text,) = budget_figure(NOTHING).texts
    assert text.get_text() == "No pass is worked."
