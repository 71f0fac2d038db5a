"""The ephemeris of Sun, Earth and Moon: DE421 (JPL), 1899-07-29 to 2053-10-09, from its data package."""

from __future__ import annotations

import importlib.resources
from functools import cache
from typing import Any


@cache
def ephemeris() -> Any:
    """The kernel of the data package, by its file: the package's own call warns of tables grown old."""
    from skyfield.jpllib import SpiceKernel

    path = importlib.resources.files("skyfield_data").joinpath("data", "de421.bsp")
    return SpiceKernel(str(path))  # type: ignore[no-untyped-call]
