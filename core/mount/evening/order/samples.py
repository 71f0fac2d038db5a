"""The samples of all options in flat columns, and what contacts from one to another are worth.

Option o has the entries from offsets[o] to offsets[o + 1]. From sample s to t a contact is worth
whole[t] - whole[s], or where it has more than enough signal bonus + spare[t] - spare[s].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.mount.evening.order.options import Option
from core.mount.evening.order.worth import SPARE_SHARE, Ints, Units

#: A contact shorter or longer by less than this is as long.
TIE_S = 1e-6
#: Signal that grows by less between two moments is rounding.
GROWS_S = 1e-6


@dataclass(frozen=True, eq=False)
class Samples:
    """N samples of O options; moments are seconds since ``begin_utc_s``, so that no digit is lost.

    Attributes:
        begin_utc_s: the earliest moment of any.
        offsets: (O + 1,) where each option's samples begin, and where the last ends.
        bonus: (O,) by how much enough seconds are worth more in full than at a tenth, in whole numbers.
        moments_s: (M,) every moment that is any sample's, by time.
        moment: (N,) which of them each sample is at.
        since_s, m_deg, e_deg, over: (N,) the moments, the axes then and the posture.
        whole: (N,) every second of signal counted in full, less what turning costs, since the first sample.
        spare: (N,) every second of signal counted a tenth, less the same.
        may_start, may_end: (N,) bool: signal grows from here on, has grown up to here.
        latest_start: (N,) the latest start that an end there allows; below the option's first where none.
        full_from: (N,) the first start from which a contact to here has no more than enough.
    """

    begin_utc_s: float
    offsets: Indices
    bonus: Ints
    moments_s: Floats
    moment: Indices
    since_s: Floats
    m_deg: Floats
    e_deg: Floats
    over: Flags
    whole: Ints
    spare: Ints
    may_start: Flags
    may_end: Flags
    latest_start: Indices
    full_from: Indices


def samples_of(options: tuple[Option, ...], units: Units) -> Samples:
    """The samples of some options, at least one, time running one way in all of them."""
    sizes = np.array([one.utc_s.size for one in options])
    offsets = np.concatenate([[0], np.cumsum(sizes)])
    of = np.repeat(np.arange(sizes.size), sizes)
    first, last = (np.repeat(one, sizes) for one in (offsets[:-1], offsets[1:] - 1))
    entry = np.arange(of.size)
    utc_s = _flat(options, "utc_s")
    begin_utc_s = float(utc_s.min())
    since_s, over, signal_s = utc_s - begin_utc_s, _flat(options, "over"), _flat(options, "signal_s")
    whole, spare = _worth(options, units, of, first, last, signal_s, over)
    if options[0].backward:
        back = first + last - entry
        whole, spare, signal_s = (sums[last] - sums[back] for sums in (whole, spare, signal_s))
    moments_s = np.sort(since_s)
    moments_s = moments_s[np.append(True, np.diff(moments_s) > 0.0)]
    grows = (np.diff(signal_s) > GROWS_S) & (of[1:] == of[:-1])
    least_s = np.repeat([one.least_s for one in options], sizes)
    place_s, heard_s = (of * (float(v.max()) + 10.0) + v for v in (since_s, signal_s))
    latest = np.searchsorted(place_s, place_s - least_s + TIE_S, side="right") - 1
    enough_s, full_from = units.rules.enough_s, first.copy()
    long_ = np.flatnonzero(signal_s > enough_s)
    full_from[long_] = np.searchsorted(heard_s, heard_s[long_] - enough_s - TIE_S)
    return Samples(
        begin_utc_s=begin_utc_s,
        offsets=offsets,
        bonus=np.array([units.seconds((1.0 - SPARE_SHARE) * one.worth * enough_s) for one in options]),
        moments_s=moments_s,
        moment=np.searchsorted(moments_s, since_s),
        since_s=since_s,
        m_deg=_flat(options, "m_deg"),
        e_deg=_flat(options, "e_deg"),
        over=over,
        whole=whole,
        spare=spare,
        may_start=np.append(grows, False),
        may_end=np.append(False, grows),
        latest_start=np.clip(latest, first - 1, entry - 1),
        full_from=np.maximum(full_from, first),
    )


def _flat(options: tuple[Option, ...], name: str) -> np.ndarray:
    return np.concatenate([getattr(one, name) for one in options])


def _worth(
    options: tuple[Option, ...],
    units: Units,
    of: Indices,
    first: Indices,
    last: Indices,
    signal_s: Floats,
    over: Flags,
) -> tuple[Ints, Ints]:
    """``whole`` and ``spare`` as time runs forward."""
    rules, entry = units.rules, np.arange(of.size)
    posture = over[first + last - entry] if options[0].backward else over
    flips = np.concatenate([[0], np.cumsum(posture[1:] != posture[:-1])])
    turned_deg, clear_deg_s = _flat(options, "turned_deg"), _flat(options, "clear_deg_s")
    cost_s = rules.turn_cost_s * turned_deg / 360.0 + rules.posture_change_cost_s * (flips - flips[first])
    heard_s = np.array([one.worth for one in options])[of] * signal_s
    whole, spare = units.packed(np.multiply.outer([1.0, SPARE_SHARE], heard_s) - cost_s, clear_deg_s)
    return whole, spare
