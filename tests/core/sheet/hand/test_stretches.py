"""What interrupts a contact."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.mount.evening.drawn import drawn_pass
from core.mount.model.station import Antenna, Station
from core.sheet.hand.stretches import breaks_of, contact_seconds, gaps_of, untold_gaps_s
from core.sheet.hand.table import hand_table
from tests.core.sheet.samples import MOUNT, Wanted, check_of, pass_of

WANTED = Wanted("upright", "COMB-1", 0.0, 60.0, 20.0)


def toothed(gap_seconds):
    """A pass with a gap in its mask every 60 s, of the seconds given, and the drawn pass."""
    whole = pass_of(WANTED, 44001)
    start_s, end_s = whole.stretches[0]
    edges = [start_s]
    for tooth, gap_s in enumerate(gap_seconds):
        edges += [start_s + 20.0 + 60.0 * tooth, start_s + 20.0 + 60.0 * tooth + gap_s]
    edges.append(end_s)
    pass_ = replace(whole, stretches=tuple(zip(edges[::2], edges[1::2], strict=True)))
    check = check_of(WANTED, pass_, MOUNT)
    return start_s, check, drawn_pass(check, MOUNT)


def test_of_a_mask_with_many_teeth_the_longest_gaps_are_told():
    start_s, check, drawn = toothed([10.0 + tooth for tooth in range(9)])
    told = [round(one.start_s - start_s) for one in breaks_of(drawn, check)]
    assert told == [round(20.0 + 60.0 * tooth) for tooth in range(5, 9)]
    assert not any(one.moves for one in breaks_of(drawn, check))


def test_a_gap_too_short_for_a_word_is_followed_through():
    _start_s, check, drawn = toothed([3.0, 30.0])
    (gap,) = breaks_of(drawn, check)
    assert gap.end_s - gap.start_s >= 30.0
    assert any(start < gap.start_s + 2.0 < end for start, end in gaps_of(check.pass_))
    assert untold_gaps_s(drawn, check) == pytest.approx((3.0,))


def test_gaps_that_no_line_tells_of_are_counted_inside_the_contact():
    _start_s, check, drawn = toothed([10.0 + tooth for tooth in range(9)])
    assert untold_gaps_s(drawn, check) == pytest.approx((10.0, 11.0, 12.0, 13.0, 14.0))
    assert untold_gaps_s(*_until(check, 5)) == pytest.approx((10.0,))


def test_a_gap_outside_the_contact_takes_no_place_of_one_inside():
    start_s, check, _drawn = toothed([10.0 + tooth for tooth in range(9)])
    cut, cut_check = _until(check, 5)
    assert [round(one.start_s - start_s) for one in breaks_of(cut, cut_check)] == [80, 140, 200, 260]


def _until(check, teeth):
    """The same pass worked no further than so many of its gaps."""
    end_s = check.pass_.stretches[teeth][1] - 1.0
    pointing = check.pointing
    cut = replace(check, pointing=replace(pointing, worked=pointing.worked & (pointing.utc_s <= end_s)))
    return drawn_pass(cut, MOUNT), cut


def test_behind_the_mask_the_hand_goes_where_it_clears_and_waits():
    _start_s, check, drawn = toothed([3.0, 30.0])
    (gap,) = breaks_of(drawn, check)
    lines = hand_table(Station(MOUNT, (Antenna(),)), check, drawn, 60).lines
    (line,) = (one for one in lines if "behind the mask until" in one.note)
    assert line.utc_s == gap.start_s
    assert not [one for one in lines if gap.start_s < one.utc_s < gap.end_s]
    there = drawn.at(drawn.e_deg, gap.end_s)
    assert abs(float(line.elevation.figure) - there) <= 0.5


def test_a_move_inside_a_gap_is_one_break():
    wanted = Wanted("split", "COMB-1", 0.0, 55.0, 340.0, 1200.0)
    check = check_of(wanted, pass_of(wanted, 44001), MOUNT)
    start, end = check.split.start_utc_s - 20.0, check.split.end_utc_s + 15.0
    (whole,) = check.pass_.stretches
    hidden = replace(check.pass_, stretches=((whole[0], start), (end, whole[1])))
    check = replace(check, pass_=hidden)
    drawn = drawn_pass(check, MOUNT)
    (one,) = breaks_of(drawn, check)
    assert one.moves
    assert one.start_s <= start
    assert one.end_s >= end
    first, last = contact_seconds(drawn)
    assert first < one.start_s < one.end_s < last


def test_a_break_ends_at_a_whole_second_and_not_before_the_satellite_is_back():
    wanted = Wanted("split", "COMB-1", 0.0, 55.0, 340.0, 1200.0)
    check = check_of(wanted, pass_of(wanted, 44001), MOUNT)
    for late_s in (0.0, 0.2, 0.9):
        back_s = check.split.end_utc_s + late_s
        later = replace(check, split=replace(check.split, end_utc_s=back_s))
        (one,) = breaks_of(drawn_pass(later, MOUNT), later)
        assert one.end_s == int(one.end_s)
        assert back_s <= one.end_s < back_s + 1.0
