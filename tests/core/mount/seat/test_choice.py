from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from core.base.angles import wrap_180
from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, IndexHole, Mount, Station
from core.mount.seat.choice import ANOTHER_PLACE_DEG, BestSeat, _rooms, best_of_all, elsewhere
from core.mount.seat.curve import LossCurve
from core.mount.seat.limits import SeatLimit, forbidden_at, limits_at
from core.mount.seat.study import SeatStudy, know_to_deg, study_seat
from core.passes.track import Pass
from tests.core.mount.seat.seat_judge import rows_of
from tests.oracles.pass_maker import evenings

MOUNT = Mount(
    keyway_bearing_deg=60.0,
    index_holes=(IndexHole(name="A"), IndexHole(name="B", offset_deg=-30.0)),
    azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=5.0),
    elevation=ElevationAxis(maximum_deg=90.0),
)
BEAM = (Antenna(beamwidth_deg=20.0),)

arcs = st.lists(
    st.tuples(st.integers(0, 359), st.integers(1, 200)).map(
        lambda pair: SeatLimit(from_deg=float(pair[0]), to_deg=float((pair[0] + pair[1]) % 360), why="a rock")
    ),
    max_size=3,
).map(tuple)


def study(passes: tuple[Pass, ...], limits: tuple[SeatLimit, ...], mount: Mount = MOUNT) -> SeatStudy:
    return study_seat(passes, mount_tracks(passes, mount.tilt), Station(mount, BEAM), limits=limits)


def inside(bearing: float, limits: tuple[SeatLimit, ...]) -> bool:
    """By walking each arc clockwise in whole degrees; for bearings well away from whole degrees."""
    walked = {
        int((limit.from_deg + step) % 360)
        for limit in limits
        for step in range(round((limit.to_deg - limit.from_deg) % 360) or 360)
    }
    return int(bearing % 360) in walked


@given(limits=arcs, whole=st.integers(0, 359), part=st.floats(0.01, 0.99))
def test_a_bearing_is_forbidden_where_an_arc_runs_over_it(limits, whole, part):
    bearing = whole + part
    assert forbidden_at(np.array([bearing]), limits)[0] == inside(bearing, limits)
    assert bool(limits_at(bearing, limits)) == inside(bearing, limits)


def test_the_ends_of_an_arc_may_be_used_but_not_where_two_touch():
    limits = (
        SeatLimit(from_deg=350.0, to_deg=20.0),
        SeatLimit(from_deg=20.0, to_deg=40.0),
    )
    shut = forbidden_at(np.array([349.9, 350.0, 0.0, 20.0, 39.9, 40.0, 180.0]), limits)
    assert shut.tolist() == [False, False, True, True, True, False, False]
    assert limits_at(20.0, limits) == limits  # between two that touch: both forbid it
    assert limits_at(40.0, limits) == ()


def test_an_arc_has_two_ends_and_may_be_the_whole_circle():
    with pytest.raises(ValidationError, match="same bearing"):
        SeatLimit(from_deg=30.0, to_deg=30.0)
    with pytest.raises(ValidationError, match="same bearing"):
        SeatLimit(from_deg=360.0, to_deg=0.0)
    assert forbidden_at(np.arange(0.0, 360.0, 7.0), (SeatLimit(from_deg=0.0, to_deg=360.0),)).all()


def seat_at(bearing: float, is_forbidden: bool = False) -> BestSeat:
    return BestSeat(bearing, "A", (-5.0, 5.0), 2.0, 0.0, 0, 0, 0, is_forbidden)


def test_the_hole_in_use_wins_where_the_other_s_margin_is_no_wider_to_a_thousandth():
    """Each hole's seat is the nearest of those that tie to a thousandth: finer figures tell nothing."""
    in_use, other = (
        replace(seat_at(bearing), index_hole=hole, place_within_deg=(-margin, 20.0))
        for bearing, hole, margin in ((10.0, "A", 10.0001), (80.0, "B", 10.0003))
    )
    for hole, best in (("A", in_use), ("B", other)):
        assert best_of_all((in_use, other), hole) == best
        assert best_of_all((other, in_use), hole) == best
    wider = replace(other, place_within_deg=(-10.2, 20.0))
    assert best_of_all((in_use, wider), "A") == wider


def stepped_room(curve: LossCurve, worse: np.ndarray, index: int) -> tuple[float, float]:
    """By stepping from sample to sample, each way, until it gets worse."""
    room, count = [], worse.size
    for sense in (-1, 1):
        here = index
        while not worse[(here + sense) % count]:
            here = (here + sense) % count
        bad = (here + sense) % count
        edge = bad if curve.is_end[bad] else here
        room.append(float((sense * (curve.bearing_deg[edge] - curve.bearing_deg[index])) % 360.0))
    return -room[0], room[1]


@given(
    samples=st.lists(st.tuples(st.integers(0, 3599), st.booleans(), st.booleans()), min_size=1, max_size=12),
    data=st.data(),
)
def test_the_room_of_a_sample_is_found_by_stepping(samples, data):
    samples.sort()
    bearing, ends, worse = (np.array(column) for column in zip(*samples, strict=True))
    none = np.zeros(bearing.size)
    curve = LossCurve(bearing / 10.0, none, none, none, none, ends, none)
    asked = data.draw(st.lists(st.integers(0, bearing.size - 1), min_size=1, max_size=4))
    expected = [stepped_room(curve, worse, k) if worse.any() else (-180.0, 180.0) for k in asked]
    assert _rooms(curve, worse, np.array(asked)) == expected


