from __future__ import annotations

import pickle

import pytest

from core.base.errors import (
    Cancelled,
    ElementsError,
    FileProblem,
    NorthkeyError,
    PlanError,
    PropagationError,
    SolidError,
    ValueRangeError,
)

ERRORS = (
    ElementsError("a.tle", "line 3", "checksum", "is 4, the line adds up to 7"),
    PropagationError("EMBER-3", 900003, "decayed before 2026-11-27T18:00:00.000Z"),
    ValueRangeError("latitude_deg", 91.0, "-90 to 90"),
    FileProblem("x.pdf", "", "is there already"),
    PlanError("x.json", "mount.azimuth", "is missing"),
    SolidError("0123abcd"),
    Cancelled(),
)


@pytest.mark.parametrize("error", ERRORS, ids=lambda error: type(error).__name__)
def test_errors_carry_their_facts_through_pickle(error: NorthkeyError) -> None:
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is type(error)
    assert str(again) == str(error)
    assert vars(again) == vars(error)


@pytest.mark.parametrize("error", ERRORS, ids=lambda error: type(error).__name__)
def test_errors_read_as_one_line(error: NorthkeyError) -> None:
    assert str(error)
    assert "\n" not in str(error)
