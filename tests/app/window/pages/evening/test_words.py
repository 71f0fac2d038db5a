"""The Evening page's sentences."""

from __future__ import annotations

from app.window.pages.evening.words import evening_sentence
from core.mount.evening.results import EveningOrder, EveningWorth


def test_what_may_be_missing_to_the_best_order_is_told() -> None:
    words = "64 s at most below the best order: too many long passes overlap"
    short, best = (EveningOrder((), worth=EveningWorth(short_s=seconds)) for seconds in (63.2, 0.0))
    assert evening_sentence(short, 3, False, 1.0).endswith(f"; {words}")
    assert "best" not in evening_sentence(best, 3, False, 1.0)
