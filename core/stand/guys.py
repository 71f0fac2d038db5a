"""What guys take in a gust.

A guy that is tight takes the wind before the stand's weight does, so the guys are reckoned to take all of the
wind's moment with the margin, as those of a mast hinged at its foot: on the safe side. A guy with tension T,
made fast at height z and pegged at distance p, holds T z p / sqrt(z^2 + p^2) (moments about the foot,
statics), so straight against the wind T = (M / z) sqrt(1 + (z / p)^2). Wind between two guys is held by these
two and the others hang slack: the parts of the moment along two bearings that are not square to each other.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.base.angles import wrap_360
from core.stand.model import StandGuy
from core.stand.wind import GRAVITY_M_S2

#: Guys within this many degrees are in one direction, and gaps within it of a half turn hold nothing.
_SAME_DEG = 1e-6


@dataclass(frozen=True)
class GuyForce:
    """One guy in the gust.

    Attributes:
        from_keyway_deg: where its peg is.
        tension_n: the most that any wind they hold asks of it, with the margin.
        straight_n: of it, with the wind blowing straight away from the peg.
        guy_deg: the guy over the ground.
        peg_angle_deg: the peg over the ground, driven square to the guy: also the guy from the upright.
        holds: it stands the tension; None where nobody said what line and peg hold.
    """

    from_keyway_deg: float
    tension_n: float
    straight_n: float
    guy_deg: float
    peg_angle_deg: float
    holds: bool | None


@dataclass(frozen=True)
class Guys:
    """All guys in the gust.

    Attributes:
        forces: in the order of the plan.
        unheld_deg: (from, to) clockwise from the keyway: winds toward these are held by no guy.
        down_n: the most with which they press the tripod down.
        gust_m_s: the gust, with the margin, at which the first comes to what it holds; None where that is not
            told for all or winds are unheld.
    """

    forces: tuple[GuyForce, ...]
    unheld_deg: tuple[tuple[float, float], ...]
    down_n: float
    gust_m_s: float | None

    @property
    def down_kg(self) -> float:
        """The same as a mass."""
        return self.down_n / GRAVITY_M_S2


def guys_in(guys: Sequence[StandGuy], moment_nm: float, gust_m_s: float) -> Guys:
    """The tensions in a gust.

    Args:
        guys: any number.
        moment_nm: the wind's moment about the ground in the gust, with the margin.
        gust_m_s: that gust.
    """
    order = sorted(range(len(guys)), key=lambda k: guys[k].from_keyway_deg % 360.0)
    gaps = [_gap_deg(guys[k], guys[order[(at + 1) % len(order)]], len(guys)) for at, k in enumerate(order)]
    gaps = _shared(gaps)
    forces: dict[int, GuyForce] = {}
    for at, k in enumerate(order):
        share = max(_share(_beside(gaps, at - 1, -1)), _share(_beside(gaps, at, 1)))
        forces[k] = _force(guys[k], moment_nm * share, moment_nm)
    in_order = tuple(forces[k] for k in range(len(guys)))
    unheld = tuple(_unheld(guys[k], gap) for k, gap in zip(order, gaps, strict=True) if _is_open(gap))
    down = [moment_nm * 1000.0 / guy.peg_radius_mm for guy in guys]
    down += [
        _pressed_n(guys[k], guys[order[(at + 1) % len(order)]], gap, moment_nm)
        for at, (k, gap) in enumerate(zip(order, gaps, strict=True))
        if not _is_open(gap)
    ]
    return Guys(in_order, unheld, max(down, default=0.0), _gust(guys, in_order, unheld, gust_m_s))


def _gap_deg(one: StandGuy, following: StandGuy, number: int) -> float:
    """Clockwise to the next guy; a guy alone has the whole circle beside it."""
    return 360.0 if number == 1 else (following.from_keyway_deg - one.from_keyway_deg) % 360.0


def _shared(gaps: list[float]) -> list[float]:
    """Gaps with guys in one direction made as good as none, 0; where all are in one, the last is a circle."""
    same = [0.0 if gap < _SAME_DEG or gap > 360.0 - _SAME_DEG else gap for gap in gaps]
    if gaps and not any(same):
        same[-1] = 360.0
    return same


def _beside(gaps: list[float], at: int, step: int) -> float:
    """The first gap from here on that is one: either of two guys in one direction may be the tight one."""
    while gaps[at % len(gaps)] == 0.0:
        at += step
    return gaps[at % len(gaps)]


def _is_open(gap_deg: float) -> bool:
    return gap_deg >= 180.0 - _SAME_DEG


def _share(gap_deg: float) -> float:
    """The most of the moment that one of two guys takes, over all winds between them.

    At most 90 deg apart it is the whole, with the wind straight against it, else 1 / sin(gap), with the wind
    square to the other's line. Across a gap that nothing holds, the wind straight against it is all there is.
    """
    if _is_open(gap_deg) or gap_deg <= 90.0:
        return 1.0
    return 1.0 / math.sin(math.radians(gap_deg))


def _force(guy: StandGuy, most_nm: float, straight_nm: float) -> GuyForce:
    height_m, peg_m = guy.height_mm / 1000.0, guy.peg_radius_mm / 1000.0
    per_nm = math.hypot(1.0, height_m / peg_m) / height_m
    tension = most_nm * per_nm
    return GuyForce(
        from_keyway_deg=wrap_360(guy.from_keyway_deg),
        tension_n=tension,
        straight_n=straight_nm * per_nm,
        guy_deg=math.degrees(math.atan2(height_m, peg_m)),
        peg_angle_deg=math.degrees(math.atan2(peg_m, height_m)),
        holds=None if guy.holds_n is None else tension <= guy.holds_n,
    )


def _unheld(guy: StandGuy, gap_deg: float) -> tuple[float, float]:
    """The winds toward which nothing holds: opposite the gap beside a guy, clockwise."""
    start = guy.from_keyway_deg + 180.0
    return wrap_360(start), wrap_360(start + gap_deg)


def _pressed_n(one: StandGuy, other: StandGuy, gap_deg: float, moment_nm: float) -> float:
    """The most that two neighbours press down: T z / sqrt(z^2 + p^2) = (held moment) / p of each, summed.

    Over winds at an angle from the first, the parts are M sin(gap - angle) / sin(gap) and M sin(angle) /
    sin(gap): a sum of sines, greatest where its slope is 0 or at an end.
    """
    first, second = 1000.0 / one.peg_radius_mm, 1000.0 / other.peg_radius_mm
    gap = math.radians(gap_deg)
    if gap == 0.0:
        return moment_nm * max(first, second)
    cosine, sine = first * math.sin(gap), second - first * math.cos(gap)
    at = math.atan2(sine, cosine)
    ends = [first, second]
    if 0.0 < at < gap:
        ends.append(math.hypot(cosine, sine) / math.sin(gap))
    return moment_nm * max(ends)


def _gust(
    guys: Sequence[StandGuy], forces: Sequence[GuyForce], unheld: Sequence[object], gust_m_s: float
) -> float | None:
    """The tension goes with the square of the wind."""
    if not guys or unheld or gust_m_s <= 0.0:
        return None
    shares = [
        guy.holds_n / force.tension_n
        for guy, force in zip(guys, forces, strict=True)
        if guy.holds_n is not None
    ]
    return gust_m_s * math.sqrt(min(shares)) if len(shares) == len(guys) else None
