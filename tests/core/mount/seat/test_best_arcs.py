"""The best arcs of a hole: as good as its best seat, clear of what is forbidden, the best among them."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.mount.check.verdict import NEAR_ENOUGH_S
from core.mount.drive.tracks import mount_tracks
from core.mount.model.chain import fixed_offset_deg
from core.mount.seat.best_arcs import BestArcs, best_arcs
from core.mount.seat.choice import BestSeat
from core.mount.seat.curve import LossCurve
from core.mount.seat.limits import SeatLimit, forbidden_at
from core.mount.seat.outcome import outcome_from_study
from core.mount.seat.study import HoleStudy, SeatStudy, study_seat
from core.plan.document import Plan
from tests.seat_evening import seat_evening

WALL = (SeatLimit(from_deg=300.0, to_deg=50.0, why="a wall"),)


def arcs_of(hole: HoleStudy, limits: tuple[SeatLimit, ...] = ()) -> BestArcs:
    return best_arcs(hole.curve, hole.best, limits)


def holds(arcs: BestArcs, bearing: float) -> bool:
    return any(a - 1e-6 <= bearing <= b + 1e-6 for a, b in arcs.spans) or any(
        abs(point - bearing) < 1e-6 for point in arcs.points
    )


@pytest.fixture(scope="module")
def walled() -> tuple[Plan, SeatStudy]:
    """The evening with a wall over what was its best."""
    plan, result, study = seat_evening()
    best = study.best.keyway_bearing_deg
    wall = (SeatLimit(from_deg=(best - 4.0) % 360.0, to_deg=(best + 2.0) % 360.0, why="a wall"), *WALL)
    tracks = mount_tracks(result.passes, plan.mount.tilt)
    return plan, study_seat(result.passes, tracks, plan.station, limits=wall)


@settings(deadline=None)
@given(st.floats(0.0, 359.9), st.integers(0, 1))
def test_the_arcs_hold_the_bearings_that_are_as_good_as_the_best(bearing: float, index: int) -> None:
    plan, _result, study = seat_evening()
    hole = study.holes[index]
    zeta = bearing + fixed_offset_deg(plan.mount, hole.hole)
    ends = study.over_zeta.bearing_deg[study.over_zeta.is_end]
    if np.min(np.abs((ends - zeta + 180.0) % 360.0 - 180.0)) < 1.0:
        return  # losses may move within a piece
    arcs, there = arcs_of(hole), outcome_from_study(study, zeta)
    words = [here.verdict for here in there.passes]
    moved = words.count("split") + words.count("part")
    fewer = (words.count("out of reach"), moved) <= (
        hole.best.out_of_reach,
        hole.best.splits + hole.best.parts,
    )
    good = fewer and there.lost_s <= hole.best.seconds_lost + NEAR_ENOUGH_S
    assert holds(arcs, bearing) == good


def test_the_best_of_every_hole_lies_on_its_arcs(walled):
    for study in (seat_evening()[2], walled[1]):
        for hole in study.holes:
            arcs = arcs_of(hole, study.limits)
            assert holds(arcs, hole.best.keyway_bearing_deg)
            assert all(0.0 <= start < end <= 360.0 for start, end in arcs.spans)


def test_no_arc_covers_what_is_forbidden(walled):
    _plan, study = walled
    for hole in study.holes:
        arcs = arcs_of(hole, study.limits)
        inside = np.concatenate([np.linspace(a + 1e-3, b - 1e-3, 50) for a, b in arcs.spans])
        assert not forbidden_at(inside, study.limits).any()
        assert not forbidden_at(np.array(arcs.points), study.limits).any()


def curve(bearings: list[float], lost: list[float], moved: list[int]) -> LossCurve:
    """Ends and middles by turns, from an end."""
    none, size = np.zeros(len(bearings)), len(bearings)
    return LossCurve(
        bearing_deg=np.array(bearings),
        lost_s=np.array(lost),
        splits=np.array(moved),
        parts=none,
        out_of_reach=none,
        is_end=np.arange(size) % 2 == 0,
        rest_room_deg=none + 180.0,
    )


def best_at(bearing: float, **changes: object) -> BestSeat:
    told = {"seconds_lost": 0.0, "splits": 0, "parts": 0, "out_of_reach": 0} | changes
    return BestSeat(bearing, "A", (-1.0, 1.0), 1.0, **told)  # type: ignore[arg-type]


def test_an_arc_over_north_is_cut_there_and_a_better_end_is_a_point():
    made = curve([20.0, 100.0, 200.0, 250.0, 300.0, 350.0], [0.0, 90.0, 0.0, 90.0, 0.0, 3.0], [0] * 6)
    arcs = best_arcs(made, best_at(350.0), ())
    assert arcs == BestArcs(((0.0, 20.0), (300.0, 360.0)), (200.0,))


def test_seconds_within_five_are_as_good_and_a_pass_moved_is_not():
    made = curve([0.0, 45.0, 90.0, 135.0, 180.0, 270.0], [4.0, 5.0, 0.0, 5.1, 9.0, 0.0], [0, 0, 0, 0, 1, 1])
    assert best_arcs(made, best_at(90.0), ()).spans == ((0.0, 90.0),)


def test_where_all_is_forbidden_the_arcs_are_drawn_as_if_none_were():
    made = curve([0.0, 45.0, 90.0, 200.0], [0.0, 0.0, 0.0, 50.0], [0] * 4)
    everywhere = (SeatLimit(from_deg=0.0, to_deg=360.0),)
    assert best_arcs(made, best_at(45.0, forbidden=True), everywhere).spans == ((0.0, 90.0),)
    assert best_arcs(made, best_at(45.0), everywhere) == BestArcs((), ())
