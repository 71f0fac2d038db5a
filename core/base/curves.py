"""Roots in brackets, halved brackets, and cubics through two ends: arithmetic that many rooms share."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from core.base.angles import Flags, Floats, Indices

#: Far more rounds than halving a bracket down to rounding takes.
_MOST_ROUNDS = 120
#: Corrections of a guess before its bracket is taken instead.
_NEWTON_STEPS = 6
#: A correction of so many tolerances is the last one: what it leaves is about its square.
_LAST_STEP = 100.0
#: Newton's steps to a guess of a cubic's root: some come in from the far side of a turn.
_GUESSING_STEPS = 4
#: Places in a cubic's interval are bracketed to this share of it where Newton's steps do not do.
_SHARE_TOLERANCE = 1e-7


def find_roots(function: Callable[[Floats], Floats], low: Floats, high: Floats, tolerance: float) -> Floats:
    """One root of ``function`` in each bracket [low, high], all (N,), at whose ends its signs differ.

    Inverse quadratic steps where they can be trusted, halvings elsewhere: T. R. Chandrupatla, Advances in
    Engineering Software 28 (1997) 145-149.

    Args:
        function: takes (N,) and gives (N,), element by element.
        low: lower ends of the brackets.
        high: upper ends.
        tolerance: width of the bracket at which to stop.
    """
    x1, x2 = low.astype(float), high.astype(float)
    if x1.size == 0:
        return x1
    f1, f2 = function(x1), function(x2)
    share = np.full_like(x1, 0.5)
    for _ in range(_MOST_ROUNDS):
        x = x1 + share * (x2 - x1)
        f = function(x)
        same = np.sign(f) == np.sign(f1)
        x3, f3 = np.where(same, x1, x2), np.where(same, f1, f2)
        x2, f2 = np.where(same, x2, x1), np.where(same, f2, f1)
        x1, f1 = x, f
        width = np.abs(x2 - x1)
        if np.all((width <= tolerance) | (f1 == 0.0) | (f2 == 0.0)):
            break
        share = _next_share((x1, x2, x3), (f1, f2, f3))
        least = np.minimum(0.5, 0.5 * tolerance / np.maximum(width, tolerance))
        share = np.minimum(np.maximum(share, least), 1.0 - least)
    return np.where(np.abs(f1) < np.abs(f2), x1, x2)


def corrected_roots(
    function: Callable[[Indices, Floats], tuple[Floats, Floats]],
    guess: Floats,
    low: Floats,
    high: Floats,
    tolerance: float,
) -> Floats:
    """As `find_roots`, from a good guess (N,) in each bracket: Newton's steps, bracketing where they stray.

    Args:
        function: takes indices of brackets and a place in each, and gives values and slopes there.
        guess: where to begin, inside the brackets.
        low, high, tolerance: as in `find_roots`.
    """
    x, asking = guess.astype(float), np.arange(guess.size)
    for _ in range(_NEWTON_STEPS):
        value, slope = function(asking, x[asking])
        step = -value / np.where(slope == 0.0, np.nan, slope)
        x[asking] += np.where(np.isfinite(step), step, 0.0)
        asking = asking[~(np.abs(step) <= _LAST_STEP * tolerance)]
        if not asking.size:
            break
    stray = (x < low - tolerance) | (x > high + tolerance)
    stray[asking] = True
    astray = np.flatnonzero(stray)
    x = np.asarray(np.minimum(np.maximum(x, low), high))
    if astray.size:
        x[astray] = find_roots(lambda at: function(astray, at)[0], low[astray], high[astray], tolerance)
    return x


def cubic_roots(width: Floats, low: Floats, high: Floats, slope_low: Floats, slope_high: Floats) -> Floats:
    """Where in their intervals, as a share 0 to 1, the cubics of `hermite_values` are zero, all (N,).

    Values at both ends of an interval are to differ in sign; so one root is given of each.
    """
    powers = _powers(width, low, high, slope_low, slope_high)

    def at(which: Indices, share: Floats) -> tuple[Floats, Floats]:
        return _cubic_at(share, low[which], *(power[which] for power in powers))

    guess = _stepped(_straight_roots(low, high), low, powers, 1)
    return corrected_roots(at, guess, np.zeros(width.size), np.ones(width.size), _SHARE_TOLERANCE)


def near_cubic_roots(
    width: Floats, low: Floats, high: Floats, slope_low: Floats, slope_high: Floats
) -> Floats:
    """Where `cubic_roots` probably are, for a guess: some of Newton's steps, whether they settle or not."""
    powers = _powers(width, low, high, slope_low, slope_high)
    return _stepped(_straight_roots(low, high), low, powers, _GUESSING_STEPS)


def _straight_roots(low: Floats, high: Floats) -> Floats:
    """Where the straight lines between both ends are zero, as a share 0 to 1."""
    return np.clip(low / np.where(low == high, np.inf, low - high), 0.0, 1.0)


