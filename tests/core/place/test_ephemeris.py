"""The ephemeris is there, without a network and without a warning, and reaches as far as it says."""

from __future__ import annotations

from core.base.times import parse_iso
from core.base.units import DAY_S, UNIX_EPOCH_JD
from core.place.ephemeris import ephemeris


def test_it_reaches_from_1899_to_2053_for_all_bodies():
    days = [(parse_iso(day) / DAY_S + UNIX_EPOCH_JD) for day in ("1899-07-29", "2053-10-09")]
    spans = {(segment.spk_segment.start_jd, segment.spk_segment.end_jd) for segment in ephemeris().segments}
    assert spans == {tuple(days)}
    assert ephemeris() is ephemeris()
