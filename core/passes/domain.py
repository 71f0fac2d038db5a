"""Where SGP4 speaks of an orbit at all: near the epoch of its elements, and while it still gives their orbit.

Far from the epoch the theory's polynomial for drag runs away and the radius with it, to 1e14 km, without an
error code. So the orbit that a state describes (its osculating semi-major axis, perigee and apogee) is held
to the mean orbit of the elements. What the theory may do to it, and what is refused beyond:

- the oblate Earth swings the semi-major axis by J2 R^2 a^2 / q^3 at most (q: perigee's distance). Drag only
  lowers it, so it may not stand more than 2 % and twice that swing above;
- Sun and Moon trade perigee for apogee at an unchanged axis: apogee may grow to 1.3 times;
- however far drag has brought it down, perigee may not lie below 0.9 times the elements' or the Earth's
  radius, whichever is less.

Beside that, no satellite goes round below 90 km, and none is the Earth's a million km out: elements of such
an orbit are refused before they are asked, and a satellite from the first state below 90 km on.

Measured on 26,830 sets of a public catalogue: none was refused at its epoch, 3 after 14 days, 9 after 30, 43
after 60 and 112 after 92 days, all but one more than 10 % too high; Sun and Moon cost none its place.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from core.base.angles import Flags, Floats, Indices
from core.base.errors import PropagationError
from core.base.units import GM_WGS72_KM3_S2
from core.elements.age import REFUSED_AGE_DAYS, age_days, beyond_age, describe_age
from core.elements.propagator import satrec
from core.passes.frames import dotted

if TYPE_CHECKING:
    from sgp4.api import Satrec

    from core.elements.model import ElementSet
    from core.passes.exact import Orbits

#: The codes, beside SGP4's own, of a state that is no longer of the elements' orbit, and of one too low.
ANOTHER_ORBIT, TOO_LOW = 8, 9
#: Below this nothing completes a revolution (catalogues hold nothing with a mean perigee below 108 km).
LOWEST_KM = 90.0
#: Beyond this the Sun rules (catalogues hold nothing beyond 421,000 km).
_FURTHEST_KM = 1.0e6

#: Shares of the way from the epoch: a polynomial of any degree to the fourth is near nothing at one of them.
_ON_THE_WAY = (0.5, 0.7, 0.85)
_RADIUS_KM, _J2, _FLATTENING = 6378.135, 0.001082616, 1.0 / 298.26
_HIGHER, _SWINGS, _APOGEE, _PERIGEE = 1.02, 2.0, 1.3, 0.9


def followable(
    elements: ElementSet,
    start_utc_s: float,
    maximum_age_days: float,
    orbits_of: Callable[[list[ElementSet]], Orbits],
    no_orbit: str | None = None,
) -> Satrec:
    """The record of a set that may be asked from ``start_utc_s`` on; one too old asks the propagator nothing.

    ``no_orbit``: what `no_orbits` has to say of it.

    Raises:
        PropagationError: its epoch lies further from the start than is allowed, its elements are of no orbit
            round the Earth, SGP4 cannot start from it, or it was asked for in spite of its age and is lost
            before the start.
    """
    age = age_days(elements, start_utc_s)
    reason = beyond_age(age, maximum_age_days) or no_orbit
    if reason is None:
        record = satrec(elements)
        reason = _lost_on_the_way(elements, record, age, orbits_of) if abs(age) > REFUSED_AGE_DAYS else None
    if reason is not None:
        raise PropagationError(elements.name, elements.norad_id, reason)
    return record


def no_orbits(orbits: Orbits) -> dict[int, str]:
    """By the place of each satellite whose elements are of no orbit round the Earth, why they are not."""
    perigee_km = orbits.axis_km * (1.0 - orbits.eccentricity) - _RADIUS_KM
    apogee_km = orbits.axis_km * (1.0 + orbits.eccentricity)
    none = np.flatnonzero(~((perigee_km >= LOWEST_KM) & (apogee_km <= _FURTHEST_KM)))
    return {i: _no_orbit(float(perigee_km[i]), float(apogee_km[i])) for i in none.tolist()}


def _no_orbit(perigee_km: float, apogee_km: float) -> str:
    if perigee_km < LOWEST_KM:
        where = f"{perigee_km:.0f} km high" if perigee_km >= 0.0 else f"{-perigee_km:.0f} km below the ground"
        return f"its elements are of no orbit: perigee {where}, less than {LOWEST_KM:g} km"
    return f"its elements are of no orbit round the Earth: apogee {apogee_km:.2g} km out"


def too_low(position_km: Floats) -> Flags:
    """Whether positions (..., 3) in SGP4's frame lie below 90 km over the oblate Earth."""
    square = dotted(position_km, position_km)
    if square.min(initial=np.inf) >= (_RADIUS_KM + LOWEST_KM) ** 2:
        return np.zeros(square.shape, dtype=bool)
    with np.errstate(all="ignore"):
        ground_km = _RADIUS_KM * (1.0 - _FLATTENING * position_km[..., 2] ** 2 / square)
        return np.asarray(square < (ground_km + LOWEST_KM) ** 2)


