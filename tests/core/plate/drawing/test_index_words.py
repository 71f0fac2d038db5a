"""Both offsets of an index hole, side by side on either view."""

from __future__ import annotations

import pytest

from core.base.angles import wrap_360
from core.plate.drawing.index_words import index_words
from core.plate.drawing.view import View
from core.plate.part import plate_part
from tests.core.plate.samples import mount_of, plate_of


def test_from_below_a_hole_lies_mirrored_with_both_offsets_as_they_are():
    part = plate_part(plate_of(), mount_of(0.0, -30.0, 100.0))
    above = index_words(part, View("above", 0.0, 0.0, 1.0), "B")
    below = index_words(part, View("below", 0.0, 0.0, 1.0), "B")
    assert [one.name for one in above if one.in_use] == ["B"]
    for one, other in zip(above, below, strict=True):
        assert (one.drilled_deg, one.offset_deg) == (other.drilled_deg, other.offset_deg)
        assert wrap_360(-one.offset_deg) == pytest.approx(one.drilled_deg)
        assert other.angle_deg == pytest.approx(wrap_360(-one.angle_deg))
        assert (other.x_mm, other.y_mm) == pytest.approx((-one.x_mm, one.y_mm))
    assert above[1].angle_deg == 30.0
    assert above[1].x_mm > 0.0 > below[1].x_mm
