"""What stands behind the mask tonight: the passes in their verdicts' looks, and the Sun's path."""

from __future__ import annotations

import numpy as np

from app.window.pages.site.panorama_scene import PanoramaScene, SkyLine, SunLine
from core.base.angles import unwrap_deg
from core.base.errors import NorthkeyError
from core.evaluate import Result
from core.mount.model.results import Verdict
from core.passes.mask_cost import SkyPaths
from core.place.sun import sun_direction_deg
from core.place.zones import local_time, resolve_time_zone
from core.plan.document import Plan
from core.plan.picks import picked_indices

#: Points of a faint line that are enough for the eye.
_ENOUGH = 110
_LOWEST_SUN_DEG = -9.0


def panorama_scene(
    plan: Plan, result_plan: Plan, result: Result | None, paths: SkyPaths | None
) -> PanoramaScene:
    """The fixed layer's content for a plan; without a result the dial and the Sun alone.

    ``result_plan`` is the plan the result is of, which may be a little older.
    """
    return PanoramaScene(
        mount=plan.mount,
        minimum_elevation_deg=plan.site.minimum_elevation_deg,
        lines=_lines(result_plan, result, paths),
        sun=_sun(plan),
    )


def picked_stays(plan: Plan, result: Result) -> frozenset[int]:
    """Indices of the stays whose passes are picked; empty without picks."""
    if not plan.picks:
        return frozenset()
    places = {id(stay): index for index, stay in enumerate(result.stays)}
    passes = [result.passes[index] for index in picked_indices(plan.picks, plan.satellites, result.passes)]
    return frozenset(places[id(pass_.stay)] for pass_ in passes if id(pass_.stay) in places)


def _lines(plan: Plan, result: Result | None, paths: SkyPaths | None) -> tuple[SkyLine, ...]:
    if result is None or paths is None or paths.count != len(result.stays):
        return ()
    verdicts: dict[int, Verdict] = {id(check.pass_.stay): check.verdict for check in result.checks}
    picked = picked_stays(plan, result)
    lines = []
    for index, stay in enumerate(result.stays):
        azimuth, elevation = paths.line(index)
        step = max(azimuth.size // _ENOUGH, 1)
        keep = np.unique(np.append(np.arange(0, azimuth.size, step), azimuth.size - 1))
        lines.append(SkyLine(azimuth[keep], elevation[keep], verdicts.get(id(stay)), index in picked))
    return tuple(lines)


def _sun(plan: Plan) -> SunLine | None:
    """The Sun's path in the hours, with a mark at every local hour; None where it is down all through."""
    start, end = plan.evening.start_utc_s, plan.evening.end_utc_s
    end = min(end, start + 86_400.0)
    site = plan.site
    utc_s = np.arange(start, end, 300.0)
    azimuth, elevation = sun_direction_deg(site.latitude_deg, site.longitude_deg, utc_s)
    up = elevation > _LOWEST_SUN_DEG
    if not up.any():
        return None
    marks = []
    zone = _zone(plan)
    hours = np.arange(np.ceil(start / 3600.0) * 3600.0, end, 3600.0)
    for moment in [start, *hours[hours > start + 900.0].tolist()]:
        place = sun_direction_deg(site.latitude_deg, site.longitude_deg, np.array([moment]))
        if place[1][0] > 0.0:
            words = f"Sun {local_time(moment, zone):%H:%M}"
            marks.append((float(place[0][0]), float(place[1][0]), words))
    first, last = np.flatnonzero(up)[[0, -1]]
    here = slice(int(first), int(last) + 1)
    return SunLine(unwrap_deg(azimuth)[here], elevation[here], tuple(marks))


def _zone(plan: Plan) -> str:
    try:
        return resolve_time_zone(plan.site)
    except NorthkeyError:
        return "UTC"
