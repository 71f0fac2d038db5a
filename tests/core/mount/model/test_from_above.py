"""The station from above, against the convention's own check and against brute force over bearings."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.angles import wrap_180, wrap_360
from core.mount.clearance.lengths import Clearance, Guy, Leg
from core.mount.model.from_above import station_from_above
from core.mount.model.station import AzimuthAxis, IndexHole, Mount, SightingCorrection


def _mount(**changes: object) -> Mount:
    return Mount(
        keyway_bearing_deg=143.0,
        index_holes=(IndexHole(name="A", offset_deg=-30.0), IndexHole(name="B", offset_deg=60.0)),
        **changes,
    )


def test_the_conventions_own_check() -> None:
    """DESIGN, section 3: keyway 143, a hole drilled 30 clockwise of the datum, sigma 0: zeta 113."""
    above = station_from_above(_mount())
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
        above = station_from_above(mount)
        for hole, seen in zip(mount.index_holes, above.holes, strict=True):
            drilled = wrap_180(seen.bearing_deg - above.datum_deg)
            assert drilled == pytest.approx(wrap_180(hole.drilled_deg))


def test_the_legs_stand_a_third_of_a_turn_apart_and_one_is_opposite_the_keyway() -> None:
    above = station_from_above(_mount())
    legs = sorted(wrap_360(leg - above.keyway_deg) for leg in above.legs_deg)
    assert legs == pytest.approx([60.0, 180.0, 300.0])


def test_a_correction_moves_the_stops_and_not_the_plate() -> None:
    fitted = SightingCorrection(deg=4.0, keyway_bearing_deg=143.0, index_hole="A")
    plain, moved = station_from_above(_mount()), station_from_above(_mount(sighting_correction=fitted))
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
    above = station_from_above(Mount(keyway_bearing_deg=keyway, azimuth=azimuth))
    for bearing in np.arange(0.25, 360.0, 7.3):
        m = (bearing - keyway) % 360.0
        turns = sum(guard <= m + 360.0 * turn <= travel - guard for turn in range(4))
        for sector, expected in ((above.unreachable, turns == 0), (above.overlap, turns >= 2)):
            past = 0.0 if sector is None else (bearing - sector.start_deg) % 360.0
            if sector is not None and min(past, abs(past - sector.span_deg), 360.0 - past) < 1e-6:
                continue
            assert (sector is not None and past < sector.span_deg) == expected


def test_the_far_end_of_a_sector_is_wrapped() -> None:
    above = station_from_above(Mount(keyway_bearing_deg=350.0, azimuth=AzimuthAxis(guard_deg=15.0)))
    assert [(guard.start_deg, guard.end_deg) for guard in above.guards] == [(350.0, 5.0), (65.0, 80.0)]


def test_legs_and_guys_stand_where_the_lengths_say_and_strikes_turn_with_the_keyway():
    lengths = Clearance(
        legs=(Leg(from_keyway_deg=10.0), Leg(from_keyway_deg=-100.0)), guys=(Guy(from_keyway_deg=30.0),)
    )
    mount = _mount()
    above = station_from_above(mount, lengths, ((350.0, 20.0),))
    keyway = mount.keyway_bearing_deg
    assert above.legs_deg == pytest.approx([(keyway + 10.0) % 360.0, (keyway - 100.0) % 360.0])
    assert above.guys_deg == pytest.approx([(keyway + 30.0) % 360.0])
    assert [(s.start_deg, s.span_deg) for s in above.strikes] == [((keyway + 350.0) % 360.0, 20.0)]
    assert station_from_above(mount).guys_deg == station_from_above(mount).strikes == ()
