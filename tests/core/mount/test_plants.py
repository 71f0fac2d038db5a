"""Deliberate faults in the mount's geometry, and the comparison with the oracle catching each of them.

A plant is a change of the source text. The module and all that lean on it are loaded afresh with the
change in, under the same names, beside the good ones. Where the text to change is no longer found the
plant fails loudly: it must then be moved along with the source, or it would test nothing.
"""

from __future__ import annotations

import importlib
import importlib.abc
import importlib.util
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.machinery import ModuleSpec
from itertools import chain, islice
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest

from tests.core.mount.check.test_ways_oracle import (
    battery_disagreements,
    the_code,
    touch_cases,
    touch_disagreements,
)
from tests.core.mount.seat.test_seat_oracle import scan_disagreements

_PACKAGE = "core.mount"
_FOLDER = Path(__file__).resolve().parents[3] / "core" / "mount"
#: The modules that the comparisons ask, by the names they are asked under.
_SHAPE = {
    "station": "model.station",
    "chain": "model.chain",
    "tracks": "drive.tracks",
    "motion": "drive.motion",
    "aim": "drive.aim",
    "ways": "check.ways",
}


@dataclass(frozen=True)
class Plant:
    """One fault: in which module which text becomes which."""

    module: str
    good: str
    bad: str
    times: int = 1


