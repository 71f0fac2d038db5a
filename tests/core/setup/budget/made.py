"""Synthetic passes and stations for the pointing budget's tests, and draws without luck."""

from __future__ import annotations

import numpy as np
from scipy.special import ndtri

from core.mount.model.station import Antenna, Mount, Station, Tilt
from core.setup.budget.worked import WorkedPass
from core.setup.model import PointingErrors
from tests.oracles.pass_maker import Recipe, low_orbit

#: Nothing is off.
NONE = PointingErrors.model_validate(dict.fromkeys(PointingErrors.model_fields, 0.0))
NO_DIAL = {"azimuth": {"dial_division_deg": 0.01}, "elevation": {"dial_division_deg": 0.01}}
TILT = {"angle_deg": 6.0, "toward_deg": 250.0}


def worked(peak_deg: float = 55.0, posture: str = "upright", number: int = 1, **fields) -> WorkedPass:
    """A pass 700 km up, with a gap in the mask."""
    recipe = Recipe(
        low_orbit(700.0, peak_deg, 20.0 + 70.0 * number, 1.0, 47.0), gaps=((0.6, 0.7),), number=number
    )
    pass_ = recipe.pass_
    span = {"start_utc_s": pass_.aos.utc_s, "end_utc_s": pass_.los.utc_s} | fields
    return WorkedPass(pass_, posture, **span)


def station(skew_deg: float = 0.0, beamwidth_deg: float = 30.0, tilt: dict | None = None, **axes) -> Station:
    mount = Mount.model_validate(NO_DIAL | {"tilt": Tilt() if tilt is None else tilt} | axes)
    return Station(mount, (Antenna(name="yagi", beamwidth_deg=beamwidth_deg, skew_deg=skew_deg),))


def even_draws(shape: tuple[int, ...], distribution: str, seed: int) -> np.ndarray:
    """Shuffled quantiles: their mean square is that of the distribution, whatever the seed."""
    count = int(np.prod(shape))
    share = (np.random.default_rng(seed).permutation(count) + 0.5) / count
    values = {
        "normal": ndtri(share),
        "uniform": 2.0 * share - 1.0,
        "flank": np.sign(share - 0.5),
    }[distribution]
    return values.reshape(shape)
