"""What validation finds wrong is told in words of our own."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from core.base.validity import must_be
from core.place.site import Site


@pytest.mark.parametrize(
    ("kind", "values", "words"),
    [
        (Site, {"latitude_deg": 91.0, "longitude_deg": 0.0}, "at most 90"),
        (Site, {"latitude_deg": float("nan"), "longitude_deg": 0.0}, "a finite number"),
        (Site, {"latitude_deg": "x", "longitude_deg": 0.0}, "a number"),
        (Site, {"longitude_deg": 0.0}, None),
    ],
)
def test_the_words(kind, values, words):
    with pytest.raises(ValidationError) as wrong:
        kind(**values)
    assert must_be(wrong.value.errors(include_url=False)[0]) == words