PLANTS: dict[str, Plant] = {
    "guard with the wrong sign": Plant(
        "model.chain",
        "return azimuth.guard_deg, azimuth.travel_deg - azimuth.guard_deg",
        "return -azimuth.guard_deg, azimuth.travel_deg + azimuth.guard_deg",
    ),
    "guard at one stop only": Plant(
        "model.chain",
        "return azimuth.guard_deg, azimuth.travel_deg - azimuth.guard_deg",
        "return azimuth.guard_deg, azimuth.travel_deg",
    ),
    "index offset with the wrong sign": Plant(
        "model.chain",
        "return hole.offset_deg + mount.datum_to_stop_deg",
        "return -hole.offset_deg + mount.datum_to_stop_deg",
    ),
    "datum to stop forgotten": Plant(
        "model.chain",
        "return hole.offset_deg + mount.datum_to_stop_deg",
        "return hole.offset_deg",
    ),
    "no half turn over the top": Plant(
        "model.chain",
        "return 180.0 if posture == OVER_THE_TOP else 0.0",
        "return 0.0",
    ),
    "elevation not turned over": Plant(
        "model.chain",
        "return 180.0 - elevation_deg if posture == OVER_THE_TOP else elevation_deg",
        "return elevation_deg",
    ),
    "elevation unit's offset upright only": Plant(
        "model.chain",
        "fixed_offset_deg(mount) + correction_deg(mount, posture))",
        "fixed_offset_deg(mount) + correction_deg(mount, posture)"
        " - (0.0 if posture == UPRIGHT else mount.elevation_unit_offset_deg))",
    ),
    "correction ignored": Plant("model.chain", "return fitted.deg if", "return 0.0 if"),
    "correction never void for the keyway": Plant(
        "model.chain",
        "if abs(wrap_180(fitted.keyway_bearing_deg - mount.keyway_bearing_deg)) > 1e-9:",
        "if False:",
    ),
    "correction never void for the hole": Plant(
        "model.chain",
        "if fitted is None or fitted.index_hole != mount.index_hole:",
        "if fitted is None:",
    ),
    "correction of one posture used in both": Plant(
        "model.chain",
        "return POSTURES if fitted.posture is None else (fitted.posture,)",
        "return POSTURES",
    ),
    "unwrapped before the rotation into the mount frame": Plant(
        "drive.tracks",
        "azimuth_deg=unwrap_deg(samples.azimuth_deg[own]),",
        "azimuth_deg=(level := unwrap_deg("
        "to_mount_frame(pass_.stay.path.at(pass_.stay.path.piece_at(samples.row[own] * 0, utc_s), utc_s)[0],"
        " Tilt())[0])) + ((samples.azimuth_deg[own] - level + 180.0) % 360.0 - 180.0),",
    ),
    "tilt leaning the other way": Plant(
        "model.chain",
        "in_mount = direction @ tilt_matrix(tilt) if tilt.angle_deg else direction",
        "in_mount = direction @ tilt_matrix(tilt).T if tilt.angle_deg else direction",
    ),
    "tilt forgotten": Plant(
        "model.chain",
        "in_mount = direction @ tilt_matrix(tilt) if tilt.angle_deg else direction",
        "in_mount = direction",
    ),
    "an exact touch is outside": Plant(
        "check.ways",
        "inside = low + 360.0 * k >= guard - INSIDE_DEG and high + 360.0 * k <= top + INSIDE_DEG",
        "inside = low + 360.0 * k > guard and high + 360.0 * k < top",
    ),
    "no tolerance at a touch": Plant(
        "check.ways",
        "inside = low + 360.0 * k >= guard - INSIDE_DEG and high + 360.0 * k <= top + INSIDE_DEG",
        "inside = low + 360.0 * k >= guard and high + 360.0 * k <= top",
    ),
    "a wide tolerance at a touch": Plant(
        "check.ways",
        "inside = low + 360.0 * k >= guard - INSIDE_DEG and high + 360.0 * k <= top + INSIDE_DEG",
        "inside = low + 360.0 * k >= guard - 0.005 and high + 360.0 * k <= top + 0.005",
    ),
    "elevation maximum ignored": Plant(
        "check.ways",
        " and high_e <= elevation.maximum_deg + INSIDE_DEG",
        "",
    ),
    "elevation minimum ignored": Plant(
        "check.ways",
        "low_e >= elevation.minimum_deg - INSIDE_DEG and ",
        "",
    ),
    "over the top without elevation above 90": Plant(
        "check.ways",
        "possible = posture == UPRIGHT or elevation.maximum_deg > 90.0",
        "possible = True",
    ),
    "resting as far as the whole beamwidth": Plant(
        "model.station", "return self.narrowest_deg / 2.0", "return self.narrowest_deg"
    ),
    "the widest antenna decides": Plant(
        "model.station",
        "return min(antenna.beamwidth_deg for antenna in self.antennas)",
        "return max(antenna.beamwidth_deg for antenna in self.antennas)",
    ),
    "resting judged in the mask's gaps too": Plant(
        "check.ways",
        "lag = np.where(track.worked, allowed, np.inf)",
        "lag = allowed",
    ),
    "turn counted from the end of the pass": Plant(
        "check.ways",
        "return math.floor((float(track.azimuth_deg[0]) + offset + INSIDE_DEG) / 360.0)",
        "return math.floor((float(track.azimuth_deg[-1]) + offset + INSIDE_DEG) / 360.0)",
    ),
}


#: Faults of the study of the seat, caught by going round the circle.
SEAT_PLANTS: dict[str, Plant] = {
    "arcs with the guard's sign wrong": Plant(
        "seat.arcs",
        "return _arcs(high_deg - top, low_deg - guard, ~possible)",
        "return _arcs(high_deg - top, low_deg + guard, ~possible)",
    ),
    "arcs from the wrong stop": Plant(
        "seat.arcs",
        "return _arcs(high_deg - top, low_deg - guard, ~possible)",
        "return _arcs(high_deg, low_deg - guard + top, ~possible)",
    ),
    "arcs blind to the elevation range": Plant(
        "seat.arcs",
        "return _arcs(high_deg - top, low_deg - guard, ~possible)",
        "return _arcs(high_deg - top, low_deg - guard, possible & ~possible)",
    ),
    "holes turned the wrong way": Plant(
        "seat.study", "shift = fixed_offset_deg(mount, hole)", "shift = -fixed_offset_deg(mount, hole)"
    ),
    "every hole studied as the one in use": Plant(
        "seat.study", "shift = fixed_offset_deg(mount, hole)", "shift = fixed_offset_deg(mount)"
    ),
    "counts from the wrong side of an end": Plant(
        "seat.intervals",
        "here, before, at = inner[k], inner[k - 1]",
        "here, before, at = inner[k - 1], inner[k - 1]",
    ),
    "over the top counted twice": Plant("seat.intervals", "over & ~upright", "over"),
}


