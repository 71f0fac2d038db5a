"""The passes as arcs round the station, against brute force over bearings and turns."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.angles import wrap_180
from core.mount.model.station import AzimuthAxis
from core.mount.seat.pass_arcs import PassArc, pass_arc, resting_pieces, rings, stop_gaps
from core.passes.frames import angle_rates
from core.passes.stays import stay_at
from tests.seat_evening import seat_evening

arcs = st.builds(
    lambda start, sweep: PassArc(start, start + sweep, min(start, start + sweep), max(start, start + sweep)),
    st.floats(-400.0, 400.0),
    st.floats(-185.0, 185.0).filter(lambda sweep: abs(sweep) > 0.5),
)


def _reachable(bearing_deg: float, zeta_deg: float, azimuth: AzimuthAxis) -> bool:
    """Some whole turn puts the bearing inside the guards."""
    m = (bearing_deg - zeta_deg) % 360.0
    guard, top = azimuth.guard_deg, azimuth.travel_deg - azimuth.guard_deg
    return any(guard <= m + 360.0 * turn <= top for turn in range(-1, 5))


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
        assert arc.clockwise == (angle_rates(*stay_at(pass_.stay, pass_.utc_s))[0].sum() > 0.0)
        assert arc.low_deg <= min(arc.aos_deg, arc.los_deg) <= max(arc.aos_deg, arc.los_deg) <= arc.high_deg
