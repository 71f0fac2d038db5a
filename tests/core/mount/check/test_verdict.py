from __future__ import annotations

from dataclasses import replace
from unittest.mock import patch

import numpy as np
import pytest

from core.mount.check.verdict import check_pass, decide
from core.mount.check.ways import pointed_ways
from core.mount.drive.tracks import mount_track
from core.mount.model.results import VERDICTS
from core.mount.model.station import Antenna, Mount, Station, Tilt
from tests.oracles.pass_maker import build, low_orbit

SECONDS = 600.0


@pytest.mark.parametrize(
    ("losses", "word"),
    [
        ((0.0, 0.0, 0.0, 0.0), "upright"),
        ((5.0, 0.0, 0.0, 0.0), "upright"),
        ((5.1, 0.0, 50.0, 90.0), "over the top"),
        ((8.9, 4.0, 50.0, 90.0), "upright"),
        ((9.1, 4.0, 50.0, 90.0), "over the top"),
        ((4.0, 8.0, 50.0, 90.0), "upright"),
        ((np.inf, np.inf, 50.0, 90.0), "split"),
        ((np.inf, np.inf, 85.0, 90.0), "part"),
        ((np.inf, np.inf, 84.9, 90.0), "split"),
        ((12.0, np.inf, 5.0, 8.0), "upright"),
        ((14.0, np.inf, 3.0, 8.0), "part"),
        ((np.inf, np.inf, np.inf, 450.0), "part"),
        ((np.inf, np.inf, np.inf, 450.1), "out of reach"),
        ((np.inf, np.inf, np.inf, np.inf), "out of reach"),
    ],
)
def test_the_first_within_five_seconds_of_the_least_wins(losses: tuple[float, ...], word: str) -> None:
    """A split must gain more than 5 s on staying in one way; a quarter on the beam at least."""
    code, lost = decide(np.array(losses)[:, None], SECONDS)
    assert VERDICTS[code[0]] == word
    assert lost[0] == (SECONDS if word == "out of reach" else losses[code[0]])
    alone, lost_alone = decide(np.array(losses), SECONDS)
    assert (alone, lost_alone) == (code[0], lost[0])


def test_a_short_pass_that_is_held_is_in_reach_whatever_it_loses() -> None:
    """Of 5 s all but one are lost, which is less than a quarter kept: but the posture loses 5 s at most."""
    code, lost = decide(np.array([np.inf, 4.0, 4.5, 4.0]), 5.0)
    assert VERDICTS[code] == "over the top"
    assert lost == 4.0


@pytest.mark.parametrize(
    ("upright_s", "over_s", "word"),
    [(4.9, 0.0, "upright"), (8.9, 4.0, "upright"), (9.1, 4.0, "over the top"), (5.1, 0.0, "over the top")],
)
def test_a_pass_is_judged_by_the_least_and_not_by_the_first_that_loses_little(
    upright_s, over_s, word
) -> None:
    """The ways of a real pass with other seconds lost: what `decide` says of the same figures."""
    pass_ = build(low_orbit(700.0, 60.0, 20.0, 1.0, 47.0), 5.0)
    assert pass_ is not None
    track, station = mount_track(pass_, Tilt()), Station(Mount(), (Antenna(),))
    lost_s = {"upright": upright_s, "over the top": over_s}
    found = [
        (replace(way, seconds_lost=lost_s[way.posture]), pointing)
        for way, pointing in pointed_ways(track, station)
    ]
    assert {way.posture for way, _ in found} == set(lost_s)
    with patch("core.mount.check.verdict.pointed_ways", lambda *_: found):
        assert check_pass(pass_, track, station).verdict == word
    code, _lost = decide(np.array([upright_s, over_s, np.inf, np.inf]), SECONDS)
    assert VERDICTS[code] == word
