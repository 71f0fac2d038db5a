"""The marks differ without any grey, and the legend names each."""

import pytest

from core.sheet.drawing.marks import Mark, band, verdict_mark
from core.sheet.set_up.advice import MEANINGS, legend

LINE = [(float(x), 5.0) for x in range(20)]


def test_the_five_marks_differ_without_any_grey():
    filled, hatched = band(LINE, Mark.FILLED), band(LINE, Mark.HATCHED)
    outlined, hidden = band(LINE, Mark.OUTLINED), band(LINE, Mark.HIDDEN)
    assert len(filled) == 1
    assert filled[0].width_mm == 2.0
    assert len(outlined) == 1
    assert outlined[0].fill == "white"
    assert outlined[0].closed
    assert len(hatched) > 8
    assert hidden[0].width_mm < 0.5
    assert band(LINE, Mark.GAP) == []


def test_legend_names_all_five_words_with_their_own_marks():
    assert [line.word for line in legend()] == [word for word, _ in MEANINGS]
    assert len({line.mark for line in legend()}) == 5
    assert verdict_mark("split") != verdict_mark("split", hatched_last=True)


def test_a_hatched_band_shorter_than_a_stroke_is_left_without_one():
    """A stroke that starts in the band and ends beyond it would hatch what is not hatched."""
    short = band([(0.0, 5.0), (0.8, 5.0)], Mark.HATCHED)
    assert len(short) == len(band([(0.0, 5.0), (0.8, 5.0)], Mark.OUTLINED))


def test_strokes_begin_half_a_width_along_and_lie_evenly():
    strokes = band([(x / 4.0, 5.0) for x in range(81)], Mark.HATCHED, 1.0)[1:]
    starts = [stroke.points_mm[0][0] for stroke in strokes]
    assert starts == [pytest.approx(0.5 + 1.5 * place, abs=0.06) for place in range(len(starts))]
    assert len(starts) > 8
