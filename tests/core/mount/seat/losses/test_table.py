"""The table of losses against the verdicts themselves, at bearings it was not made for."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from core.base.errors import Cancelled
from core.mount.check.verdict import decide
from core.mount.drive.tracks import MountTrack, mount_tracks
from core.mount.model.station import Antenna, Mount, Station
from core.mount.seat.losses.table import SeatTable, seat_table, verdicts_at
from core.mount.seat.study import seated
from tests.core.mount.seat.seat_judge import Judge
from tests.core.mount.seat.test_seat_oracle import beam_of, passes_of, real_passes, seat_mount, seat_numbers
from tests.oracles.pass_maker import Orbit, Recipe, evenings

MEASURED = {"acceleration_deg_s2": 3.0, "deadband_deg": 1.0, "readout_step_deg": 1.0}


bearings = st.lists(st.floats(0.0, 359.99), min_size=3, max_size=3)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(evening=evenings(), numbers=seat_numbers(), rate=st.sampled_from([6.0, 6.0, 2.0]), zetas=bearings)
def test_the_table_says_what_the_verdicts_say(evening, numbers, rate, zetas):
    judge = Judge(passes_of(evening), seat_mount(numbers, rate), beam_of(numbers))
    assert [wrong for zeta in zetas for wrong in judge.disagreements(zeta)] == []


@pytest.mark.long
@settings(max_examples=2500, deadline=None, suppress_health_check=list(HealthCheck))
@given(evening=evenings(), numbers=seat_numbers(), rate=st.sampled_from([6.0, 6.0, 2.0]), zetas=bearings)
def test_the_table_says_what_the_verdicts_say_at_length(evening, numbers, rate, zetas):
    judge = Judge(passes_of(evening), seat_mount(numbers, rate), beam_of(numbers))
    assert [wrong for zeta in zetas for wrong in judge.disagreements(zeta)] == []


@settings(max_examples=4, deadline=None, suppress_health_check=list(HealthCheck))
@given(evening=evenings(), numbers=seat_numbers(), zetas=bearings)
def test_a_measured_drive_is_no_exception(evening, numbers, zetas):
    plain = seat_mount(numbers, 3.0)
    axes = {name: getattr(plain, name).model_copy(update=MEASURED) for name in ("azimuth", "elevation")}
    judge = Judge(passes_of(evening), plain.model_copy(update=axes), beam_of(numbers))
    assert [wrong for zeta in zetas for wrong in judge.disagreements(zeta)] == []


def seat_of(offset: float, sigma: float, guard: float, highest: float, beam: float) -> dict[str, Any]:
    return {
        "keyway": 0.0,
        "hole": "A",
        "offsets": (offset,),
        "iota": offset,
        "sigma": sigma,
        "beta": 0.0,
        "tau": 0.0,
        "phi": 0.0,
        "travel": 330.0 if highest < 90.0 else 360.0,
        "guard": guard,
        "e_min": 0.0,
        "e_max": highest,
        "beam": beam,
    }


def test_a_satellite_that_lingers_at_the_beam_s_edge_is_told_as_the_verdict_does():
    orbit = Orbit(6891.0, 0.0, 0.0, 103.0, 0.075467563335053, 0.0, 1400.0)
    numbers = seat_of(0.0, 0.0, 0.0, 90.0, 24.5) | {"tau": 3.0, "phi": 105.0, "travel": 330.0}
    judge = Judge(passes_of((Recipe(orbit, 0.0, ()),)), seat_mount(numbers, 2.0), beam_of(numbers))
    (seen,) = verdicts_at(judge.table, 0.0).lost_s
    lost_s = judge.checks(0.0)[0].seconds_lost
    assert lost_s > 2.5
    assert seen == pytest.approx(lost_s, abs=0.3)
    assert judge.disagreements(0.0) == []


def circle(radius_km: float, heading: float, aside: float, latitude: float) -> Orbit:
    return Orbit(radius_km, 0.0, 0.0, heading, aside, latitude, 1400.0)


#: Draws that were out by so many seconds, and why: a narrow best between two coarse starts; one crowded out
#: by a row of equal starts in a gap; a bend between the last split found on a wide grid and the edge; what a
#: part loses rises ever steeper and is level from there on: the middle of eight degrees lay on the line; the
#: best start of a move that comes by the zenith.
FOUND_OUT = {
    "2.9 s, a narrow best": (
        Recipe(circle(6671.0, 30.0, -0.13502751876653463, 2.0), 0.0, ((0.25, 0.5),)),
        seat_of(0.0, 0.0, 0.0, 75.0, 8.0),
        6.0,
        np.arange(355.0, 364.0, 1.0),
    ),
    "16 s, crowded out": (
        Recipe(
            circle(7550.593330991034, 117.42118804404237, -0.4709913351322541, 0.0),
            0.99999,
            ((0.05, 0.4515335267317211), (0.6713124329391407, 0.8722830368722491)),
        ),
        seat_of(0.0, 0.0, 0.0001, 90.0, 21.05279852933597),
        2.0,
        np.arange(346.35, 358.0, 1.5),
    ),
    "4.8 s, a bend by the edge": (
        Recipe(
            circle(7912.325570707775, 0.5, -10.392137669570552, 1.1),
            0.0,
            ((1.0 / 3.0, 0.5516343926316832), (0.576700387361035, 0.619997402126631)),
        ),
        seat_of(0.0, -0.57, 7.854728525409023, 90.0, 30.0),
        6.0,
        np.arange(200.1, 211.0, 1.0),
    ),
    "9 s, a part that bends between two samples": (
        Recipe(
            circle(8129.666183036629, 181.0, 0.6255713200079214, -33.86019043171711), 1.062620511987572, ()
        ),
        seat_of(0.0, 0.0, 2.78696319034312, 75.0, 10.0),
        6.0,
        np.arange(212.5, 216.0, 0.5),
    ),
    "2 s, a narrow best by the zenith": (
        Recipe(circle(6889.0, 0.0, -0.07519913171316261, 0.0), 0.0, ()),
        seat_of(0.0, 0.0, 0.0, 90.0, 9.0) | {"travel": 330.0},
        2.0,
        np.arange(221.0, 226.0, 1.0),
    ),
}


@pytest.mark.parametrize("name", FOUND_OUT)
def test_what_draws_once_found_out(name):
    recipe, numbers, rate, zetas = FOUND_OUT[name]
    judge = Judge(passes_of((recipe,)), seat_mount(numbers, rate), beam_of(numbers))
    assert [wrong for zeta in zetas for wrong in judge.disagreements(float(zeta))] == []


def mount_of(travel_deg: float, highest_deg: float, **axis: float) -> Mount:
    return Mount.model_validate(
        {
            "azimuth": {"travel_deg": travel_deg, "guard_deg": 3.0, **axis},
            "elevation": {"maximum_deg": highest_deg, **axis},
        }
    )


@pytest.mark.parametrize(("travel_deg", "highest_deg"), [(450.0, 180.0), (360.0, 180.0), (360.0, 90.0)])
def test_real_passes_at_random_bearings(travel_deg, highest_deg):
    judge = Judge(real_passes()[::4], mount_of(travel_deg, highest_deg), (Antenna(beamwidth_deg=30.0),))
    rng = np.random.default_rng(41)
    zetas = rng.uniform(0.0, 360.0, 8)
    assert [wrong for zeta in zetas for wrong in judge.disagreements(float(zeta))] == []


@cache
def small() -> tuple[tuple[MountTrack, ...], Mount, tuple[Antenna, ...]]:
    mount = mount_of(360.0, 90.0)
    return mount_tracks(real_passes()[:6], mount.tilt), mount, (Antenna(beamwidth_deg=20.0),)


def test_closed_arcs_hold_at_their_very_ends():
    tracks, mount, antennas = small()
    table = seat_table(tracks, Station(mount, antennas))
    for index in range(len(tracks)):
        start, width = (
            float(v[index]) for v in (table.clear["upright"].start_deg, table.clear["upright"].width_deg)
        )
        for zeta, outward in ((start, -1.0), (start + width, 1.0)):
            assert verdicts_at(table, zeta).clear[index]
            assert verdicts_at(table, zeta).lost_s[index] == 0.0
            assert not verdicts_at(table, zeta + 1e-5 * outward).clear[index]


def same(a: SeatTable, b: SeatTable) -> bool:
    return np.array_equal(a.key, b.key) and np.array_equal(a.losses_s, b.losses_s)


def test_the_table_is_the_same_wherever_the_mount_is_seated():
    tracks, mount, antennas = small()
    table = seat_table(tracks, Station(mount, antennas))
    assert same(table, seat_table(tracks, Station(seated(mount, 217.0, mount.index_hole), antennas)))
    assert not same(table, seat_table(tracks, Station(mount_of(365.0, 90.0), antennas)))


def test_a_pass_has_the_same_losses_in_any_company():
    tracks, mount, antennas = small()
    zetas = np.arange(0.0, 360.0, 7.3)
    together = seat_table(tracks, Station(mount, antennas)).losses_at(zetas)
    for index, track in enumerate(tracks):
        alone = seat_table((track,), Station(mount, antennas)).losses_at(zetas)
        assert alone[:, :, 0] == pytest.approx(together[:, :, index], abs=1e-6)


@pytest.mark.parametrize("measured", [{}, MEASURED])
def test_many_bearings_are_decided_as_each_by_all_its_losses(measured):
    tracks, _mount, antennas = small()
    told = {"azimuth": {"travel_deg": 300.0, **measured}, "elevation": {"maximum_deg": 60.0, **measured}}
    table = seat_table(tracks, Station(Mount.model_validate(told), antennas))
    zetas = np.random.default_rng(2).uniform(0.0, 360.0, 90)
    code, lost_s = table.decided_at(zetas)
    wanted, wanted_s = decide(table.losses_at(zetas), table.seconds_in_all)
    assert (code.tolist(), lost_s.tolist()) == (wanted.tolist(), wanted_s.tolist())
    assert len(set(code.ravel().tolist())) > 2


def test_the_last_bearing_before_north_is_that_of_north():
    tracks, mount, antennas = small()
    table = seat_table(tracks, Station(mount, antennas))
    for zeta in (np.nextafter(360.0, 0.0), -1e-14, 360.0, 720.0):
        seen, north = verdicts_at(table, float(zeta)), verdicts_at(table, 0.0)
        assert seen.verdict_code.tolist() == north.verdict_code.tolist()
        assert seen.lost_s == pytest.approx(north.lost_s, abs=1.0)


def test_up_to_its_last_bearing_a_pass_loses_what_lies_between_two_samples():
    tracks, mount, antennas = small()
    uneven = 0
    for track in tracks:
        table = seat_table((track,), Station(mount, antennas))
        before, low, high = table.key[-3:]
        middle = table.losses_s[:, -2:].mean(axis=1)
        if high - low > 0.01:
            assert table.losses_at(np.array([(low + high) / 2.0]))[:, 0, 0] == pytest.approx(middle, abs=1e-6)
            slopes = np.diff(table.losses_s[:, -3:], axis=1) / [low - before, high - low]
            uneven += bool(np.abs(np.diff(slopes, axis=1)).max() > 1e-3)
    assert uneven


def test_no_passes_make_an_empty_table():
    _tracks, mount, antennas = small()
    assert verdicts_at(seat_table((), Station(mount, antennas)), 10.0).verdict_code.size == 0


def stopping_after(calls: int) -> tuple[Callable[[int, int, str], bool], list[Any]]:
    made: list[Any] = []

    def progress(*told: Any) -> bool:
        made.append(told)
        return len(made) <= calls

    return progress, made


def test_it_can_be_cancelled_at_every_call_of_progress():
    tracks, mount, antennas = small()
    progress, made = stopping_after(10_000)
    seat_table(tracks, Station(mount, antennas), progress=progress)
    assert len(made) > 2 * len(tracks)
    assert [told[0] for told in made] == sorted(told[0] for told in made)
    for calls in range(0, len(made), 3):
        with pytest.raises(Cancelled):
            seat_table(tracks, Station(mount, antennas), progress=stopping_after(calls)[0])
