"""Sets by what the operator calls them."""

from __future__ import annotations

import pytest

from core.elements.choosing import near_names, sets_named
from core.elements.model import ElementSet
from tests.plans import elements_data

NAMES = ("EMBER-3", "LARCH 1 (LA-1)", "LARCH 1 (LA-2)", "LA-1", "TARN [AT-9]", "EMBER-30")
SETS = tuple(ElementSet.model_validate(elements_data(70001 + n, name)) for n, name in enumerate(NAMES))


@pytest.mark.parametrize(
    ("asked", "numbers"),
    [
        ("ember-3", [70001]),
        ("70002", [70002]),
        ("070002", [70002]),
        ("LARCH 1 (LA-2)", [70003]),
        ("LA-2", [70003]),
        ("LA-1", [70004]),  # the whole name goes before the part in brackets
        ("larch  1", [70002, 70003]),
        ("at-9", [70005]),
        ("LA-2, ember-3 ,", [70001, 70003]),
    ],
)
def test_name_number_and_part_in_brackets_find_a_set(asked, numbers):
    chosen = sets_named(SETS, asked)
    assert ([elements.norad_id for elements in chosen.sets], chosen.told) == (numbers, ())


def test_what_finds_none_is_told_with_what_is_near():
    chosen = sets_named(SETS, "Ember 3, 5, EMBRE-3, Nobody")
    assert chosen.sets == ()
    told = [sentence.removeprefix("no satellite is called ") for sentence in chosen.told]
    assert told[0].startswith("'Ember 3' in these files; perhaps EMBER-3")
    assert told[1] == "'5' in these files"
    assert told[2].startswith("'EMBRE-3' in these files; perhaps EMBER-3")
    assert told[3] == "'Nobody' in these files"


def test_a_part_of_a_name_is_near_and_at_most_three_are_offered():
    assert near_names(SETS, "larch") == ["LARCH 1 (LA-1)", "LARCH 1 (LA-2)"]
    assert near_names(SETS, "ember") == ["EMBER-3", "EMBER-30"]
    many = [ElementSet.model_validate(elements_data(n, f"EMBER-{n}")) for n in range(1, 9)]
    assert len(near_names(many, "ember")) == 3
