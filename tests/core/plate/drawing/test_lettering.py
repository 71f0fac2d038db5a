"""The room that texts are given is at least what the font takes."""

from __future__ import annotations

from functools import cache
from importlib.resources import as_file, files

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from core.base.drawing import POINT_MM, Label
from core.plate.drawing.lettering import fitting, shortened, text_width_mm, wrapped

PRINTED = "".join(chr(code) for code in range(32, 127)) + "Ø±"


@cache
def advances(weight: str) -> dict[str, float]:
    with as_file(files("resources") / "fonts" / f"Inter-{weight}.otf") as path, TTFont(path) as font:
        per_em, names, widths = font["head"].unitsPerEm, font.getBestCmap(), font["hmtx"]
        found = {mark: widths[names[ord(mark)]][0] / per_em for mark in PRINTED}
    broadest = max(found[digit] for digit in "0123456789")
    return found | dict.fromkeys("0123456789", broadest)  # figures of one width


@pytest.mark.parametrize(("weight", "bold"), [("Regular", False), ("Bold", True)])
@given(text=st.text(PRINTED, max_size=40))
def test_no_text_is_wider_than_it_is_taken_for(weight, bold, text):
    real_mm = sum(advances(weight)[mark] for mark in text) * 8.0 * POINT_MM
    assert real_mm <= text_width_mm(text, 8.0, bold) + 1e-9


@given(text=st.text(PRINTED, min_size=1, max_size=60), room_mm=st.floats(5.0, 60.0))
def test_a_fitted_label_fits(text, room_mm):
    label = fitting(Label(0.0, 0.0, text, size_pt=8.0), room_mm)
    assert text_width_mm(label.text, label.size_pt) <= room_mm + 1e-9
    assert label.size_pt <= 8.0


@given(text=st.text(PRINTED, max_size=60), room_mm=st.floats(10.0, 60.0))
def test_a_shortened_text_fits_and_says_that_it_is_cut(text, room_mm):
    short = shortened(text, room_mm)
    assert text_width_mm(short, bold=True) <= room_mm
    assert short == text or (short.endswith("...") and text.startswith(short[:-3]))


@given(words=st.lists(st.text("abcW1", min_size=1, max_size=6), min_size=1, max_size=20))
def test_wrapped_lines_fit_and_lose_no_word(words):
    lines = wrapped(" ".join(words), 20.0)
    assert " ".join(lines).split() == words
    assert all(text_width_mm(line) <= 20.0 for line in lines)
