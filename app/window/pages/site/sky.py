"""What stands behind the mask tonight: the passes in their verdicts' looks, and the Sun's path."""

from __future__ import annotations

from app.window.pages.site.panorama_scene import PanoramaScene, SkyLine
from core.base.errors import NorthkeyError
from core.evaluate import Result
from core.mount.model.results import Verdict
from core.passes.mask_cost import SkyPaths
from core.place.sun import sun_path
from core.place.zones import resolve_time_zone
from core.plan.document import Plan
from core.plan.picks import picked_stays

#: Points of a faint line that are enough for the eye.
_ENOUGH = 110


def panorama_scene(
    plan: Plan, result: Result | None, result_plan: Plan, paths: SkyPaths | None
) -> PanoramaScene:
    """The fixed layer's content for a plan; without a result the dial and the Sun alone.

    ``result_plan`` is the plan the result is of, which may be a little older; ``paths`` are of its stays.
    """
    return PanoramaScene(
        mount=plan.mount,
        minimum_elevation_deg=plan.site.minimum_elevation_deg,
        lines=_lines(result_plan, result, paths),
        sun=sun_path(plan.site, plan.evening.start_utc_s, plan.evening.end_utc_s),
        zone=_zone(plan),
    )


def _lines(plan: Plan, result: Result | None, paths: SkyPaths | None) -> tuple[SkyLine, ...]:
    if result is None or paths is None:
        return ()
    verdicts: dict[int, Verdict] = {id(check.pass_.stay): check.verdict for check in result.checks}
    picked = picked_stays(plan.picks, plan.satellites, result.passes, result.stays)
    lines = []
    for index, stay in enumerate(result.stays):
        azimuth, elevation = paths.line(index)
        step = max(azimuth.size // _ENOUGH, 1)
        keep = sorted({*range(0, azimuth.size, step), azimuth.size - 1})
        lines.append(SkyLine(azimuth[keep], elevation[keep], verdicts.get(id(stay)), index in picked))
    return tuple(lines)


def _zone(plan: Plan) -> str:
    try:
        return resolve_time_zone(plan.site)
    except NorthkeyError:
        return "UTC"