def test_no_seat_is_told_as_another_place_where_all_are_forbidden():
    assert elsewhere(seat_at(90.0), None, 10.0) == seat_at(90.0)
    assert elsewhere(seat_at(90.0, True), None, 10.0) is None
    assert elsewhere(seat_at(15.0), seat_at(40.0), 10.0) == seat_at(40.0)


def least_of(study_: SeatStudy, shut: np.ndarray, near: np.ndarray | None = None) -> list[tuple[float, ...]]:
    """What the curves offer where neither shut nor near, worst counts first."""
    found = []
    for hole in study_.holes:
        curve = rows_of(hole.curve)
        open_ = ~shut_of(curve, shut)
        if near is not None:
            open_ &= np.abs((curve[:, 0] - near[0] + 180.0) % 360.0 - 180.0) > ANOTHER_PLACE_DEG + 1e-6
        found += [(row[4], row[2] + row[3], round(float(row[1]))) for row in curve[open_]]
    return found


def shut_of(curve: np.ndarray, limits: np.ndarray) -> np.ndarray:
    """Rows strictly inside an arc (from, width), or where the arcs reach past on both sides."""
    beside = []
    for shift in (-1e-5, 1e-5):
        past = (
            (curve[:, :1] + shift - limits[None, :, 0]) % 360.0 if limits.size else np.zeros((len(curve), 0))
        )
        beside.append((past <= limits[None, :, 1]).any(axis=1) if limits.size else np.zeros(len(curve), bool))
    return np.asarray(beside[0] & beside[1])


def as_pairs(limits: tuple[SeatLimit, ...]) -> np.ndarray:
    return np.array([(one.from_deg, (one.to_deg - one.from_deg) % 360.0 or 360.0) for one in limits])


def told(seat: BestSeat) -> tuple[float, ...]:
    """Seconds to a whole one: nearer than that the curve is not known, and a wider margin goes before."""
    return seat.out_of_reach, seat.splits + seat.parts, round(seat.seconds_lost)


def inside_strictly(bearing: float, pairs: np.ndarray) -> bool:
    return any(1e-5 < (bearing - start) % 360.0 < width - 1e-5 for start, width in pairs)


def assert_best_and_second_best_are_the_least_of_what_is_allowed(made: SeatStudy, pairs: np.ndarray) -> None:
    allowed = least_of(made, pairs)
    if not allowed:
        assert made.best.forbidden
        assert made.second_best is None
        return
    assert not made.best.forbidden
    assert not inside_strictly(made.best.keyway_bearing_deg, pairs)
    assert told(made.best) == min(allowed)
    elsewhere = least_of(made, pairs, np.array([made.best.keyway_bearing_deg]))
    second = made.second_best
    if not elsewhere:
        assert second is None
        return
    assert second is not None
    assert told(second) == min(elsewhere)
    assert not inside_strictly(second.keyway_bearing_deg, pairs)
    apart = abs(wrap_180(second.keyway_bearing_deg - made.best.keyway_bearing_deg))
    assert apart > ANOTHER_PLACE_DEG


def assert_the_ends_of_forbidden_arcs_are_sampled_for_every_hole(
    made: SeatStudy, limits: tuple[SeatLimit, ...]
) -> None:
    for hole in made.holes:
        for limit in limits:
            for end in (limit.from_deg, limit.to_deg):
                assert np.abs((hole.curve.bearing_deg - end + 180.0) % 360.0 - 180.0).min() < 2e-6


def assert_the_keyway_may_not_be_placed_into_a_forbidden_arc(
    made: SeatStudy, pairs: np.ndarray, share: float
) -> None:
    for seat in (made.best, made.second_best):
        if seat is None or seat.forbidden:
            continue
        minus, plus = seat.place_within_deg
        for off in (minus * share, plus * share):
            assert not inside_strictly(seat.keyway_bearing_deg + off, pairs)


@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
@given(evening=evenings(), limits=arcs, share=st.floats(0.0, 1.0))
def test_a_study_keeps_to_what_is_allowed(evening, limits, share):
    made, pairs = study(tuple(recipe.pass_ for recipe in evening), limits), as_pairs(limits)
    assert_best_and_second_best_are_the_least_of_what_is_allowed(made, pairs)
    assert_the_ends_of_forbidden_arcs_are_sampled_for_every_hole(made, limits)
    assert_the_keyway_may_not_be_placed_into_a_forbidden_arc(made, pairs, share)


@settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
@given(evening=evenings())
def test_how_well_the_second_best_must_be_known_is_told_by_the_passes_there(evening):
    passes = tuple(recipe.pass_ for recipe in evening)
    made = study(passes, ())
    second = made.second_best
    assert second is not None
    there = MOUNT.model_copy(
        update={"keyway_bearing_deg": second.keyway_bearing_deg, "index_hole": second.index_hole}
    )
    station = Station(there, BEAM)
    checks = check_passes(made.passes, mount_tracks(made.passes, there.tilt), station)
    expected = know_to_deg(checks, station.beam_limit_deg)
    assert second.know_to_deg == pytest.approx(expected, abs=1e-5)