def _stepped(share: Floats, low: Floats, powers: tuple[Floats, Floats, Floats], steps: int) -> Floats:
    """Shares (N,) after so many of Newton's steps towards the roots of cubics, within 0 to 1."""
    for _ in range(steps):
        value, slope = _cubic_at(share, low, *powers)
        share = np.clip(share - value / np.where(slope == 0.0, np.inf, slope), 0.0, 1.0)
    return share


def _cubic_at(
    share: Floats, low: Floats, first: Floats, square: Floats, cube: Floats
) -> tuple[Floats, Floats]:
    """Values and slopes of cubics (N,) at a share of each."""
    bent = square + share * cube
    return low + share * (first + share * bent), first + share * (bent + bent + share * cube)


def _next_share(x: tuple[Floats, Floats, Floats], f: tuple[Floats, Floats, Floats]) -> Floats:
    """Where in the bracket, as a share of the way from x1 to x2, to look next."""
    (x1, x2, x3), (f1, f2, f3) = x, f
    with np.errstate(divide="ignore", invalid="ignore"):
        xi, phi = (x1 - x2) / (x3 - x2), (f1 - f2) / (f3 - f2)
        trusted = (phi**2 < xi) & ((1.0 - phi) ** 2 < 1.0 - xi)
        curved = f1 / (f2 - f1) * f3 / (f2 - f3) + (x3 - x1) / (x2 - x1) * f1 / (f3 - f1) * f2 / (f3 - f2)
    return np.where(trusted & np.isfinite(curved), curved, 0.5)


def halve_bracket(
    bad: float, good: float, is_good: Callable[[float], bool], rounds: int
) -> tuple[float, float]:
    """The bracket between a value that will not do and one that will, halved so many times.

    Args:
        bad: taken as not good; it may lie on either side of ``good``.
        good: taken as good; neither end is tried.
        is_good: asked for the middle of every bracket.
        rounds: the bracket shrinks to 2^-rounds of its width, until rounding ends that.

    Returns:
        The last value found bad (or ``bad``) and the last one found good (or ``good``).
    """
    for _ in range(rounds):
        middle = (bad + good) / 2.0
        bad, good = (bad, middle) if is_good(middle) else (middle, good)
    return bad, good


def halve_brackets(
    bad: Floats,
    good: Floats,
    is_good: Callable[[Floats], Flags],
    rounds: int = _MOST_ROUNDS,
    tolerance: float = 0.0,
) -> tuple[Floats, Floats]:
    """As `halve_bracket`, for columns (N,) at once, stopping also when no bracket is wider than a tolerance.

    Args:
        bad: (N,) one end of each bracket.
        good: (N,) the other end.
        is_good: takes (N,) and gives (N,), element by element.
        rounds: halvings at most.
        tolerance: width to stop at, in the unit of the brackets.
    """
    for _ in range(rounds):
        if not np.any(np.abs(good - bad) > tolerance):
            break
        middle = (bad + good) / 2.0
        will_do = is_good(middle)
        bad, good = np.where(will_do, bad, middle), np.where(will_do, middle, good)
    return bad, good


def hermite_values(
    shares: Floats, width: Floats, low: Floats, high: Floats, slope_low: Floats, slope_high: Floats
) -> Floats:
    """Values (N, K) of cubics with given values and slopes at both ends of their intervals.

    Args:
        shares: (K,) where in the intervals, 0 to 1.
        width: (N,) of each interval, in the unit the slopes are taken by.
        low: value at the lower end.
        high: value at the upper end.
        slope_low: slope at the lower end.
        slope_high: slope at the upper end.
    """
    powers = np.stack([low, *_powers(width, low, high, slope_low, slope_high)], axis=1)
    return np.asarray(powers @ np.stack([np.ones(shares.size), shares, shares**2, shares**3]))


def _powers(
    width: Floats, low: Floats, high: Floats, slope_low: Floats, slope_high: Floats
) -> tuple[Floats, Floats, Floats]:
    """What multiplies the share, its square and its cube."""
    rise, m0, m1 = high - low, width * slope_low, width * slope_high
    return m0, 3.0 * rise - 2.0 * m0 - m1, m0 + m1 - 2.0 * rise


def turns_of_cubic(
    width: Floats, low: Floats, high: Floats, slope_low: Floats, slope_high: Floats
) -> tuple[Indices, Floats]:
    """Tops and bottoms of the cubics of `hermite_values`, all (N,), strictly inside their intervals.

    Returns:
        Which cubic, and where in its interval as a share, (E,) each.
    """
    rise, m0, m1 = high - low, width * slope_low, width * slope_high
    a, b = 3.0 * (m0 + m1 - 2.0 * rise), 2.0 * (3.0 * rise - 2.0 * m0 - m1)
    with np.errstate(divide="ignore", invalid="ignore"):
        q = -0.5 * (b + np.copysign(np.sqrt(b * b - 4.0 * a * m0), b))
        shares = np.stack([q / a, m0 / q], axis=1)
        which, root = np.nonzero((shares > 0.0) & (shares < 1.0))
    return which, shares[which, root]
