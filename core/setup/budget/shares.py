"""Which term rules: each one's share of an antenna's mean square over the evening, before and after."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.words import counted
from core.setup.budget.answer import AntennaBudget, PointingBudget
from core.setup.budget.terms.term import FIXED

#: Terms below this share, both before and after, are told together.
LEAST_SHARE = 0.01


@dataclass(frozen=True)
class Share:
    """A term, or the small ones together, before and after the sighting.

    Attributes:
        name: the term's.
        fixed: the same all evening.
        before, after: of the antenna's mean square before the sighting, 0 to 1; None where there is no such
            term then, and after where there was no sighting.
        before_deg, after_deg: its root mean square on the sky; None likewise.
    """

    name: str
    fixed: bool
    before: float | None
    after: float | None
    before_deg: float | None
    after_deg: float | None


@dataclass(frozen=True)
class AntennaShares:
    """An antenna's terms, the greatest that is left first, the small ones together last.

    Attributes:
        antenna: its name.
        before_deg, after_deg: all terms; None after where there was no sighting.
        improve_first: of the terms that hold now.
        shares: of the mean square before the sighting.
    """

    antenna: str
    before_deg: float
    after_deg: float | None
    improve_first: tuple[str, ...]
    shares: tuple[Share, ...]


def shares_of(budget: PointingBudget) -> tuple[AntennaShares, ...]:
    """Both states of every antenna, measured by its mean square before the sighting."""
    after = (None,) * len(budget.before.antennas) if budget.after is None else budget.after.antennas
    return tuple(_of_antenna(one, then) for one, then in zip(budget.before.antennas, after, strict=True))


def _of_antenna(before: AntennaBudget, after: AntennaBudget | None) -> AntennaShares:
    total = before.figures.rss_deg**2
    old = {term.name: term for term in before.figures.terms}
    new = {} if after is None else {term.name: term for term in after.figures.terms}
    told = []
    for name, term in (old | new).items():
        degrees = [state[name].deg if name in state else None for state in (old, new)]
        parts = [None if one is None else (one**2 / total if total else 0.0) for one in degrees]
        told.append(Share(name, term.kind == FIXED, *parts, *degrees))
    told.sort(key=lambda one: (-_now(one, after is not None), -(one.before or 0.0)))
    large = [one for one in told if max(one.before or 0.0, one.after or 0.0) >= LEAST_SHARE]
    small = [one for one in told if one not in large and max(one.before or 0.0, one.after or 0.0) > 0.0]
    now = (before if after is None else after).figures
    return AntennaShares(
        antenna=before.antenna,
        before_deg=before.figures.rss_deg,
        after_deg=None if after is None else after.figures.rss_deg,
        improve_first=(now.improve_first, *now.ties) if now.improve_first else (),
        shares=(*large, *_together(small, after is not None)),
    )


def _now(one: Share, sighted: bool) -> float:
    return (one.after if sighted else one.before) or 0.0


def _together(small: list[Share], sighted: bool) -> tuple[Share, ...]:
    """The small ones as one; they count as fixed where all are."""
    if len(small) < 2:
        return tuple(small)
    before = sum(one.before or 0.0 for one in small)
    after = sum(one.after or 0.0 for one in small) if sighted else None
    squares = [sum((getattr(one, name) or 0.0) ** 2 for one in small) for name in ("before_deg", "after_deg")]
    return (
        Share(
            counted(len(small), "small term"),
            all(one.fixed for one in small),
            before,
            after,
            squares[0] ** 0.5,
            squares[1] ** 0.5 if sighted else None,
        ),
    )