def _lost_on_the_way(
    elements: ElementSet, record: Satrec, age: float, orbits_of: Callable[[list[ElementSet]], Orbits]
) -> str | None:
    """Why a set cannot be followed over so many days from its epoch; None where it can.

    Drag's polynomial takes all of an orbit and then gives it back: at one moment it is the right size again.
    """
    orbits, (day, fraction) = orbits_of([elements]), elements.epoch_jd
    for share in _ON_THE_WAY:
        code, *state = record.sgp4(day, fraction + share * age)
        position, velocity = (np.array([[part]], dtype=float) for part in state)
        if code or not resembles(orbits, position, velocity)[0, 0]:
            return f"SGP4 cannot follow it so far: its orbit is lost at {describe_age(share * age)}"
    return None


def resembles(orbits: Orbits, position_km: Floats, velocity_km_s: Floats) -> Flags:
    """Whether states are still of the orbits of the elements.

    Args:
        orbits: of satellites (n,).
        position_km, velocity_km_s: (n, m, 3) in SGP4's own frame.

    Returns:
        (n, m).
    """
    axis0, e0 = orbits.axis_km[:, None], orbits.eccentricity[:, None]
    perigee0, apogee0 = axis0 * (1.0 - e0), axis0 * (1.0 + e0)
    swing = _J2 * _RADIUS_KM**2 * axis0**2 / np.maximum(perigee0, _RADIUS_KM) ** 3
    with np.errstate(all="ignore"):
        square = np.einsum("nmk,nmk->nm", position_km, position_km)
        speed = np.einsum("nmk,nmk->nm", velocity_km_s, velocity_km_s)
        along = np.einsum("nmk,nmk->nm", position_km, velocity_km_s)
        axis = 1.0 / (2.0 / np.sqrt(square) - speed / GM_WGS72_KM3_S2)
        momentum = (square * speed - along**2) / GM_WGS72_KM3_S2
        e = np.sqrt(np.maximum(1.0 - momentum / axis, 0.0))
        # A state that is no number fails every comparison, and an open orbit has a negative axis.
        return np.asarray(
            (axis <= _HIGHER * axis0 + _SWINGS * swing)
            & (axis > 0.0)
            & (axis * (1.0 + e) <= _APOGEE * apogee0 + _SWINGS * swing)
            & (axis * (1.0 - e) >= _PERIGEE * np.minimum(perigee0, _RADIUS_KM))
        )


def with_other_orbits(orbits: Orbits, code: Indices, position_km: Floats, velocity_km_s: Floats) -> Indices:
    """SGP4's codes (n, m) of a block of states, ``ANOTHER_ORBIT`` where they are no longer of the orbit.

    ``TOO_LOW`` where they lie below 90 km.

    An orbit strays slowly, so the first and the last state of a block are looked at, and all of it only of a
    satellite that fails there.
    """
    low = too_low(position_km)
    if low.any():
        code = np.where((code == 0) & low, TOO_LOW, code)
    ends = slice(None, None, max(code.shape[1] - 1, 1))
    strayed = (code[:, ends] == 0) & ~resembles(orbits, position_km[:, ends], velocity_km_s[:, ends])
    some = np.flatnonzero(strayed.any(axis=1))
    if some.size == 0:
        return code
    fine = resembles(orbits.of_some(some), position_km[some], velocity_km_s[some])
    told = np.array(code, dtype=np.intp)
    told[some] = np.where((told[some] == 0) & ~fine, ANOTHER_ORBIT, told[some])
    return told
