"""What a contact says of itself where it works a pass otherwise than the verdict does."""

from __future__ import annotations

import importlib.resources

import numpy as np
import pytest

from core.base.times import span_words
from core.mount.check.reasons import reasons_for
from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.evening.joining import AxisAngles
from core.mount.evening.order.contacts import ContactSpan, contact_of, with_moves
from core.mount.evening.order.options import options_of
from core.mount.evening.order.rules import EveningRules, MountStart, Wanted
from core.mount.model.results import Topic
from core.mount.model.station import OVER_THE_TOP, Antenna, AzimuthAxis, Mount, Station
from core.plan.storage import plan_from_text
from tests.core.mount.check.test_splits import LATE, swing
from tests.core.mount.evening.order.evenings import a_pass
from tests.lasting import result_of

STATION = Station(LATE, (Antenna(),))


def topics(reason) -> list[Topic]:
    return [one.topic for one in reason.sentences]


def test_the_side_of_a_split_that_is_worked_is_told_in_place_of_the_split():
    passes = (swing(),)
    tracks = mount_tracks(passes, LATE.tilt)
    checks = check_passes(passes, tracks, STATION)
    (reason,) = reasons_for(checks, tracks, STATION)
    assert topics(reason) == [Topic.CROSSING, Topic.DONE, Topic.CURE]
    options = options_of(checks, tracks, STATION, (Wanted(0, 1.0),), 60.0, True)
    split = next(one for one in options if one.way is None)
    assert checks[0].split is not None
    leaves = int(np.searchsorted(split.utc_s, checks[0].split.start_utc_s, side="right")) - 1
    whole = contact_of(
        ContactSpan(split, 0, split.utc_s.size - 1), checks[0], reason, tracks[0], STATION, picked=True
    )
    side = contact_of(ContactSpan(split, 0, leaves), checks[0], reason, tracks[0], STATION, picked=True)
    assert whole.reason == reason
    assert topics(side.reason) == [Topic.DONE, Topic.REST, Topic.CROSSING, Topic.CURE]
    assert side.reason.text.startswith("Worked in part, upright, from ")
    assert "Split by" not in side.reason.text
    assert side.reason.cure == reason.cure
    assert side.reason.sentences[2:] == (reason.sentences[0], reason.sentences[2])
    assert side.end_utc_s == pytest.approx(split.utc_s[leaves])


def test_who_joins_in_the_middle_of_a_splits_move_is_not_told_to_leave_for_it():
    """The moment to leave lies before the contact: the mount was elsewhere then."""
    passes = (swing(),)
    tracks = mount_tracks(passes, LATE.tilt)
    checks = check_passes(passes, tracks, STATION)
    (reason,) = reasons_for(checks, tracks, STATION)
    (option,) = (
        one for one in options_of(checks, tracks, STATION, (Wanted(0, 1.0),), 60.0, True) if one.way is None
    )
    split = checks[0].split
    assert split is not None
    joins = int(np.searchsorted(option.utc_s, split.end_utc_s - 1e-3)) - 1
    last = option.utc_s.size - 1
    assert split.start_utc_s < option.utc_s[joins] < split.end_utc_s
    late = contact_of(ContactSpan(option, joins, last), checks[0], reason, tracks[0], STATION, picked=True)
    assert late.check.split is None
    assert late.check.pointing is not None
    assert not late.check.pointing.moving.any()
    assert "leave it at" not in late.reason.text
    assert late.check.part is not None
    assert late.check.part.turn == split.to_turn
    assert late.start_utc_s == late.check.part.start_utc_s == pytest.approx(option.utc_s[joins])


@pytest.fixture(scope="module")
def resting():
    """A pass that its way holds by resting at the end of it: option, check, reason, track, station."""
    mount = Mount(azimuth=AzimuthAxis(travel_deg=360.0))
    passes = (a_pass(70_001, 0.0, 40.0),)
    for keyway_deg in range(0, 360, 4):
        seated = mount.model_copy(update={"keyway_bearing_deg": float(keyway_deg)})
        station = Station(seated, (Antenna(),))
        tracks = mount_tracks(passes, seated.tilt)
        (check,) = check_passes(passes, tracks, station)
        way = check.chosen
        if way is None or way.rest is None or way.rest.start_utc_s < check.pass_.aos.utc_s + 60.0:
            continue
        (reason,) = reasons_for((check,), tracks, station)
        options = options_of((check,), tracks, station, (Wanted(0, 1.0),), 60.0, True)
        option = next(one for one in options if one.way == (way.posture, way.turn))
        return option, check, reason, tracks[0], station
    raise AssertionError("no seat rests at the end")


def test_a_rest_outside_the_contact_is_no_rest_of_it(resting):
    option, check, reason, track, station = resting
    rest = check.chosen.rest
    last = int(np.searchsorted(option.utc_s, rest.start_utc_s)) - 2
    cut = contact_of(ContactSpan(option, 0, last), check, reason, track, station, picked=True)
    assert cut.end_utc_s < rest.start_utc_s
    assert check.resting
    assert not cut.check.resting
    assert cut.check.verdict_words == check.verdict
    assert cut.check.chosen.rest is None
    assert cut.check.chosen in cut.check.ways
    assert "Rests at" in reason.text
    assert "Rests at" not in cut.reason.text
    assert f"It keeps {cut.check.chosen.margin_deg:.1f} deg off the guards." in cut.reason.text


def test_the_rest_of_a_contact_ends_with_it(resting):
    option, check, reason, track, station = resting
    rest = check.chosen.rest
    middle = (rest.start_utc_s + rest.end_utc_s) / 2.0
    last = int(np.searchsorted(option.utc_s, middle))
    cut = contact_of(ContactSpan(option, 0, last), check, reason, track, station, picked=True)
    told = cut.check.chosen.rest
    assert cut.check.resting
    assert (told.start_utc_s, told.end_utc_s) == (rest.start_utc_s, cut.end_utc_s)
    assert told.seconds == pytest.approx(told.end_utc_s - told.start_utc_s, abs=1.0)
    assert told.overrun_deg < rest.overrun_deg
    assert span_words(rest.start_utc_s, cut.end_utc_s) in cut.reason.text


def test_a_part_tells_the_way_it_is_worked_in_and_where_it_is_held(demo_contacts):
    parts = [contact for contact in demo_contacts if contact.check.part is not None]
    assert parts
    for contact in parts:
        told = {one.topic: one.text for one in contact.reason.sentences}
        assert f", {contact.check.part.posture}, " in told[Topic.DONE]
        over = contact.check.part.posture == OVER_THE_TOP
        if Topic.CROSSING in told:
            assert told[Topic.CROSSING].startswith("Over the top") == over
        pointing = contact.check.pointing
        held = pointing.off_deg[pointing.worked]
        assert float(held.max()) < 0.5 or f"at most {held.max():.1f} deg off" in told[Topic.REST]


@pytest.fixture(scope="module")
def demo_contacts():
    path = importlib.resources.files("resources").joinpath("demo", "larch_ridge.northkey.json")
    return result_of(plan_from_text(path.read_text(encoding="utf-8"))).order.contacts


def test_without_contacts_there_is_no_move_wherever_the_mount_stands() -> None:
    start = MountStart(AxisAngles(100.0, 20.0), 1_700_000_000.0)
    assert with_moves([], [], Mount(), EveningRules(), start) == []
    assert with_moves([], [], Mount(), EveningRules(), None) == []
