"""Models that refuse what they do not know, and fold the two zeros into one."""

from __future__ import annotations

import math

import pytest
from pydantic import ValidationError

from core.base.model import Model, Real


class Made(Model):
    """A default that is minus zero."""

    height_m: Real = -0.0


def test_minus_nothing_is_nothing_given_or_by_default():
    assert math.copysign(1.0, Made().height_m) == 1.0
    assert math.copysign(1.0, Made(height_m=-0.0).height_m) == 1.0


def test_unknown_keys_and_changes_are_refused():
    with pytest.raises(ValidationError):
        Made.model_validate({"depth_m": 1.0})
    with pytest.raises(ValidationError):
        Made().height_m = 1.0
