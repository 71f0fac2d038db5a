"""The station from above, against the convention's own check and against brute force over bearings."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.angles import wrap_180
from core.mount.model.station import AzimuthAxis, IndexHole, Mount, SightingCorrection
from core.mount.seat.above import (
    PassArc,
    pass_arc,
    resting_pieces,
    rings,
    seated_at,
    seen_from_above,
    stop_gaps,
)
from tests.seat_evening import seat_evening

arcs = st.builds(
    lambda start, sweep: PassArc(start, start + sweep, min(start, start + sweep), max(start, start + sweep)),
    st.floats(-400.0, 400.0),
    st.floats(-185.0, 185.0).filter(lambda sweep: abs(sweep) > 0.5),
)


def _mount(**changes: object) -> Mount:
    return Mount(
        keyway_bearing_deg=143.0,
        index_holes=(IndexHole(name="A", offset_deg=-30.0), IndexHole(name="B", offset_deg=60.0)),
        **changes,
    )


def _reachable(bearing_deg: float, zeta_deg: float, azimuth: AzimuthAxis) -> bool:
    """Some whole turn puts the bearing inside the guards."""
    m = (bearing_deg - zeta_deg) % 360.0
    guard, top = azimuth.guard_deg, azimuth.travel_deg - azimuth.guard_deg
    return any(guard <= m + 360.0 * turn <= top for turn in range(-1, 5))


def test_the_conventions_own_check() -> None:
    """DESIGN, section 3: keyway 143, a hole drilled 30 clockwise of the datum, sigma 0: zeta 113."""
    above = seen_from_above(_mount())
    assert above.counter_clockwise_stop_deg == pytest.approx(113.0)
    assert above.datum_deg == pytest.approx(113.0)
    # The hole in use lies over the keyway: 30 clockwise of the datum mark.
    assert [(h.name, h.bearing_deg, h.in_use) for h in above.holes] == [
        ("A", 143.0, True),
        ("B", 53.0, False),
    ]


def test_holes_keep_their_angle_to_the_datum_whichever_is_in_use() -> None:
    for used in ("A", "B"):
        mount = _mount(index_hole=used)
        above = seen_from_above(mount)
        for hole, seen in zip(mount.index_holes, above.holes, strict=True):
            drilled = wrap_180(seen.bearing_deg - above.datum_deg)
            assert drilled == pytest.approx(wrap_180(hole.drilled_deg))


def test_a_correction_moves_the_stops_and_not_the_plate() -> None:
    fitted = SightingCorrection(deg=4.0, keyway_bearing_deg=143.0, index_hole="A")
    plain, moved = seen_from_above(_mount()), seen_from_above(_mount(sighting_correction=fitted))
    assert moved.counter_clockwise_stop_deg == pytest.approx(plain.counter_clockwise_stop_deg + 4.0)
    assert (moved.keyway_deg, moved.datum_deg, moved.holes) == (
        plain.keyway_deg,
        plain.datum_deg,
        plain.holes,
    )


@given(st.floats(20.0, 800.0), st.floats(0.0, 9.0), st.floats(0.0, 359.9))
def test_overlap_and_unreachable_are_what_counting_turns_says(
    travel: float, guard: float, keyway: float
) -> None:
    azimuth = AzimuthAxis(travel_deg=travel, guard_deg=guard)
    above = seen_from_above(Mount(keyway_bearing_deg=keyway, azimuth=azimuth))
    for bearing in np.arange(0.25, 360.0, 7.3):
        m = (bearing - keyway) % 360.0
        turns = sum(guard <= m + 360.0 * turn <= travel - guard for turn in range(4))
        for sector, expected in ((above.unreachable, turns == 0), (above.overlap, turns >= 2)):
            past = 0.0 if sector is None else (bearing - sector.start_deg) % 360.0
            if sector is not None and min(past, abs(past - sector.span_deg), 360.0 - past) < 1e-6:
                continue
            assert (sector is not None and past < sector.span_deg) == expected


@given(arcs, st.floats(0.0, 359.9), st.floats(60.0, 369.0), st.floats(0.5, 9.0))
def test_gaps_without_overlap_are_the_bearings_no_azimuth_points_to(
    arc: PassArc, zeta: float, travel: float, guard: float
) -> None:
    azimuth = AzimuthAxis(travel_deg=min(travel, 360.0 + 2.0 * guard - 0.01), guard_deg=guard)
    gaps = stop_gaps(arc, zeta, azimuth)
    for bearing in np.linspace(arc.low_deg, arc.high_deg, 60):
        edges = [abs(bearing - edge) for gap in gaps for edge in gap]
        if min(edges, default=1.0) < 1e-6:
            continue
        inside = any(low < bearing < high for low, high in gaps)
        assert inside == (not _reachable(float(bearing), zeta, azimuth))


@given(arcs, st.floats(0.0, 359.9), st.floats(375.0, 540.0))
def test_with_overlap_the_gap_is_where_the_furthest_way_arrives(
    arc: PassArc, zeta: float, travel: float
) -> None:
    azimuth = AzimuthAxis(travel_deg=travel, guard_deg=5.0)
    sense = 1.0 if arc.clockwise else -1.0
    starts = [
        m
        for turn in range(-2, 3)
        if 5.0 <= (m := (arc.aos_deg - zeta) % 360.0 + 360.0 * turn) <= travel - 5.0
    ]
    # Brute force: how far each start can follow before it meets the guard ahead.
    furthest = max((travel - 5.0 - m) if sense > 0 else (m - 5.0) for m in starts)
    sweep = abs(arc.los_deg - arc.aos_deg)
    gaps = stop_gaps(arc, zeta, azimuth)
    if abs(furthest - sweep) > 1e-6:
        assert bool(gaps) == (furthest < sweep)
    if gaps and furthest < sweep:
        assert gaps[0] == pytest.approx((arc.aos_deg + sense * furthest,) * 2)


@given(arcs, st.floats(0.0, 359.9), st.floats(300.0, 540.0))
def test_resting_pieces_leave_the_most_that_any_turn_holds(arc: PassArc, zeta: float, travel: float) -> None:
    azimuth = AzimuthAxis(travel_deg=travel, guard_deg=3.0)
    held = max(
        min(arc.high_deg, zeta + travel - 3.0 + 360.0 * k) - max(arc.low_deg, zeta + 3.0 + 360.0 * k)
        for k in range(-8, 8)
    )
    outside = sum(high - low for low, high in resting_pieces(arc, zeta, azimuth))
    assert outside == pytest.approx(arc.high_deg - arc.low_deg - max(held, 0.0), abs=1e-6)


@given(st.lists(arcs, max_size=40).map(tuple), st.integers(0, 40))
def test_arcs_on_one_ring_never_meet(many: tuple[PassArc, ...], most_alone: int) -> None:
    on = rings(many, most_alone)
    assert sorted(set(on)) == list(range(len(set(on))))
    if len(many) <= most_alone:
        assert on == tuple(range(len(many)))
        return
    for ring in set(on):
        covered = np.zeros(720, dtype=int)
        for arc, its in zip(many, on, strict=True):
            if its == ring:
                bearings = np.arange(np.ceil(arc.low_deg * 2), np.floor(arc.high_deg * 2) + 1).astype(int)
                covered[np.unique(bearings % 720)] += 1
        assert covered.max(initial=0) <= 1


def test_arcs_of_real_tracks_follow_the_motion() -> None:
    for pass_ in seat_evening()[1].passes:
        arc = pass_arc(pass_)
        assert wrap_180(arc.aos_deg - pass_.aos.azimuth_deg) == pytest.approx(0.0, abs=1e-6)
        assert wrap_180(arc.los_deg - pass_.los.azimuth_deg) == pytest.approx(0.0, abs=1e-6)
        assert arc.clockwise == (pass_.azimuth_rate_deg_s.sum() > 0.0)
        assert arc.low_deg <= min(arc.aos_deg, arc.los_deg) <= max(arc.aos_deg, arc.los_deg) <= arc.high_deg


def test_seated_elsewhere_changes_only_the_seat() -> None:
    moved = seated_at(_mount(), 370.0, "B")
    assert (moved.keyway_bearing_deg, moved.index_hole) == (10.0, "B")
    assert seated_at(moved, 143.0, "A") == _mount()
