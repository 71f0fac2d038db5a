"""What is filled and what is hatched: upright and over the top must not change places on paper."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.base.drawing import Drawing, Item, Stroke
from core.mount.model.results import Verdict
from core.sheet.content import sheet_content
from core.sheet.drawing.marks import verdict_mark
from tests.core.sheet.samples import EVERY_KIND, MADE_S, Wanted, evening

UPRIGHT, OVER = "upright", "over the top"
SPLIT = EVERY_KIND[3]
SKY_MM, RING_MM = 46.0, 18.2


def is_outline(item: Item) -> bool:
    return isinstance(item, Stroke) and item.closed and item.fill == "white"


def filled_mm(drawing: Drawing, width_mm: float) -> np.ndarray:
    """(N, 2) points of the bands drawn as one thick line."""
    found = [
        item.points_mm
        for item in drawing.items
        if isinstance(item, Stroke) and not item.closed and item.width_mm == width_mm
    ]
    return np.concatenate(found) if found else np.zeros((0, 2))


def hatched_mm(drawing: Drawing) -> np.ndarray:
    """(N, 2) points of the outlines with oblique strokes inside: the white outline, then its strokes."""
    found = [
        item.points_mm
        for item, after in zip(drawing.items, drawing.items[1:], strict=False)
        if is_outline(item) and isinstance(after, Stroke) and after.width_mm == 0.45
    ]
    return np.concatenate(found) if found else np.zeros((0, 2))


def outlined_mm(drawing: Drawing) -> np.ndarray:
    """(N, 2) points of the empty outlines."""
    hatched = {tuple(point) for point in hatched_mm(drawing).tolist()}
    found = [point for item in drawing.items if is_outline(item) for point in item.points_mm]
    return np.array([point for point in found if point not in hatched]).reshape(-1, 2)


@pytest.mark.parametrize(("first", "last"), [(False, True), (True, False), (True, True), (False, False)])
def test_a_splits_mark_reads_from_left_to_right(first: bool, last: bool) -> None:
    mark = verdict_mark(Verdict.SPLIT, hatched_first=first, hatched_last=last)
    middle_mm = mark.width_mm / 2.0
    for hatched, on_side in ((first, np.less), (last, np.greater)):
        thick, oblique = (points[on_side(points[:, 0], middle_mm)] for points in both(mark))
        assert (oblique.size > 0) == hatched
        assert (thick.size > 0) != hatched
    assert outlined_mm(mark).size == 0


def both(mark: Drawing) -> tuple[np.ndarray, np.ndarray]:
    return filled_mm(mark, 2.8), hatched_mm(mark)


@pytest.mark.parametrize("over", [False, True])
def test_a_parts_mark_is_worked_on_the_left_and_let_go_on_the_right(over: bool) -> None:
    mark = verdict_mark(Verdict.PART, hatched_first=over)
    worked = hatched_mm(mark) if over else filled_mm(mark, 2.8)
    assert worked[:, 0].max() == pytest.approx(7.5)
    assert (filled_mm(mark, 2.8) if over else hatched_mm(mark)).size == 0
    assert outlined_mm(mark)[:, 0].min() == pytest.approx(7.0)
    assert outlined_mm(mark)[:, 0].max() == pytest.approx(13.5)


def test_the_marks_of_passes_that_are_followed() -> None:
    assert filled_mm(verdict_mark(Verdict.UPRIGHT), 2.8).size
    assert not hatched_mm(verdict_mark(Verdict.UPRIGHT)).size
    assert hatched_mm(verdict_mark(Verdict.OVER_THE_TOP)).size
    assert not filled_mm(verdict_mark(Verdict.OVER_THE_TOP), 2.8).size
    out = verdict_mark(Verdict.OUT_OF_REACH)
    assert outlined_mm(out).size
    assert not hatched_mm(out).size
    assert not filled_mm(out, 2.8).size


def with_split(from_posture: str, to_posture: str):
    """An evening of one pass, split by a change of posture."""
    plan, result = evening((SPLIT,), left_out=0)
    contact = result.order.contacts[0]
    check = contact.check
    split = replace(
        check.split, from_posture=from_posture, to_posture=to_posture, kind="change of posture", to_turn=0
    )
    late = check.pointing.utc_s >= split.end_utc_s
    over = np.where(late, to_posture == OVER, from_posture == OVER)
    e_deg = np.where(over, 180.0 - check.pointing.e_deg, check.pointing.e_deg)
    check = replace(check, split=split, pointing=replace(check.pointing, e_deg=e_deg))
    order = replace(result.order, contacts=(replace(contact, check=check),))
    return plan, replace(result, order=order), check


@pytest.mark.parametrize(("before", "after"), [(UPRIGHT, OVER), (OVER, UPRIGHT)])
def test_a_split_is_filled_where_it_is_worked_upright(before: str, after: str) -> None:
    plan, result, check = with_split(before, after)
    content = sheet_content(plan, result, MADE_S)
    card = content.cards[0]
    assert card.posture == f"{before}, then {after}"
    assert card.mark == verdict_mark(Verdict.SPLIT, hatched_first=before == OVER, hatched_last=after == OVER)
    assert content.evening.lines[0].mark == card.mark
    # In the sky each point belongs to one moment of the pass, the nearest on paper.
    sky_mm = np.array(
        [
            on_paper(azimuth, elevation)
            for azimuth, elevation in zip(check.pass_.azimuth_deg, check.pass_.elevation_deg, strict=True)
        ]
    )
    for points, posture in ((filled_mm(card.polar, 2.0), UPRIGHT), (hatched_mm(card.polar), OVER)):
        moments = np.array([check.pass_.utc_s[np.argmin(np.hypot(*(sky_mm - point).T))] for point in points])
        assert moments.size
        if posture == before:
            assert moments.min() == pytest.approx(check.pass_.aos.utc_s, abs=20.0)
            assert moments.max() == pytest.approx(check.split.start_utc_s, abs=5.0)
        else:
            assert moments.min() == pytest.approx(check.split.end_utc_s, abs=5.0)
            assert moments.max() == pytest.approx(check.pass_.los.utc_s, abs=20.0)
    # On the strip time runs to the right.
    strip = content.evening.strip
    assert strip is not None
    upright, over = filled_mm(strip, 1.6), hatched_mm(strip)
    first, second = (upright, over) if before == UPRIGHT else (over, upright)
    assert first[:, 0].max() < second[:, 0].min()


def on_paper(azimuth_deg: float, elevation_deg: float) -> tuple[float, float]:
    radius = RING_MM * (90.0 - elevation_deg) / 90.0
    azimuth = math.radians(azimuth_deg)
    return SKY_MM / 2.0 + radius * math.sin(azimuth), SKY_MM / 2.0 - radius * math.cos(azimuth)


@settings(max_examples=25, deadline=None)
@given(heading_deg=st.floats(0.0, 360.0), peak_deg=st.floats(12.0, 50.0), right=st.booleans())
def test_a_hatched_band_runs_beside_the_track_on_both_sides(heading_deg, peak_deg, right) -> None:
    """Its edges lie 0.85 mm from the track, as many points to its left as to its right; strokes join them."""
    wanted = Wanted("over the top", "ALDER-1", 900.0, peak_deg, heading_deg, right=right)
    plan, result = evening((wanted,), left_out=0)
    drawing = sheet_content(plan, result, MADE_S).cards[0].polar
    pass_ = result.order.contacts[0].check.pass_
    looks = zip(pass_.azimuth_deg, pass_.elevation_deg, strict=True)
    track = np.array([on_paper(azimuth, elevation) for azimuth, elevation in looks])
    outline = hatched_mm(drawing)
    sides = np.array([aside_mm(track, point) for point in outline])
    assert np.abs(sides) == pytest.approx(0.85, abs=0.02)
    assert (sides > 0.0).sum() == (sides < 0.0).sum() == len(sides) / 2
    strokes = [item.points_mm for item in drawing.items if isinstance(item, Stroke) and item.width_mm == 0.45]
    assert len(strokes) > 5
    for one, other in strokes:
        ends = aside_mm(track, one), aside_mm(track, other)
        assert sorted(ends) == pytest.approx([-0.85, 0.85], abs=0.05)


def aside_mm(track: np.ndarray, point: tuple[float, float]) -> float:
    """How far a point lies from the track, positive to the right of it on paper."""
    nearest = int(np.argmin(np.hypot(*(track - point).T)))
    along = track[min(nearest + 1, len(track) - 1)] - track[max(nearest - 1, 0)]
    off = np.array(point) - track[nearest]
    return float(along[0] * off[1] - along[1] * off[0]) / float(np.hypot(*along))
