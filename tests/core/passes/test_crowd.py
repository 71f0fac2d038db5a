"""A catalogue is predicted part by part: the same passes as at once, however it is shared out."""

from __future__ import annotations

import os

import pytest

import core.passes.crowd
from core.base.errors import Cancelled, NorthkeyError
from core.passes.crowd import predict_crowd
from core.passes.track import Pass, predict
from core.place.site import Site
from tests.core.passes.test_search import HOUR, START, falling, invented

SITE = Site(latitude_deg=47.2, longitude_deg=9.1, height_m=1300.0, minimum_elevation_deg=5.0)
WINDOW = START, START + 6.0 * HOUR


def told(pass_: Pass) -> tuple[str, float, float, int]:
    """What the parts tell of a pass."""
    return pass_.satellite, pass_.aos.utc_s, pass_.los.utc_s, pass_.norad_id


def crowd():
    """Thirty satellites, in no order of their numbers, and one that burns up."""
    low = []
    for n in range(30):
        spread = {"MEAN_MOTION": 13.5 + 0.05 * n, "MEAN_ANOMALY": (37.0 * n) % 360.0}
        low.append(invented(f"LOW {n}", NORAD_CAT_ID=91000 - n, **spread))
    return [*low[:11], falling(0.02), *low[11:]]


@pytest.mark.parametrize(("part", "few"), [(7, 10_000), (800, 10_000), (16, 20)])
def test_parts_say_what_all_at_once_says(monkeypatch, part, few):
    """The last by processes of their own."""
    monkeypatch.setattr(core.passes.crowd, "_PART", part)
    monkeypatch.setattr(core.passes.crowd, "CROWD", few)
    passes, refused = predict(crowd(), SITE, *WINDOW)
    seen: list[tuple[int, int]] = []

    def listen(done: int, total: int, _what: str) -> bool:
        seen.append((done, total))
        return True

    found, out = predict_crowd(crowd(), SITE, WINDOW, told, listen)
    assert len(found) == len(passes) > 30
    for mine, pass_ in zip(found, passes, strict=True):
        assert mine[0] == pass_.satellite
        assert mine[1:] == pytest.approx(told(pass_)[1:], abs=1e-3)
    assert [(error.norad_id, error.reason) for error in out] == [
        (error.norad_id, error.reason) for error in refused
    ]
    assert seen == [(min(first + part, 31), 31) for first in range(0, 31, part)]


def test_nobody_gives_nothing_and_an_end_is_an_end():
    assert predict_crowd([], SITE, WINDOW, told) == ([], ())
    with pytest.raises(Cancelled):
        predict_crowd(crowd(), SITE, WINDOW, told, lambda *_: False)


def dies(_pass: Pass) -> None:
    """As a process does that the system ends for want of memory."""
    os._exit(1)


def test_a_process_that_is_ended_is_told_in_a_sentence(monkeypatch):
    monkeypatch.setattr(core.passes.crowd, "CROWD", 1)
    with pytest.raises(NorthkeyError, match="ask for fewer"):
        predict_crowd(crowd(), SITE, WINDOW, dies)
