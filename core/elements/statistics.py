"""Element sets for statistics over months, of which single times mean nothing."""

from __future__ import annotations

from core.elements.model import ElementSet


def for_statistics(elements: ElementSet) -> ElementSet:
    """The set without drag: its orbit keeps its size and goes on precessing.

    Drag's polynomial runs away within months, and no set foretells a satellite's place in its orbit for
    that long. How passes are spread over the sky follows from size, tilt and precession, which last.
    """
    return elements.model_copy(update={"bstar": 0.0, "mean_motion_dot": 0.0, "mean_motion_ddot": 0.0})
