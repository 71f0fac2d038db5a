"""What a fit of sightings does to the table of terms: what drops out, and what its covariance puts there.

A boom that is not square to its crossboom is in the correction that was sighted along it. The azimuth axis is
then off by the boom's angle the other way: near the horizon the two cancel on the antenna that was sighted
along, high up they no longer do, over the top they add; the other antennas have the sighted boom's angle
beside their own.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from core.base.angles import Floats
from core.mount.model.station import Antenna
from core.setup.budget.terms.term import FIXED, Absorbed, Channel, Part, Term, Turns, alone

_SOURCE, _DEFAULT = "the covariance of the sightings' fit", "none without a fit"
#: What each figure of a fit replaces, the word for it, and what it turns.
_REPLACED: tuple[tuple[tuple[str, ...], str, tuple[Turns, ...]], ...] = (
    (("north", "keyway play", "index play"), "azimuth", ("azimuth",)),
    (("elevation zero",), "elevation", ("elevation",)),
    (("lean",), "lean", ("lean east", "lean north")),
)


#: The names of what a fit may tell, in the order in which `Absorbed` has their covariance.
_NAMES = ("correction", "elevation zero", "lean east", "lean north", "skew")


def absorbed_by(
    names: Sequence[str], covariance_deg2: Floats, sighted: str | None = None, sighted_over: bool = False
) -> Absorbed:
    """What a fit's covariance takes from the budget and puts there.

    Args:
        names: of the fit's unknowns (K,): "correction", "elevation zero", "lean east", "lean north", "skew";
            all others are passed over.
        covariance_deg2: (K, K), infinite on the diagonal of what is not determined.
        sighted: the antenna along whose boom was sighted; None where it was along none.
        sighted_over: it was sighted over the top.
    """
    known = {
        name: place
        for place, name in enumerate(names)
        if name in _NAMES and np.isfinite(covariance_deg2[place, place])
    }
    by_boom = sighted if "correction" in known else None
    if by_boom is None:
        known.pop("skew", None)
    if not {"lean east", "lean north"} <= known.keys():
        known = {name: place for name, place in known.items() if not name.startswith("lean")}
    rows = [known[name] for name in _NAMES if name in known]
    square = np.asarray(covariance_deg2, dtype=float)[np.ix_(rows, rows)]
    sigma = {name: float(np.sqrt(covariance_deg2[place, place])) for name, place in known.items()}
    return Absorbed(
        correction_sigma_deg=sigma.get("correction"),
        elevation_zero_sigma_deg=sigma.get("elevation zero"),
        lean_sigma_deg=max(sigma["lean east"], sigma["lean north"]) if "lean east" in sigma else None,
        covariance_deg2=tuple(tuple(row) for row in square.tolist()),
        sighted=by_boom,
        sighted_over=sighted_over,
        fitted_skew="skew" in known,
    )


def after_fit(seat: tuple[Term, ...], absorbed: Absorbed, antenna: Antenna) -> tuple[Term, ...]:
    """What of the seat's terms a fit leaves, after what it left over itself.

    Raises:
        ValueError: the covariance has not the size of what was fitted.
    """
    gone: set[str] = set()
    fitted: list[Term] = []
    turned: list[Turns] = []
    for (names, word, turns), sigma in zip(_REPLACED, absorbed.sigmas_deg, strict=True):
        if sigma is not None:
            gone.update(names)
            turned += turns
            fitted.append(_term(f"{word} by the sightings", [alone(each, sigma) for each in turns], sigma))
    if absorbed.covariance_deg2:
        fitted = [_together(turned, absorbed, antenna)]
    return (*fitted, *(term for term in seat if term.name not in gone))


def _term(name: str, channels: list[Channel], size: float, per_antenna: bool = False) -> Term:
    return Term(
        name, FIXED, "normal", tuple(channels), size, "deg", _SOURCE, _DEFAULT, per_antenna=per_antenna
    )


def _together(turned: list[Turns], absorbed: Absorbed, antenna: Antenna) -> Term:
    """Figures that err together: independent draws that turn several axes each."""
    covariance = np.array(absorbed.covariance_deg2, dtype=float)
    count = len(turned) + int(absorbed.fitted_skew)
    if covariance.shape != (count, count):
        raise ValueError(f"covariance_deg2 is {covariance.shape}, and {count} figures were fitted")
    spread, ways = np.linalg.eigh(covariance)
    channels: list[Channel] = []
    for column in (ways * np.sqrt(np.clip(spread, 0.0, None))).T.tolist():
        parts = tuple(Part(each, (size,)) for each, size in zip(turned, column, strict=False))
        skewed = boom_channel(column[-1], column[-1], antenna, absorbed) if absorbed.fitted_skew else ()
        channels.append((*parts, *skewed))
    size = float(np.sqrt(np.trace(covariance)))
    return _term("the sightings' fit", channels, size, per_antenna=absorbed.fitted_skew)


def boom_channel(own_deg: float, sighted_deg: float, antenna: Antenna, absorbed: Absorbed | None) -> Channel:
    """An antenna's angle to its boom, and the one that is in the correction.

    Args:
        own_deg: of this antenna, to the right seen from behind upright; not counted where it is the sighted
            one's draw and this is another.
        sighted_deg: of the antenna that was sighted along.
        antenna: this one.
        absorbed: the fit.
    """
    own = alone("boom across", own_deg)
    if absorbed is None or absorbed.boom_in_correction is None:
        return own
    in_azimuth = Part("azimuth", (sighted_deg if absorbed.sighted_over else -sighted_deg,))
    return (*own, in_azimuth) if absorbed.sighted == antenna.name else (in_azimuth,)
