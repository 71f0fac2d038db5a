"""The main job driven by key and mouse in the real program on a display of its own."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from core.evaluate import evaluate, identity
from core.plan.storage import read_plan
from tests.plans import elements_data, short_plan_data, write_elements_file, write_plan_file

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture
def display() -> Iterator[str]:
    """The display at hand, or a virtual one that ends with the test."""
    if os.environ.get("DISPLAY"):
        yield os.environ["DISPLAY"]
        return
    server = shutil.which("Xvfb")
    if server is None:
        pytest.skip("no display at hand, and Xvfb is not installed")
    read, write = os.pipe()
    process = subprocess.Popen(
        [server, "-displayfd", str(write), "-screen", "0", "1600x1000x24", "-nolisten", "tcp"],
        pass_fds=(write,),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(write)
    with os.fdopen(read) as said:
        number = said.readline().strip()
    if not number:
        process.wait()
        pytest.skip("Xvfb does not start here")
    yield f":{number}"
    process.terminate()
    process.wait()


def test_an_evening_from_import_to_paper(display, tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    plan = write_plan_file(tmp_path, title="Whole job", shortest_contact_s=60.0)
    elements = write_elements_file(tmp_path, elements_data(70003, name="OAK", INCLINATION=80.0))
    environment = os.environ | {
        "DISPLAY": display,
        "QT_QPA_PLATFORM": "xcb",
        "NORTHKEY_SETTINGS": str(tmp_path / "settings.ini"),
        "NORTHKEY_TRACEBACK": "1",
    }
    words = [sys.executable, "-m", "tests.app.window.whole_job_driver", str(plan), str(elements), str(out)]
    run = subprocess.run(
        words, cwd=ROOT, env=environment, capture_output=True, text=True, timeout=180, check=False
    )
    assert run.returncode == 0, run.stderr
    told = json.loads((out / "told.json").read_text())
    saved, first = read_plan(out / "saved.northkey.json"), read_plan(plan)

    assert told["platform"] == "xcb"
    assert told["first title"] == "Whole job[*] (evening.northkey.json) - Northkey"
    assert told["last title"] == "Whole job[*] (saved.northkey.json) - Northkey"
    assert told["news"].startswith("1 added")
    assert [s.name for s in saved.satellites] == ["Alder", "Birch", "OAK"]
    assert (saved.site.latitude_deg, saved.site.longitude_deg) == (46.5, -8.25)
    assert saved.mount.keyway_bearing_deg == pytest.approx(first.mount.keyway_bearing_deg + 45.0, abs=1.5)
    assert "keyway" in told["undo after the drag"].casefold()
    assert len(saved.picks) == 1
    assert told["identity"] == told["identity again"] == identity(saved)
    assert evaluate(saved).order.contacts[0].check.pass_.norad_id == saved.picks[0].norad_id

    sheet = PdfReader(out / "sheet.pdf")
    assert len(sheet.pages) == told["pages"]
    assert identity(saved) in sheet.pages[0].extract_text()
    assert "saved.northkey.json" in (tmp_path / "settings.ini").read_text()
    assert read_plan(plan) == first
    assert short_plan_data()["site"]["latitude_deg"] == first.site.latitude_deg
