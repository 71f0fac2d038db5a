"""`northkey sheet`; what stands on its pages is core's tests' matter."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader

from core.evaluate import identity
from core.plan.storage import read_plan
from tests.app.commands.runner import refused, run
from tests.plans import plan_of, short_plan_data, write_plan_file


@pytest.mark.parametrize(("paper", "width_mm"), [("a4", 210.0), ("letter", 215.9)])
def test_the_sheet_is_written_and_names_its_plan_on_every_page(tmp_path, paper, width_mm):
    out = tmp_path / "sheet.pdf"
    answer = run("sheet", write_plan_file(tmp_path), "-o", out, "--paper", paper)
    assert (answer.code, answer.err) == (0, "")
    plan_name = identity(plan_of(short_plan_data()))
    assert answer.out == f"{out}: field sheet of plan {plan_name}, 4 passes\n"
    pages = PdfReader(io.BytesIO(out.read_bytes())).pages
    assert len(pages) >= 2
    for page in pages:
        assert plan_name in page.extract_text()
        assert float(page.mediabox.width) == pytest.approx(width_mm / 25.4 * 72.0, abs=0.5)


def test_nothing_is_replaced_without_force(tmp_path):
    plan, out = write_plan_file(tmp_path), tmp_path / "sheet.pdf"
    out.write_text("mine")
    assert "is there already; use --force" in refused("sheet", plan, "-o", out)
    assert out.read_text() == "mine"
    assert run("sheet", plan, "-o", out, "--force").code == 0
    assert out.read_bytes()[:5] == b"%PDF-"


@pytest.mark.parametrize("spelling", ["same", "round about", "symbolic", "hard"])
@pytest.mark.parametrize("words", [("sheet",), ("export", "--as", "csv"), ("export", "--as", "html")])
def test_an_answer_never_replaces_its_own_plan(tmp_path, spelling, words):
    plan = write_plan_file(tmp_path)
    before, other = plan.read_bytes(), tmp_path / "other"
    if spelling == "symbolic":
        other.symlink_to(plan)
    elif spelling == "hard":
        other.hardlink_to(plan)
    out = {"same": plan, "round about": f"{tmp_path}/../{tmp_path.name}/./{plan.name}"}.get(spelling, other)
    assert "is what the answer is made from" in refused(*words, plan, "-o", out, "--force")
    assert plan.read_bytes() == before


def test_an_evening_without_passes_is_a_sheet_all_the_same(tmp_path):
    out = tmp_path / "sheet.pdf"
    assert run("sheet", write_plan_file(tmp_path, site__minimum_elevation_deg=89.0), "-o", out).code == 0
    assert out.read_bytes()[:5] == b"%PDF-"


def test_without_an_answer_nothing_is_written(tmp_path):
    out = tmp_path / "sheet.pdf"
    refused("sheet", write_plan_file(tmp_path, satellites=[]), "-o", out)
    assert not out.exists()
    assert "--paper" in refused("sheet", write_plan_file(tmp_path), "-o", out, "--paper", "a3")


def test_where_seats_are_weighed_the_card_says_whether_this_one_is_the_best(tmp_path):
    one = [{"norad_id": 70002, "near": "2024-11-01T17:35:00Z"}]
    path, out = write_plan_file(tmp_path, picks=one), tmp_path / "sheet.pdf"
    assert run("sheet", path, "-o", out, "--weigh-seats").code == 0
    told = " ".join(PdfReader(out).pages[0].extract_text().split())
    assert "By the evening th" in told
    assert run("sheet", path, "-o", out, "--force").code == 0
    told = " ".join(PdfReader(out).pages[0].extract_text().split())
    assert "By the evening not compared; northkey sheet" in told
    now = ("--now", "2024-11-01T18:00:00Z", "--dial", "100")
    assert "--weigh-seats" in refused("sheet", path, "-o", out, "--force", "--weigh-seats", *now)


def test_a_fresh_sheet_from_now(tmp_path):
    path, target = write_plan_file(tmp_path), tmp_path / "again.pdf"
    answer = run("sheet", path, "-o", target, "--now", "2024-11-01T18:00:00Z", "--dial", "100")
    assert answer.code == 0
    pages = [" ".join(page.extract_text().split()) for page in PdfReader(target).pages]
    assert all("Northkey field sheet, re-planned from 18:00:00 UTC" in page for page in pages)
    assert f"see the sheet of plan {identity(read_plan(path))}; keyway 0.0 deg true, hole A." in pages[0]
    assert not any("Set-up card, second page" in page for page in pages)
    whole = run("sheet", path, "-o", tmp_path / "whole.pdf").out.split()
    assert "re-planned" not in PdfReader(tmp_path / "whole.pdf").pages[0].extract_text()
    assert answer.out.split()[5] != whole[5]  # another plan, another identity
