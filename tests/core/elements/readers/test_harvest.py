from __future__ import annotations

from core.base.errors import ElementsError
from core.elements.found import Origin
from core.elements.readers.harvest import Harvest, shorten
from tests.core.elements.samples import element_set


def test_what_is_gathered_keeps_its_order_and_place():
    harvest = Harvest("a.txt")
    harvest.add("line 1", element_set())
    harvest.refuse("line 2", "EPOCH", "is missing")
    assert (harvest.found.sets, harvest.found.origins) == ((element_set(),), (Origin("a.txt", "line 1"),))
    assert isinstance(harvest.refused.kept[0], ElementsError)
    assert str(harvest.refused.kept[0]) == "a.txt, line 2, EPOCH: is missing"
    assert harvest.notes() == ()


def test_many_dropped_keywords_are_counted_and_strange_ones_shortened():
    harvest = Harvest("a.txt")
    harvest.drop(["LINE\nBREAK", "X" * 1000])
    harvest.drop(f"K{at}" for at in range(20))
    harvest.drop(f"K{at}" for at in range(20))
    (note,) = harvest.notes()
    assert note.startswith("a.txt: dropped keywords LINE BREAK, XXX")
    assert "K9 and 10 more (not in the standard)" in note
    assert "\n" not in note
    assert len(note) < 200


def test_values_are_shown_on_one_short_line():
    assert shorten("a\n b") == "a b"
    assert shorten("x" * 10**6) == "x" * 57 + "..."
    assert shorten(None) == "None"
    assert len(shorten("y" * 100, 20)) == 20
