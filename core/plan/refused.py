"""What is wrong with a plan, in words: one line of printable text, whatever stands in file or name."""

from __future__ import annotations

from core.base.document_refusals import Refuse, told
from core.base.errors import PlanError


def refusal(file: str, place: str, reason: str) -> PlanError:
    """A plan's refusal, every part of it brought to one line."""
    return PlanError(told(file), told(place), told(reason))


def refusals_of(file: str) -> Refuse:
    """What makes the refusals of one plan file."""
    return lambda place, reason: refusal(file, place, reason)
