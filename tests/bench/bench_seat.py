"""The seat's speed against plain loops of verdicts: python -m tests.bench.bench_seat.

The evening of the amateur satellites, 147 passes over 5 deg at 47.2 N 9.1 E. Told for each mount: the table
of every pass' losses (made once in the background), the curve round the circle with the best and second best
seat made from it, and the verdicts of the whole evening at a new keyway bearing; each as best and worst of
several runs, and as a ratio to the plain loop in the same run: `check_passes` at that bearing, and for the
curve as many of those as it has samples. A long silence between two calls of progress is told too.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from time import perf_counter

import numpy as np

from core.evaluate import Result, evaluate
from core.mount.check.verdict import check_passes
from core.mount.drive.motion import steer_all
from core.mount.model.results import PassCheck
from core.mount.model.station import Mount, Station
from core.mount.seat.losses.table import SeatTable, seat_table, verdicts_at
from core.mount.seat.study import SeatStudy, seated, study_seat
from tests.bench.evenings import evening

VERDICTS_LIMIT_S = 0.005
CURVE_LIMIT_S = 3.0
RUNS = 3
MEASURED = {"acceleration_deg_s2": 3.0, "deadband_deg": 1.0, "readout_step_deg": 1.0}
MOUNTS: dict[str, tuple[float, float, dict[str, float]]] = {
    "450/180": (450.0, 180.0, {}),
    "360/180": (360.0, 180.0, {}),
    "360/90": (360.0, 90.0, {}),
    "450/180 as measured": (450.0, 180.0, MEASURED),
    "360/90 as measured": (360.0, 90.0, MEASURED),
}


def mount_of(travel_deg: float, highest_deg: float, measured: dict[str, float]) -> Mount:
    """A mount of that travel and elevation range."""
    return Mount.model_validate(
        {
            "azimuth": {"travel_deg": travel_deg, "guard_deg": 3.0, **measured},
            "elevation": {"maximum_deg": highest_deg, **measured},
        }
    )


def times_s(runs: int, task: Callable[[], object]) -> list[float]:
    """Seconds of each run."""
    taken = []
    for _ in range(runs):
        begin = perf_counter()
        task()
        taken.append(perf_counter() - begin)
    return taken


def longest_silence_s(task: Callable[[Callable[[int, int, str], bool]], object]) -> float:
    """The longest time between two calls of progress."""
    calls = [perf_counter()]

    def progress(_done: int, _total: int, _what: str) -> bool:
        calls.append(perf_counter())
        return True

    task(progress)
    return float(np.diff([*calls, perf_counter()]).max())


def _told(name: str, taken: list[float], plain_s: float) -> str:
    return f"  {name:22} {_ms(min(taken))} to {_ms(max(taken))}, {plain_s / min(taken):8.1f} times as fast"


def _ms(seconds: float) -> str:
    return f"{1e3 * seconds:9.2f} ms"


class Bench:
    """One mount's figures."""

    def __init__(self, result: Result, station: Station) -> None:
        self.passes, self.tracks, self.station = result.passes, result.tracks, station
        # At hand in the window, where the verdicts needed it already.
        self.steered = steer_all(self.tracks, station.mount)

    def table(self) -> SeatTable:
        """All passes rise and set here."""
        return seat_table(self.tracks, self.station, steered=self.steered)

    def curve(self) -> SeatStudy:
        return study_seat(self.passes, self.tracks, self.station, steered=self.steered)

    def checks(self, bearing_deg: float) -> tuple[PassCheck, ...]:
        mount = self.station.mount
        there = replace(self.station, mount=seated(mount, bearing_deg, mount.index_hole))
        return check_passes(self.passes, self.tracks, there)

    def tell(self) -> tuple[float, float]:
        """Print; best seconds of the verdicts and of the curve."""
        bearings = np.random.default_rng(1).uniform(0.0, 360.0, 50)
        plain = min(t for b in bearings[:3] for t in times_s(1, partial(self.checks, float(b))))
        curves = times_s(RUNS, self.curve)
        study = self.curve()
        looked_up = [t for b in bearings for t in times_s(1, partial(verdicts_at, study.table, float(b)))]
        print(f"  plain verdicts {_ms(plain)}")
        print(_told("verdicts by table", looked_up, plain))
        print(_told("table", times_s(RUNS, self.table), plain * study.over_zeta.bearing_deg.size))
        print(_told("table, curve, best", curves, plain * study.over_zeta.bearing_deg.size))
        silence = longest_silence_s(
            lambda progress: study_seat(self.passes, self.tracks, self.station, progress=progress)
        )
        print(f"  {study.over_zeta.bearing_deg.size} samples; longest silence {_ms(silence)}")
        return max(looked_up), min(curves)


def main() -> int:
    """Measure and print; 1 where a limit is missed."""
    plan = evening()
    result = evaluate(plan)
    met = True
    for name, numbers in MOUNTS.items():
        print(f"{name}: {len(result.passes)} passes")
        verdicts_s, curve_s = Bench(result, Station(mount_of(*numbers), plan.antennas)).tell()
        met &= verdicts_s <= VERDICTS_LIMIT_S and curve_s <= CURVE_LIMIT_S
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
