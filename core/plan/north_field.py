"""Where and with what north is found: of a plan, for `core.setup.methods`."""

from __future__ import annotations

from core.elements.model import ElementSet
from core.plan.document import Plan
from core.setup.level import Level
from core.setup.methods import Field


def north_field(plan: Plan, level: Level | None, hears: bool = True) -> Field:
    """The plan's, with the plate's lean as it was measured; ``hears``: satellites' signals count as a way."""
    return Field(
        site=plan.site,
        mount=plan.mount,
        errors=plan.pointing,
        beamwidth_deg=plan.station.narrowest_deg,
        landmarks=plan.landmarks,
        compass=plan.compass,
        elements=named_sets(plan) if hears else (),
        lean_deg=plan.pointing.lean_deg if level is None else level.sigma_deg,
    )


def named_sets(plan: Plan) -> tuple[ElementSet, ...]:
    """The element sets under the operator's own names."""
    return tuple(one.elements.model_copy(update={"name": one.name}) for one in plan.satellites)
