"""Which way the azimuth axis goes, in words."""

from types import SimpleNamespace

import pytest

from core.mount.evening.drawn import drawn_pass
from core.sheet.pass_words import peak_words, turn_words
from tests.core.sheet.samples import MOUNT, Wanted, check_of, pass_of


def _words(word: str, with_times: bool) -> str:
    wanted = Wanted(word, "SWING-1", 0.0, 60.0, 20.0)
    check = check_of(wanted, pass_of(wanted, 44001), MOUNT)
    return turn_words(drawn_pass(check, MOUNT), check, with_times)


def test_every_swing_but_the_last_says_until_when():
    """The pass itself says when the last one ends."""
    once, swings = _words("upright", with_times=True), _words("split", with_times=True).split(", then ")
    assert " to " not in once
    assert len(swings) > 1
    assert [" to " in swing for swing in swings] == [True] * (len(swings) - 1) + [False]
    assert " to " not in _words("split", with_times=False)


@pytest.mark.parametrize(
    ("cut", "tail"),
    [
        (None, " true"),
        ("start", ", cut at the start of the hours"),
        ("end", ", cut at the end of the hours"),
        ("both", ", cut at both ends of the hours"),
    ],
)
def test_a_pass_cut_by_the_hours_says_so(cut, tail):
    pass_ = pass_of(Wanted("upright", "SWING-1", 0.0, 60.0, 20.0), 44001)
    assert peak_words(SimpleNamespace(peak=pass_.peak, cut=cut)).endswith(tail)
