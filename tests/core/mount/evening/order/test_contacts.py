"""What a contact says of itself where it works a pass otherwise than the verdict does."""

from __future__ import annotations

import numpy as np
import pytest

from core.mount.check.reasons import reasons_for
from core.mount.check.verdict import check_passes
from core.mount.drive.tracks import mount_tracks
from core.mount.evening.order.contacts import ContactSpan, contact_of
from core.mount.evening.order.options import options_of
from core.mount.evening.order.rules import Wanted
from core.mount.model.results import Topic
from core.mount.model.station import Antenna, Station
from tests.core.mount.check.test_splits import LATE, swing

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
    assert topics(side.reason) == [Topic.DONE, Topic.CROSSING, Topic.CURE]
    assert side.reason.text.startswith("Worked in part, upright, from ")
    assert "Split by" not in side.reason.text
    assert side.reason.cure == reason.cure
    assert side.reason.sentences[1:] == (reason.sentences[0], reason.sentences[2])
    assert side.end_utc_s == pytest.approx(split.utc_s[leaves])
