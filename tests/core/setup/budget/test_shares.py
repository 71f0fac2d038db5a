"""Which term rules: shares of the mean square before the sighting."""

from __future__ import annotations

import pytest

from core.setup.budget.budget import pointing_budget
from core.setup.budget.shares import LEAST_SHARE, shares_of
from core.setup.budget.terms.term import Absorbed
from tests.core.setup.budget.made import station, worked

FIT = Absorbed(0.5, 0.5)


def shares(absorbed=None):
    (one,) = shares_of(pointing_budget(station(), [worked(60.0)], absorbed=absorbed, draws=2))
    return one


def test_before_the_sighting_they_make_up_the_whole():
    one = shares()
    assert sum(share.before for share in one.shares) == pytest.approx(1.0)
    assert all(share.after is None for share in one.shares)
    assert one.after_deg is None
    assert one.improve_first == ("step lag",)
    assert one.shares[0].name == "step lag"


def test_after_it_they_are_measured_by_what_was_before():
    one = shares(FIT)
    assert sum(share.before or 0.0 for share in one.shares) == pytest.approx(1.0)
    left = sum(share.after or 0.0 for share in one.shares)
    assert left == pytest.approx((one.after_deg / one.before_deg) ** 2)
    by_name = {share.name: share for share in one.shares}
    assert by_name["north"].after is None
    assert by_name["azimuth by the sightings"].before is None
    after = [share.after or 0.0 for share in one.shares[:-1]]
    assert after == sorted(after, reverse=True)


def test_small_terms_are_told_together():
    one = shares(FIT)
    *large, small = one.shares
    assert small.name.endswith("small terms")
    assert all(max(share.before or 0.0, share.after or 0.0) >= LEAST_SHARE for share in large)
    assert not small.fixed or "element age" not in {share.name for share in large}


def test_without_passes_there_is_nothing_to_share():
    assert shares_of(pointing_budget(station(), [], absorbed=FIT)) == ()