class _Planted(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Gives one module's changed source to the import system."""

    def __init__(self, plant: Plant) -> None:
        self.name = f"{_PACKAGE}.{plant.module}"
        self.path = _FOLDER.joinpath(*plant.module.split(".")).with_suffix(".py")
        source = self.path.read_text(encoding="utf-8")
        found = source.count(plant.good)
        if found != plant.times:
            raise LookupError(
                f"plant: {plant.good!r} stands {found} times in {self.path.name}, not {plant.times}"
            )
        self.source = source.replace(plant.good, plant.bad)

    def find_spec(
        self, fullname: str, _path: Sequence[str] | None, _target: ModuleType | None = None
    ) -> ModuleSpec | None:
        return importlib.util.spec_from_loader(fullname, self) if fullname == self.name else None

    def create_module(self, _spec: ModuleSpec) -> None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        exec(compile(self.source, f"{self.path} (planted)", "exec"), module.__dict__)


@contextmanager
def planted(plant: Plant) -> Iterator[SimpleNamespace]:
    """The code under test with the fault in it; everything is as before afterwards."""
    finder = _Planted(plant)
    package = importlib.import_module(_PACKAGE)
    good = {name: module for name, module in sys.modules.items() if name.startswith(f"{_PACKAGE}.")}
    attributes = {name: value for name, value in vars(package).items() if isinstance(value, ModuleType)}
    for name in good:
        del sys.modules[name]
    sys.meta_path.insert(0, finder)
    try:
        yield SimpleNamespace(
            **{name: importlib.import_module(f"{_PACKAGE}.{path}") for name, path in _SHAPE.items()}
        )
    finally:
        sys.meta_path.remove(finder)
        for name in [name for name in sys.modules if name.startswith(f"{_PACKAGE}.")]:
            del sys.modules[name]
        sys.modules.update(good)
        for name in [name for name, value in vars(package).items() if isinstance(value, ModuleType)]:
            delattr(package, name)
        for name, value in attributes.items():
            setattr(package, name, value)


def first_disagreement(code: SimpleNamespace) -> list[str]:
    """The first thing that is wrong, of touches and battery; empty where nothing is."""
    touches = (wrong for name in touch_cases() for wrong in touch_disagreements(code, name))
    return list(islice(chain(touches, battery_disagreements(code)), 1))


def test_the_good_code_passes():
    assert first_disagreement(the_code()) == []


@pytest.mark.parametrize("name", PLANTS)
def test_plant_is_caught(name):
    with planted(PLANTS[name]) as code:
        wrong = first_disagreement(code)
    assert wrong != []


def test_the_good_study_passes():
    assert scan_disagreements(0, 6.0) + scan_disagreements(1, 6.0) == []


@pytest.mark.parametrize("name", SEAT_PLANTS)
def test_plant_in_the_study_is_caught(name):
    with planted(SEAT_PLANTS[name]):
        wrong = scan_disagreements(0, 6.0) or scan_disagreements(1, 6.0)
    assert wrong != []


def test_loading_afresh_alone_upsets_nothing():
    """So that what catches a plant is the fault and not the way it is loaded."""
    with planted(Plant("model.chain", '"""The chain of angles', '"""The very chain of angles')) as code:
        assert "very" in code.chain.__doc__
        assert first_disagreement(code) == []
    assert "very" not in the_code().chain.__doc__


def test_a_plant_whose_text_has_moved_fails_loudly():
    with (
        pytest.raises(LookupError, match="stands 0 times"),
        planted(Plant("model.chain", "no such text", "")),
    ):
        pass
