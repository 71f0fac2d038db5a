"""How long motion takes per pass, ideal and measured: python -m tests.bench.bench_motion.

The invented evening of 150 passes. Told: seconds a pass of steering under rates alone, of a rotator as
measured, of the whole study of one pass, and of the verdicts of the evening both ways; the simulation also
as a ratio to a plain loop in steps of a hundredth of a second, in the same run.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from statistics import mean
from time import perf_counter

from core.evaluate import evaluate
from core.mount.check.verdict import check_passes
from core.mount.check.ways import offset_deg
from core.mount.drive.motion import steer
from core.mount.drive.rotator import follow
from core.mount.drive.tracks import MountTrack
from core.mount.model.results import PassCheck
from core.mount.model.station import Antenna, Mount, Station
from core.mount.steering.runs import study_steering
from tests.evening_plans import full_evening_plan
from tests.oracles import fine_rotator

#: Seconds of one simulated pass.
LIMIT_S = 0.05
ANTENNAS = (Antenna(),)
MEASURED = {"acceleration_deg_s2": 3.0, "deadband_deg": 1.0, "readout_step_deg": 1.0}


def seconds(task: Callable[[], object]) -> float:
    """Least of three runs."""
    taken = []
    for _ in range(3):
        start = perf_counter()
        task()
        taken.append(perf_counter() - start)
    return min(taken)


def _quick(track: MountTrack, mount: Mount) -> object:
    return follow(track.utc_s, track.azimuth_deg, track.elevation_deg, mount)


def _fine(track: MountTrack) -> object:
    axis = {"up": 6.0, "down": 6.0, "gain": 3.0, "deadband": 1.0, "nudge": 0.0, "readout": 1.0}
    return [fine_rotator.run(axis, track.utc_s, path) for path in (track.azimuth_deg, track.elevation_deg)]


def _study(check: PassCheck, track: MountTrack, mount: Mount) -> object:
    posture = check.ways[0].posture
    return study_steering(
        check.pass_, track, Station(mount, ANTENNAS), posture, offset_deg(mount, posture, 0)
    )


def main() -> int:
    """Measure and print; 1 where a simulated pass takes longer than the limit."""
    result = evaluate(full_evening_plan())
    ideal = Mount()
    measured = Mount.model_validate({"azimuth": MEASURED, "elevation": MEASURED})
    some = result.tracks[:20]
    plain = mean(seconds(partial(steer, track, ideal)) for track in some)
    rough = mean(seconds(partial(steer, track, measured)) for track in some)
    quick = mean(seconds(partial(_quick, track, measured)) for track in some[:5])
    fine = mean(seconds(partial(_fine, track)) for track in some[:5])
    followed = [pair for pair in zip(result.checks, result.tracks, strict=True) if pair[0].ways][:20]
    studies = [seconds(partial(_study, check, track, ideal)) for check, track in followed]
    print(f"steering under rates alone: {1000.0 * plain:.2f} ms a pass")
    print(f"steering with a rotator as measured: {1000.0 * rough:.1f} ms a pass")
    print(f"the simulation against a plain loop of 0.01 s: {quick / fine:.3f}")
    print(f"study of a pass: mean {1000.0 * mean(studies):.0f} ms, worst {1000.0 * max(studies):.0f} ms")
    for name, mount in (("rates alone", ideal), ("as measured", measured)):
        taken = seconds(partial(check_passes, result.passes, result.tracks, Station(mount, ANTENNAS)))
        print(f"verdicts of {len(result.passes)} passes, {name}: {taken:.2f} s")
    return 0 if rough < LIMIT_S else 1


if __name__ == "__main__":
    raise SystemExit(main())
