"""The stand on paper: what the command says is on the page, and the rose is what was worked out."""

from __future__ import annotations

import io
import math

import pytest
from pypdf import PdfReader

from core.plan.storage import read_plan
from core.stand.answer import StandAnswer, stand_answer
from core.stand.sheet import direction_rows, stand_pdf, stand_sheet
from core.stand.words import advice_sentence, cautions
from tests.app.commands.runner import ROOT, refused, run

DEMO = ROOT / "resources" / "demo" / "larch_ridge.northkey.json"


@pytest.fixture(scope="module")
def found() -> StandAnswer:
    plan = read_plan(DEMO)
    assert plan.stand is not None
    return stand_answer(plan.stand, plan.clearance, 40.0, None, None)


def words_of(content: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(content)).pages).split())


def test_the_page_has_the_advice_the_directions_and_the_cautions(found):
    text = words_of(stand_pdf(found, "An evening", "0123abcd"))
    assert advice_sentence(found) in text
    for row in direction_rows(found):
        assert " ".join(row).strip() in text
    for caution in cautions(found):
        assert caution in text
    for words in ("Stand: An evening", "plan 0123abcd", "keyway 40.0 deg true", "page 1 of 1"):
        assert words in text


def test_the_rose_is_drawn_to_scale_north_up(found):
    told = stand_sheet(found, "", "")
    ring_mm, ring = told["rings"][0]
    per_m_s = ring_mm / float(ring)
    pairs = zip(told["rose"], found.rose.toward_deg, found.rose.mean_m_s, strict=True)
    for (x, down), toward, mean in pairs:
        assert math.hypot(x, down) == pytest.approx(mean * per_m_s, abs=2e-3)
        assert math.degrees(math.atan2(x, -down)) % 360.0 == pytest.approx(toward % 360.0, abs=0.05)
    assert told["rings"][-1][0] == pytest.approx(told["radius"])
    assert max(math.hypot(*point) for point in told["rose"]) <= told["radius"] + 1e-6


def test_text_from_the_plan_stays_text(found):
    hostile = '#panic("x") *bold* $x$ `raw` \\ "'
    assert "panic" in words_of(stand_pdf(found, hostile, "0123abcd"))


def test_the_command_writes_it_and_replaces_nothing_unasked(tmp_path):
    page = tmp_path / "stand.pdf"
    assert run("stand", DEMO, "-o", page).code == 0
    assert page.read_bytes().startswith(b"%PDF")
    assert "--force" in refused("stand", DEMO, "-o", page)
    assert run("stand", DEMO, "-o", page, "--force").code == 0
