"""The demo tells its story: every property it was made for, from the file that is shipped.

What is clear is also counted a second, plain way here: the pass unwrapped by numpy and slid along the travel.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
import pytest

from core.base.times import parse_iso
from core.elements.files import read_element_files
from core.mount.check.verdict import check_passes
from core.mount.dial.readings import azimuth_dial
from core.mount.drive.tracks import MountTrack, mount_tracks
from core.mount.model.chain import zeta_deg
from core.mount.model.results import PassCheck
from core.mount.model.station import OVER_THE_TOP, UPRIGHT, Mount, Station
from core.mount.seat.study import SeatStudy, study_seat
from core.passes.frames import Observer
from core.passes.search import find_stays
from core.passes.track import Pass, cut_pass, predict
from core.place.site import mask_floor_deg
from core.plan.document import Plan
from tests.bench.make_demo import CONSTELLATION, DEMO_FILE, build_plan, plan_text
from tests.shared_data import shared_file


@dataclass(frozen=True, eq=False)
class Demo:
    plan: Plan
    passes: tuple[Pass, ...]
    picked: tuple[Pass, ...]
    tracks: tuple[MountTrack, ...]
    study: SeatStudy

    def seated(self, keyway_bearing_deg: float) -> Mount:
        return self.plan.mount.model_copy(update={"keyway_bearing_deg": keyway_bearing_deg})

    def checks(self, keyway_bearing_deg: float) -> tuple[PassCheck, ...]:
        plan = self.plan
        return check_passes(
            self.picked, self.tracks, Station(self.seated(keyway_bearing_deg), plan.antennas, plan.steering)
        )

    @property
    def best_deg(self) -> float:
        return self.study.best.keyway_bearing_deg


@pytest.fixture(scope="module")
def demo() -> Demo:
    plan = Plan.model_validate_json(DEMO_FILE.read_text(encoding="utf-8"))
    sets = [satellite.elements for satellite in plan.satellites]
    passes, refused = predict(sets, plan.site, plan.evening.start_utc_s, plan.evening.end_utc_s)
    assert not refused
    picked = tuple(
        min(
            (pass_ for pass_ in passes if pass_.norad_id == pick.norad_id),
            key=lambda pass_: abs(pass_.peak.utc_s - parse_iso(pick.near)),
        )
        for pick in plan.picks
    )
    tracks = mount_tracks(picked, plan.mount.tilt)
    study = study_seat(picked, tracks, plan.station)
    return Demo(plan, passes, picked, tracks, study)


@pytest.fixture(scope="module")
def at_best(demo: Demo) -> tuple[PassCheck, ...]:
    return demo.checks(demo.best_deg)


def not_clear(checks: tuple[PassCheck, ...]) -> list[Pass]:
    return [check.pass_ for check in checks if not check.clear_postures]


def starting_m_deg(pass_: Pass, mount: Mount) -> list[float]:
    """Every m inside the guards that points to where the pass begins, upright."""
    first = (pass_.aos.azimuth_deg - zeta_deg(mount)) % 360.0
    guard, top = mount.azimuth.guard_deg, mount.azimuth.travel_deg - mount.azimuth.guard_deg
    return [m_deg for m_deg in (first, first + 360.0) if guard <= m_deg <= top]


def goes_clear(pass_: Pass, mount: Mount, posture: str) -> bool:
    """The plain way: the whole track inside guards and elevation range in some turn."""
    azimuth = np.degrees(np.unwrap(np.radians(pass_.azimuth_deg)))
    over = posture == OVER_THE_TOP
    axis = 180.0 - pass_.elevation_deg if over else pass_.elevation_deg
    if axis.min() < mount.elevation.minimum_deg or axis.max() > mount.elevation.maximum_deg:
        return False
    guard, top = mount.azimuth.guard_deg, mount.azimuth.travel_deg - mount.azimuth.guard_deg
    m_deg = azimuth - zeta_deg(mount) + (180.0 if over else 0.0)
    turns = 360.0 * np.arange(-4, 5)
    return bool(((m_deg.min() + turns >= guard) & (m_deg.max() + turns <= top)).any())


def test_the_file_is_what_its_maker_makes_to_the_byte():
    assert DEMO_FILE.read_bytes() == plan_text(build_plan()).encode()


def test_it_says_all_it_assumes_and_that_it_is_invented(demo):
    assert demo.plan.site.name == "Larch ridge"
    assert "invented" in demo.plan.notes
    assert demo.plan.mount.datum_to_stop_deg != 0.0
    assert demo.plan.mount.elevation_unit_offset_deg != 0.0
    assert len({hole.offset_deg for hole in demo.plan.mount.index_holes}) >= 3


def test_ten_picks_and_more_each_naming_a_pass_of_its_own(demo):
    assert len(demo.picked) >= 10
    assert len({(pass_.norad_id, pass_.aos.utc_s) for pass_ in demo.picked}) == len(demo.picked)
    for pick, pass_ in zip(demo.plan.picks, demo.picked, strict=True):
        assert pass_.peak.utc_s == pytest.approx(parse_iso(pick.near), abs=1.0)
        assert pass_.cut is None
    assert len({pick.worth for pick in demo.plan.picks}) >= 3
    assert 20 <= len(demo.passes) <= 30


def test_elements_are_of_the_day_and_some_numbers_have_nine_digits(demo):
    sets = [satellite.elements for satellite in demo.plan.satellites]
    ages_s = [demo.plan.evening.start_utc_s - elements.epoch_utc_s for elements in sets]
    assert all(0.0 < age_s < 86_400.0 for age_s in ages_s)
    assert max(elements.norad_id for elements in sets) > 99_999_999
    assert min(elements.norad_id for elements in sets) > 339_999


def test_no_satellite_is_a_real_one():
    names = {name for name, *_rest in CONSTELLATION}
    numbers = {number for *_rest, number in CONSTELLATION}
    real = read_element_files([shared_file("data/gp_20241101.csv")]).sets
    assert len(real) > 1000
    assert not numbers & {elements.norad_id for elements in real}
    assert not {name for name in names if any(name in elements.name.upper() for elements in real)}


@pytest.mark.parametrize("keyway_bearing_deg", [0.0, 180.0])
@pytest.mark.parametrize("off_deg", [-2.0, 0.0, 2.0])
def test_keyway_to_the_north_or_south_leaves_three_or_more_not_clear(demo, keyway_bearing_deg, off_deg):
    assert len(not_clear(demo.checks(keyway_bearing_deg + off_deg))) >= 3


def test_as_committed_the_keyway_points_north_and_there_is_something_to_gain(demo):
    checks = demo.checks(demo.plan.mount.keyway_bearing_deg)
    assert demo.plan.mount.keyway_bearing_deg == 0.0
    assert {check.verdict for check in checks} == {"upright", "over the top", "split", "part"}
    assert any(check.resting for check in checks)
    assert sum(check.seconds_lost for check in checks) > 120.0


def test_the_best_seat_leaves_none_not_clear_and_loses_nothing(demo, at_best):
    best = demo.study.best
    assert not not_clear(at_best)
    assert {check.verdict for check in at_best} == {"upright", "over the top"}
    assert not any(check.resting for check in at_best)
    assert (best.out_of_reach, best.splits, best.parts) == (0, 0, 0)
    assert sum(check.seconds_lost for check in at_best) < 1.0
    assert best.index_hole == demo.plan.mount.index_hole


def test_there_is_room_beside_the_best_seat(demo):
    minus_deg, plus_deg = demo.study.best.place_within_deg
    assert min(-minus_deg, plus_deg) > 5.0
    assert demo.study.best.know_to_deg > 1.0
    for off_deg in (-10.0, -5.0, 5.0, 10.0):
        assert not not_clear(demo.checks(demo.best_deg + off_deg))


def test_the_study_counts_the_same_as_the_checks(demo):
    free = [part for part in demo.study.hole_in_use.intervals if part.counts.not_clear == 0]
    assert any(
        part.from_deg + 5.0 < demo.best_deg + turn < part.to_deg - 5.0
        for part in free
        for turn in (0.0, 360.0)
    )
    for bearing_deg in (0.0, 180.0):
        here = [
            part
            for part in demo.study.hole_in_use.intervals
            if part.from_deg <= bearing_deg <= part.to_deg
            or part.from_deg <= bearing_deg + 360.0 <= part.to_deg
        ]
        assert {part.counts.not_clear for part in here} == {len(not_clear(demo.checks(bearing_deg)))}


def test_a_plain_count_agrees_all_round_the_circle(demo):
    for bearing_deg in (*range(1, 360, 20), demo.best_deg, 0.0, 180.0):
        mount = demo.seated(float(bearing_deg))
        for check in demo.checks(float(bearing_deg)):
            by_hand = tuple(p for p in (UPRIGHT, OVER_THE_TOP) if goes_clear(check.pass_, mount, p))
            assert check.clear_postures == by_hand, (bearing_deg, check.pass_.satellite)


def test_at_the_best_seat_a_pass_needs_over_the_top(at_best):
    needing = [check for check in at_best if check.clear_postures == (OVER_THE_TOP,)]
    assert needing
    for check in needing:
        assert check.verdict == OVER_THE_TOP
        assert not [way for way in check.ways if way.posture == UPRIGHT], "resting would do upright"


def test_passes_start_in_the_overlap_and_the_turn_chosen_is_the_one_that_misses_the_stop(demo, at_best):
    mount = demo.seated(demo.best_deg)
    starting = [check for check in at_best if len(starting_m_deg(check.pass_, mount)) == 2]
    assert starting
    second_time_round = set()
    for check in starting:
        upright = [way for way in check.ways if way.posture == UPRIGHT and way.clear]
        assert len(upright) == 1, "the other turn meets a stop"
        assert check.chosen == upright[0]
        reading = azimuth_dial(check.chosen.m_aos_deg, mount.azimuth)
        assert reading.times_in_all == 2
        second_time_round.add(reading.time_round)
    assert second_time_round == {1, 2}


def test_two_picked_passes_are_up_together(demo):
    together = [
        (one, other)
        for one, other in combinations(demo.picked, 2)
        if min(one.los.utc_s, other.los.utc_s) - max(one.aos.utc_s, other.aos.utc_s) > 60.0
    ]
    assert together


def test_trees_cut_passes_and_interrupt_one(demo):
    site, evening = demo.plan.site, demo.plan.evening
    stays = find_stays(
        [satellite.elements for satellite in demo.plan.satellites],
        Observer.of_site(site),
        evening.start_utc_s,
        evening.end_utc_s,
        mask_floor_deg(site.horizon, site.minimum_elevation_deg),
    ).stays
    cut = 0
    for pass_ in demo.picked:
        (stay,) = (
            s
            for s in stays
            if s.norad_id == pass_.norad_id and s.start_utc_s <= pass_.peak.utc_s <= s.end_utc_s
        )
        open_sky = cut_pass(stay, (), site.minimum_elevation_deg)
        later, earlier = pass_.aos.utc_s - open_sky.aos.utc_s, open_sky.los.utc_s - pass_.los.utc_s
        assert later > -1e-3
        assert earlier > -1e-3
        cut += max(later, earlier) > 30.0
    assert 1 <= cut < len(demo.picked)
    gaps_s = [
        [after[0] - before[1] for before, after in zip(pass_.stretches, pass_.stretches[1:], strict=False)]
        for pass_ in demo.picked
    ]
    assert max(max(gaps, default=0.0) for gaps in gaps_s) > 10.0


def test_the_reason_is_about_the_posture_the_pass_is_worked_in(demo):
    checks = check_passes(demo.picked, demo.tracks, demo.plan.station)
    told = [c for c in checks if c.part is not None and c.crossing is not None]
    assert {c.part.posture for c in told} == {UPRIGHT, OVER_THE_TOP}
    assert all(c.crossing.posture == c.part.posture for c in told)


def test_its_satellites_are_heard_in_the_bands_of_the_amateur_satellite_service(demo):
    heard = [one for satellite in demo.plan.satellites for one in satellite.transponders]
    for one in heard:
        for frequency_hz in (one.downlink_hz, one.uplink_hz):
            half = 0.5 * (one.bandwidth_hz or 0.0)
            ends = () if frequency_hz is None else (frequency_hz - half, frequency_hz + half)
            assert all(145.8e6 <= end <= 146.0e6 or 435e6 <= end <= 438e6 for end in ends)
    assert any(one.inverting and one.bandwidth_hz for one in heard)
    assert any(one.is_off for one in heard)
    assert any(one.told_status and not one.is_off for one in heard)
    assert any(one.tone_hz for one in heard)
