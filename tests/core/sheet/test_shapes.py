"""The sheet's other shapes: all that has to be set stands on them, whole, and each piece names its plan."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader

from core.sheet.content import sheet_content
from core.sheet.render import Paper, pdf_of
from core.sheet.wishes import SheetWishes
from tests.core.sheet.samples import EVERY_KIND, HOSTILE_TITLE, MADE_S, evening
from tests.core.sheet.test_render import _pieces, _squeezed

PAPERS: dict[str, Paper] = {"four": "a4", "page": "letter", "strips": "letter"}
MM = 72.0 / 25.4


@pytest.fixture(scope="module", params=sorted(PAPERS))
def made(request):
    """Shape, content, pages, and each page's text without spaces."""
    shape = request.param
    content = sheet_content(*evening(EVERY_KIND), MADE_S, wishes=SheetWishes(shape))
    pages = PdfReader(io.BytesIO(pdf_of(content, PAPERS[shape]))).pages
    return shape, content, pages, [_squeezed(page.extract_text()) for page in pages]


def test_every_contact_with_its_start_is_there(made):
    _shape, content, _pages, texts = made
    whole = "".join(texts)
    for card in content.cards:
        assert _squeezed(card.utc.replace(" to ", "–")) in whole
        if card.start_azimuth.figure:
            assert card.start_azimuth.figure in whole
            assert card.start_elevation.figure in whole


def test_small_cards_and_strips_have_every_line(made):
    shape, content, _pages, texts = made
    whole = "".join(texts)
    for card in content.cards:
        for line in card.lines if shape != "page" else ():
            if line.kind == "move":
                assert _squeezed(line.note) in whole
                continue
            # A small card may leave the hours to its head.
            dials = line.azimuth.figure + line.azimuth.time_round + line.elevation.figure
            said = {line.turn, line.note if len(line.note) < 6 else "", ""}
            assert any(_squeezed(line.utc[3:] + words + dials) in whole for words in said), line


def test_each_piece_names_its_plan(made):
    shape, content, pages, texts = made
    if shape == "page":
        assert len(pages) == 1
        assert float(pages[0].mediabox.width) > float(pages[0].mediabox.height)
    else:
        worked = sum(bool(card.lines) for card in content.cards)
        assert "".join(texts).count(f"plan{content.identity}") >= worked
    for text in texts:
        assert f"Plan{content.identity}" in text
        assert _squeezed(HOSTILE_TITLE) in text


def test_nothing_is_small_or_beyond_the_paper(made):
    _shape, _content, pages, _texts = made
    for page in pages:
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        for _text, x, y, size in _pieces(page):
            assert size >= 8.99
            assert 8.0 * MM < x < width - 8.0 * MM
            assert 5.0 * MM < y < height - 8.0 * MM


def test_four_cards_are_on_a_page(made):
    shape, content, pages, _texts = made
    if shape == "four":
        assert len(pages) == -(-len(content.cards) // 4)


def test_only_cards_come_with_the_set_up_and_what_is_left_out_only_where_asked():
    plan, result = evening(EVERY_KIND[:2])
    for shape in ("four", "page", "strips"):
        assert sheet_content(plan, result, MADE_S, wishes=SheetWishes(shape)).set_up is None
    assert sheet_content(plan, result, MADE_S).set_up is not None
    assert sheet_content(plan, result, MADE_S, wishes=SheetWishes("page", set_up=True)).set_up is not None
    assert sheet_content(plan, result, MADE_S).evening.left_out == ()
    assert len(sheet_content(plan, result, MADE_S, wishes=SheetWishes(left_out=True)).evening.left_out) == 2
