"""Sunlight in words."""

from __future__ import annotations

import pytest

from core.base.times import parse_iso
from core.passes.light import Light
from core.sheet.satellite.light import light_words

START_S = parse_iso("2024-11-01T17:00:00Z")


@pytest.mark.parametrize(
    ("lit_at_start", "after_s", "words"),
    [
        (True, (), "sunlit"),
        (False, (), "in the Earth's shadow"),
        (True, (190.2,), "sunlit until 17:03:10, then in shadow"),
        (False, (190.2,), "in shadow until 17:03:10, then sunlit"),
        (True, (60.0, 90.0), "sunlit until 17:01:00, in shadow until 17:01:30, then sunlit"),
    ],
)
def test_light_is_told_in_order(lit_at_start, after_s, words):
    changes = tuple(START_S + after for after in after_s)
    assert light_words(Light(START_S, START_S + 600.0, lit_at_start, changes)) == words


def test_nothing_is_said_where_nothing_is_known():
    assert light_words(None) == ""
