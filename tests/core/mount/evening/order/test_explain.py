"""The sentences: what they name is the best alternative, what they say it costs is what it costs."""

from __future__ import annotations

import re

import numpy as np
import pytest

from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.evening.joining import place_at
from core.mount.evening.order.chains import ChoiceProblem, Solution
from core.mount.evening.order.moves import mover_of
from core.mount.evening.order.options import options_of
from core.mount.evening.order.rules import EveningRules, Wanted
from core.mount.evening.order.solve import solve
from core.mount.evening.order.worth import units_for
from core.mount.model.station import Antenna, AzimuthAxis, ElevationAxis, Mount, Station
from core.passes.track import Pass
from tests.core.mount.evening.order.evenings import Told, a_pass, question_of, told_of

ANTENNAS = (Antenna(beamwidth_deg=20.0),)
NO_RULES = EveningRules()


def a_mount(travel_deg: float = 450.0, keyway_deg: float = 0.0, maximum_deg: float = 90.0) -> Mount:
    return Mount(
        keyway_bearing_deg=keyway_deg,
        azimuth=AzimuthAxis(travel_deg=travel_deg),
        elevation=ElevationAxis(maximum_deg=maximum_deg),
    )


def ordered(
    passes: tuple[Pass, ...],
    mount: Mount,
    wanted: tuple[Wanted, ...] | None = None,
    rules: EveningRules = NO_RULES,
) -> Told:
    return told_of(question_of(passes, Station(mount, ANTENNAS), picks=wanted, rules=rules))


def solved_without(
    passes: tuple[Pass, ...], mount: Mount, refused: dict[int, tuple[str, int] | None]
) -> tuple[Solution, ChoiceProblem]:
    """The evening solved again with a pass only in ways other than the one refused."""
    tracks = mount_tracks(passes, mount.tilt)
    checks = check_passes(passes, tracks, Station(mount, ANTENNAS))
    wanted = tuple(Wanted(i, 1.0) for i in range(len(passes)))
    options = options_of(checks, tracks, Station(mount, ANTENNAS), wanted, 180.0, False)
    left = tuple(
        one for one in options if one.pass_index not in refused or one.way != refused[one.pass_index]
    )
    problem = ChoiceProblem(left, mover_of(mount, NO_RULES), units_for(options, NO_RULES))
    return solve(problem), problem


#: The way taken in one sentence, then the other one with its dial.
OTHER_WAY = re.compile(r"[A-Z][a-z ]+ from dial [^.]*(?:\.\d[^.]*)?\. [A-Z][a-z ]+ from dial ([\d.]*\d)")


def cost_in(sentence: str) -> float:
    found = re.search(r"worth ([\d.]+) s less", sentence)
    assert found is not None, sentence
    return float(found.group(1))


@pytest.mark.parametrize("azimuth_deg", [20.0, 60.0, 75.0, 80.0])
def test_the_cost_of_the_other_way_is_found_again_by_solving_without_this_one(azimuth_deg: float) -> None:
    mount = a_mount()
    passes = (a_pass(1, 0.0, azimuth_deg), a_pass(2, 640.0, 200.0))
    order = ordered(passes, mount)
    said = 0
    for place, (contact, why_so) in enumerate(zip(order.contacts, order.why_so, strict=True)):
        chosen = contact.check.chosen
        assert chosen is not None
        if OTHER_WAY.match(why_so) is None:
            continue
        said += 1
        again, problem = solved_without(passes, mount, {place: (chosen.posture, chosen.turn)})
        lost = order.order.worth.worth_s - again.score.worth * problem.units.worth_s
        assert any(problem.options[one.option].pass_index == place for one in again.contacts)
        if lost > 0.06:
            assert cost_in(why_so) == pytest.approx(lost, abs=0.5)
            other = next(o for o in again.contacts if problem.options[o.option].pass_index == place)
            dial = problem.options[other.option].m_deg[other.first]
            assert float(OTHER_WAY.match(why_so)[1]) == pytest.approx(dial, abs=0.5)  # type: ignore[index]
        else:
            assert "same worth" in why_so
    assert said


def short_way() -> tuple[Pass, ...]:
    """The second pass rises where the first sets, and crosses the stop's bearing."""
    return a_pass(1, 0.0, 200.0), a_pass(2, 700.0, 75.0)


def test_the_stop_that_stands_against_the_short_way_is_named_and_goes_with_more_travel() -> None:
    order = ordered(short_way(), a_mount(450.0, keyway_deg=0.0))
    sentence = order.why_so[1]
    start = place_at(order.contacts[1].check.pointing, order.contacts[1].start_utc_s)  # type: ignore[arg-type]
    assert "meets the counter-clockwise stop at" in sentence
    assert start[0] > 360.0
    # Without the overlap there is but one turn, and nothing was refused.
    narrow = ordered(short_way(), a_mount(360.0, keyway_deg=0.0))
    assert narrow.why_so[1] != sentence
    # The keyway turned away from the track: the stop is not met any more.
    turned = ordered(short_way(), a_mount(450.0, keyway_deg=180.0))
    assert "meets the" not in turned.why_so[1]


