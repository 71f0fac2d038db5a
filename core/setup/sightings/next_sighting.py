"""Where one more sighting would tell most, from the geometry alone."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from core.base.angles import Flags, Floats, wrap_180, wrap_360
from core.base.words import bearing_text, figure
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.station import Mount
from core.place.site import Site, mask_elevation_deg
from core.setup.sightings.model import CORRECTION, ELEVATION_ZERO, Rows, derivatives, unit
from core.setup.sightings.solve import Solution

_BEARING_STEP_DEG = 10.0
#: Elevations at which something can be sighted: a landmark, a low Sun, a high Sun or Moon.
_ELEVATIONS_DEG = (5.0, 20.0, 40.0)
#: Elevations at which passes are followed: there the pointing shall be well known.
_FOLLOWED_DEG = (10.0, 30.0, 60.0)
#: A free unknown before anything is sighted: of each bearing it is no wonder, deg.
_ANY_DEG = 180.0
#: A sighting's error where there is none to take it from, deg.
_USUAL_SIGMA_DEG = 1.0
#: Places whose gain differs by less than this share are equally good; the lowest of them is told.
_ALIKE = 0.02


@dataclass(frozen=True)
class NextSighting:
    """A place worth sighting.

    Attributes:
        bearing_deg, elevation_deg: true.
        before_deg, after_deg: how well the pointing is known, one standard deviation on the sky in the mean
            over all bearings and over elevations of 10, 30 and 60 deg; inf before the first sighting.
        why: a sentence.
    """

    bearing_deg: float
    elevation_deg: float
    before_deg: float
    after_deg: float
    why: str


def next_sighting(rows: Rows, found: Solution, mount: Mount, site: Site) -> NextSighting | None:
    """The bearing and elevation at which one more sighting lowers the pointing's uncertainty most.

    None where the mount can point to nothing over the mask.
    """
    places = _places(mount, site, found, rows)
    if not places.shape[0]:
        return None
    loose = ~np.isfinite(np.diag(found.covariance))
    covariance = np.where(np.isfinite(found.covariance), found.covariance, 0.0)
    covariance[np.diag(loose)] = _ANY_DEG**2
    sky = _rows_at(rows, _grid())
    of_sky = derivatives(sky, found.unknowns)
    of_sky[sky.azimuth] *= np.cos(np.radians(_grid()[:, 1]))[:, None]
    candidates = _rows_at(rows, places)
    of_place = derivatives(candidates, found.unknowns)
    noise = np.where(candidates.azimuth, _usual(rows, True), _usual(rows, False)) ** 2
    before = _mean_square(of_sky, covariance)
    count = places.shape[0]
    pairs = np.stack([of_place[:count], of_place[count:]], axis=1)
    told = pairs @ covariance
    spread = told @ pairs.transpose(0, 2, 1) + np.stack([noise[:count], noise[count:]], axis=1)[
        :, None
    ] * np.eye(2)
    seen = told @ of_sky.T
    gain = np.einsum("kig,kij,kjg->k", seen, np.linalg.inv(spread), seen) / of_sky.shape[0]
    after = np.maximum(before - 2.0 * gain, 0.0)
    best = _chosen(places, after)
    was = math.inf if loose[[CORRECTION, ELEVATION_ZERO]].any() else math.sqrt(before)
    return _told(places[best], was, math.sqrt(after[best]), rows, found.kept)


def _grid() -> Floats:
    """(G, 2) bearings and elevations all over the sky that is followed."""
    bearing, elevation = np.meshgrid(np.arange(0.0, 360.0, 30.0), _FOLLOWED_DEG)
    return np.stack([bearing.ravel(), elevation.ravel()], axis=1)


def _places(mount: Mount, site: Site, found: Solution, rows: Rows) -> Floats:
    """(K, 2) what the mount can reach, inside its guards and over the mask."""
    bearing, elevation = np.meshgrid(np.arange(0.0, 360.0, _BEARING_STEP_DEG), _ELEVATIONS_DEG)
    places = np.stack([bearing.ravel(), elevation.ravel()], axis=1)
    guard, top = guarded_travel_deg(mount.azimuth)
    past = wrap_360(places[:, 0] - rows.at_stop_deg - found.unknowns[CORRECTION] - guard)
    axis = mount.elevation
    reached = (past <= top - guard) & (places[:, 1] >= axis.minimum_deg) & (places[:, 1] <= axis.maximum_deg)
    reached &= places[:, 1] >= mask_elevation_deg(site.horizon, places[:, 0])
    return np.asarray(places[reached])


def _rows_at(rows: Rows, places: Floats) -> Rows:
    """Both dials at each place, azimuths first, upright, from neither side."""
    count = places.shape[0]
    zeros = np.zeros(2 * count)
    return replace(
        rows,
        index=np.zeros(2 * count, dtype=np.intp),
        azimuth=np.arange(2 * count) < count,
        measured_deg=zeros,
        sigma_deg=zeros,
        sky=np.tile(unit(places[:, 0], places[:, 1]), (2, 1)),
        sense=np.ones(2 * count),
        side=zeros,
        rate_deg_s=zeros,
        landmark=np.full(2 * count, -1, dtype=np.intp),
    )


def _usual(rows: Rows, azimuth: bool) -> float:
    own = rows.sigma_deg[rows.azimuth == azimuth]
    own = own if own.size else rows.sigma_deg
    return float(np.median(own)) if own.size else _USUAL_SIGMA_DEG


def _mean_square(of_sky: Floats, covariance: Floats) -> float:
    """Both dials' errors on the sky, in the mean over the places."""
    return float(2.0 * np.einsum("ni,ij,nj->n", of_sky, covariance, of_sky).mean())


def _chosen(places: Floats, after: Floats) -> int:
    good = np.flatnonzero(after <= after.min() * (1.0 + _ALIKE))
    return int(good[np.argmin(places[good, 1])])


def _told(place: Floats, before_deg: float, after_deg: float, rows: Rows, kept: Flags) -> NextSighting:
    bearing, elevation = float(place[0]), float(place[1])
    if math.isinf(before_deg):
        gain = "it would tell what is not known yet"
    else:
        gain = f"it would bring the pointing from {figure(before_deg, 2)} to {figure(after_deg, 2)} deg"
    why = f"One more sighting near bearing {bearing_text(bearing)}: {gain}{_where_so_far(rows, kept)}"
    return NextSighting(bearing, elevation, before_deg, after_deg, f"{why}.")


def _where_so_far(rows: Rows, kept: Flags) -> str:
    """In what sector the sightings lie, if that is the reason."""
    if not kept.any():
        return ""
    bearing = np.sort(wrap_360(np.degrees(np.arctan2(rows.sky[kept, 0], rows.sky[kept, 1]))))
    gaps = np.diff(np.append(bearing, bearing[0] + 360.0))
    widest = int(np.argmax(gaps))
    span = 360.0 - float(gaps[widest])
    if span > 120.0:
        return ""
    first = float(bearing[(widest + 1) % bearing.size])
    middle = wrap_180(first + span / 2.0) % 360.0
    if span < 1.0:
        return f"; all so far lie at {bearing_text(middle)}"
    return f"; all so far lie within {span:.0f} deg about {bearing_text(middle)}"
