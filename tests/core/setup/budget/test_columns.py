"""All passes at once are as each alone; an evening is their mean over the worked seconds."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from core.mount.model.station import Antenna, Station
from core.setup.budget.budget import pointing_budget
from core.setup.budget.terms.term import Absorbed
from core.setup.budget.worked import moments_of
from tests.core.setup.budget.made import TILT, station, worked

PASSES = [
    worked(30.0, "upright", 1, age_days=2.0),
    worked(88.5, "over the top", 2, age_days=20.0),
    worked(55.0, "upright", 3, age_days=0.1),
]
FIT = Absorbed(0.5, 0.4, came_from="left")


def two_antennas() -> Station:
    one = station(skew_deg=2.0, tilt=TILT)
    return replace(one, antennas=(*one.antennas, Antenna(name="dish", beamwidth_deg=8.0)))


def exact(one) -> list[object]:
    """What does not depend on luck."""
    told = one.figures
    sizes = [term.deg for term in told.terms]
    return [told.rss_deg, told.worst_deg, one.peak_rss_deg, one.worst_utc_s, *sizes]


def test_columns_are_as_pass_by_pass():
    together = pointing_budget(two_antennas(), PASSES, absorbed=FIT, draws=20)
    apart = [pointing_budget(two_antennas(), [one], absorbed=FIT, draws=20) for one in PASSES]
    passes = [one for answer in apart for one in answer.now.passes]
    assert len(together.now.passes) == len(passes) == 6
    for one, other in zip(together.now.passes, passes, strict=True):
        assert (one.norad_id, one.aos_utc_s, one.antenna) == (other.norad_id, other.aos_utc_s, other.antenna)
        assert exact(one) == pytest.approx(exact(other), rel=1e-11, abs=1e-9)
        assert one.figures.improve_first == other.figures.improve_first
    assert together.times == tuple(one for answer in apart for one in answer.times)


def test_an_evening_is_the_mean_over_the_worked_seconds():
    answer = pointing_budget(two_antennas(), PASSES, draws=20).now
    seconds = [sum(end - start for start, end in one.stretches) for one in PASSES]
    for antenna in answer.antennas:
        own = [one.figures for one in answer.passes if one.antenna == antenna.antenna]
        mean = sum(s * one.rss_deg**2 for s, one in zip(seconds, own, strict=True)) / sum(seconds)
        assert antenna.figures.rss_deg == pytest.approx(math.sqrt(mean))
        assert antenna.figures.worst_deg == max(one.worst_deg for one in own)


def test_moments_stand_for_the_worked_seconds_alone():
    moments = moments_of(PASSES, station().mount.tilt)
    for row, one in enumerate(PASSES):
        own = moments.row == row
        assert moments.weight_s[own].sum() == pytest.approx(sum(b - a for a, b in one.stretches))
        for start, end in one.stretches:
            assert start in moments.utc_s[own]
            assert end in moments.utc_s[own]
        inside = [(a <= moments.utc_s[own]) & (moments.utc_s[own] <= b) for a, b in one.stretches]
        assert np.logical_or.reduce(inside).all()


def test_only_what_is_worked_counts():
    one = worked(60.0)
    middle = one.pass_.peak.utc_s
    cut = worked(60.0, start_utc_s=middle, end_utc_s=middle + 60.0)
    assert moments_of([cut], station().mount.tilt).seconds == pytest.approx([60.0])
    nothing = worked(60.0, start_utc_s=one.pass_.los.utc_s)
    assert pointing_budget(station(), [nothing]).now.passes == ()
    assert pointing_budget(station(), [], absorbed=FIT).now.antennas == ()


def test_a_change_of_posture_turns_the_skew_over_from_then_on():
    one = worked(60.0)
    changed = replace(one, changes_utc_s=one.pass_.peak.utc_s)
    moments = moments_of([changed], station().mount.tilt)
    assert (moments.over == (moments.utc_s >= one.pass_.peak.utc_s)).all()
    begins_over = replace(changed, posture="over the top")
    assert (moments_of([begins_over], station().mount.tilt).over == ~moments.over).all()


def test_the_same_seed_draws_the_same_evenings():
    one, same, other = (pointing_budget(two_antennas(), PASSES, draws=50, seed=seed) for seed in (3, 3, 4))
    assert one == same
    assert one.now.passes[0].figures.drawn_rms_deg != other.now.passes[0].figures.drawn_rms_deg
    assert one.now.passes[0].figures.rss_deg == other.now.passes[0].figures.rss_deg


def test_a_narrow_dish_is_outside_its_main_lobe():
    passes = pointing_budget(two_antennas(), PASSES, draws=400).now.passes
    yagi, dish = passes[0].figures, passes[1].figures
    assert yagi.outside_share == 0.0
    assert yagi.worst_loss_db == pytest.approx(12.0 * (yagi.worst_deg / 30.0) ** 2)
    assert 0.0 < dish.outside_share < 1.0
    assert dish.worst_loss_db is None
    assert dish.loss_db == pytest.approx(12.0 * (dish.rss_deg / 8.0) ** 2)
    assert dish.drawn_loss_db < 12.0


def test_many_passes_are_drawn_part_by_part():
    """More of them than are looked at side by side."""
    many = PASSES * 25
    answer = pointing_budget(station(tilt=TILT), many, draws=60)
    assert len(answer.now.passes) == 75
    for one in answer.now.passes:
        assert one.figures.drawn_rms_deg == pytest.approx(one.figures.rss_deg, rel=0.35)