def test_a_way_forbidden_is_not_spoken_of() -> None:
    passes = short_way()
    free = ordered(passes, a_mount(450.0))
    chosen = free.contacts[1].check.chosen
    assert chosen is not None
    bound = ordered(passes, a_mount(450.0), (Wanted(0, 1.0), Wanted(1, 1.0, (chosen.posture, chosen.turn))))
    assert bound.contacts[1].check.chosen == chosen
    assert OTHER_WAY.match(free.why_so[1])
    assert not OTHER_WAY.match(bound.why_so[1])


def overlapping() -> tuple[Pass, ...]:
    return a_pass(1, 0.0, 60.0), a_pass(2, 450.0, 250.0)


def test_leaving_early_is_told_with_its_cost_and_grows_with_the_margin() -> None:
    plain = ordered(overlapping(), a_mount())
    first, second = plain.contacts
    assert first.left_early_s + second.joined_late_s > 0.0
    roomy = ordered(overlapping(), a_mount(), rules=EveningRules(move_margin_s=60.0))
    told = [*plain.why_so, *roomy.why_so]
    assert (
        any(f"Left {first.left_early_s:.0f} s early, to catch MADE-2." in one for one in told)
        or first.left_early_s == 0.0
    )
    assert sum(c.left_early_s + c.joined_late_s for c in roomy.contacts) == pytest.approx(
        sum(c.left_early_s + c.joined_late_s for c in plain.contacts) + 60.0, abs=5.0
    )
    assert told[:2] != told[2:]


def test_joining_late_names_the_contact_that_it_comes_after() -> None:
    """The first is worth so much more that it is worked to its end."""
    order = ordered(overlapping(), a_mount(), (Wanted(0, 20.0), Wanted(1, 1.0)))
    first, second = order.contacts
    assert second.joined_late_s > 0.0
    joined = f"Joined {second.joined_late_s:.0f} s late"
    assert f"{joined}, after {first.check.pass_.satellite}." in order.why_so[1]
    assert "Joined" not in order.why_so[0]


def test_a_pass_left_out_names_the_contact_that_takes_its_time_and_the_cost() -> None:
    passes = (a_pass(1, 0.0, 60.0), a_pass(2, 20.0, 250.0, seconds=420.0), a_pass(3, 2000.0, 10.0))
    order = ordered(passes, a_mount())
    check, why = order.left_out[0]
    assert check.pass_.norad_id == 2
    found = re.match(r"overlaps MADE-1; with it the evening is worth ([\d.]+) s less", why)
    assert found is not None, why
    # Worth so much that it is worked whole whatever that costs: the least cost is no more than that.
    forced = ordered(passes, a_mount(), (Wanted(0, 1.0), Wanted(1, 100.0), Wanted(2, 1.0)))
    plain = sum(c.check.seconds_in_all - c.check.seconds_lost for c in forced.contacts)
    assert 5.0 < float(found[1]) < order.order.worth.signal_s - plain
    # A pass that lasts less takes less away.
    sooner = ordered((passes[0], a_pass(2, 200.0, 250.0, seconds=420.0), passes[2]), a_mount())
    assert sooner.left_out == () or sooner.left_out[0][1] != why


def test_a_change_of_satellite_that_costs_more_than_it_brings_is_not_made() -> None:
    passes = (a_pass(1, 0.0, 60.0), a_pass(2, 700.0, 250.0, seconds=260.0))
    assert len(ordered(passes, a_mount()).contacts) == 2
    dear = ordered(passes, a_mount(), rules=EveningRules(change_cost_s=500.0))
    assert [contact.check.pass_.norad_id for contact in dear.contacts] == [1]
    assert "with it the evening is worth" in dear.left_out[0][1]


@pytest.mark.parametrize(
    ("azimuth_deg", "stop"), [(75.0, "counter-clockwise stop"), (200.0, "clockwise stop")]
)
def test_the_moment_named_is_when_the_satellite_crosses_the_guard(azimuth_deg: float, stop: str) -> None:
    pass_ = a_pass(1, 0.0, azimuth_deg)
    sentence = ordered((pass_,), a_mount(450.0)).why_so[0]
    found = re.search(rf"(?:meets|is beyond) the {stop} (?:at|until) (\d\d):(\d\d):(\d\d)", sentence)
    assert found is not None, sentence
    moment = 3600.0 * int(found[1]) + 60.0 * int(found[2]) + int(found[3])
    bearing = np.interp(moment, pass_.utc_s, np.unwrap(pass_.azimuth_deg, period=360.0)) % 360.0
    guard = 3.0 if stop.startswith("counter") else 447.0 - 360.0
    rate = np.abs(np.diff(np.unwrap(pass_.azimuth_deg, period=360.0)) / np.diff(pass_.utc_s)).max()
    # Found on the grid of 5 s.
    assert abs((bearing - guard + 180.0) % 360.0 - 180.0) < 6.0 * rate
