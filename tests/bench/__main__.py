"""One table of how fast Northkey is beside baselines and peers, all timed in this run: python -m tests.bench.

    python -m tests.bench                       everything
    python -m tests.bench passes catalogue      some of: passes, catalogue, evening, seat, season, window

Wall time, medians; the machine is to be otherwise idle. A peer is raced where it is installed (the ``bench``
extra). A ratio beyond the one wanted is marked, and the exit code is then 1.
"""

from __future__ import annotations

import importlib.util
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from statistics import median
from time import perf_counter

from core.base.memo import Memo
from core.base.units import DAY_S
from core.elements.files import read_element_files
from core.evaluate import Result, evaluate
from core.mount.drive.motion import steer_all
from core.mount.model.station import AzimuthAxis, ElevationAxis, Mount, Station, Tilt
from core.mount.seat.season.evenings import find_season, not_clear_of
from core.mount.seat.season.study import SeasonQuestion, study_season
from core.mount.seat.study import study_seat
from core.passes.frames import Observer
from core.passes.search import find_stays
from core.passes.track import predict
from core.place.local_hours import repeated
from core.place.site import Site
from core.plan.document import Plan
from tests.bench.bench_seat import MOUNTS, mount_of
from tests.bench.evenings import evening, walled
from tests.bench.peers import PLACE, bare_states, brahe_accesses, plain_loop
from tests.bench.rows import START_UTC_S, Row, amateur_sets, seconds
from tests.propagator_calls import counted_calls
from tests.shared_data import shared_file

SIZES = (100, 1000, 10_000, 30_000)
HOURS = (1.0, 24.0, 168.0)


def passes_rows() -> Iterator[Row]:
    """The search of an evening's list: 24 h at one site, over 0 deg."""
    sets = amateur_sets()
    latitude, longitude, height = PLACE
    site = Site(latitude_deg=latitude, longitude_deg=longitude, height_m=height, minimum_elevation_deg=0.0)
    window = START_UTC_S, START_UTC_S + 24.0 * 3600.0
    loop_s = seconds(lambda: plain_loop(sets, START_UTC_S, 24.0), 3)
    ours_s = seconds(lambda: predict(sets, site, *window))
    yield Row(f"predict, {len(sets)} satellites, 24 h", ours_s, "Skyfield's loop", loop_s, 0.1)
    peer = brahe_accesses(sets, START_UTC_S, 24.0)
    if peer is not None:
        yield Row("predict", ours_s, "brahe on all cores", seconds(peer), 0.25)
    masked_s = seconds(lambda: predict(sets, walled(site), *window))
    yield Row("predict under a mask of 40 points", masked_s, "predict", ours_s, 1.5)
    low = [one for one in sets if one.mean_motion_rev_day > 11.25 and one.eccentricity < 0.05]
    with counted_calls() as counted:
        find_stays(low, Observer(*PLACE), *window)
    each = counted.states // len(low)
    search_s = seconds(lambda: find_stays(low, Observer(*PLACE), *window))
    bare_s = seconds(bare_states(low, START_UTC_S, each))
    yield Row(f"find_stays, {each} states a low satellite", search_s, "SGP4 alone for as many", bare_s, 2.0)


def catalogue_rows() -> Iterator[Row]:
    """The whole command on a whole catalogue, and how it grows."""
    file = shared_file("data/gp_20241101.csv")
    sets = read_element_files([file]).sets
    some = sets[:: max(len(sets) // 150, 1)]
    loop_s = seconds(lambda: plain_loop(some, START_UTC_S, 24.0), 1) / len(some)
    with tempfile.TemporaryDirectory() as folder:
        for count in SIZES:
            part = Path(folder) / f"{count}.csv"
            lines = Path(file).read_text(encoding="utf-8").splitlines()[: count + 1]
            part.write_text("\n".join(lines), encoding="utf-8")
            taken_s, number = seconds(lambda part=part: _command(part, 24.0), 1), len(lines) - 1
            wanted = 0.1 if number == len(sets) else None
            yield Row(
                f"passes --json, {number} objects, 24 h", taken_s, "the loop, scaled", number * loop_s, wanted
            )
        for hours in HOURS:
            part = Path(folder) / f"{SIZES[1]}.csv"
            taken_s = seconds(lambda hours=hours, part=part: _command(part, hours), 1)
            scaled_s = SIZES[1] * loop_s * hours / 24.0
            yield Row(
                f"passes --json, {SIZES[1]} objects, {hours:g} h", taken_s, "the loop, scaled", scaled_s
            )


def _command(file: Path, hours: float) -> None:
    code = "import sys; from app.main import main; sys.exit(main())"
    words = ["passes", "--elements", str(file), "--site", ",".join(map(str, PLACE))]
    words += ["--start", "2024-11-01T16:00:00Z", "--hours", str(hours), "--json"]
    subprocess.run([sys.executable, "-c", code, *words], check=True, capture_output=True)


def evening_rows() -> Iterator[Row]:
    """The evaluation of a full evening, cold and after an edit, beside the loop over the same eight hours."""
    plan = evening()
    wide = Mount(
        azimuth=AzimuthAxis(travel_deg=450.0, guard_deg=5.0), elevation=ElevationAxis(maximum_deg=180.0)
    )
    plan = plan.model_copy(update={"mount": wide})
    sets = [satellite.elements for satellite in plan.satellites]
    loop_s = seconds(lambda: plain_loop(sets, START_UTC_S, 8.0), 3)
    cold_s = seconds(lambda: evaluate(plan), 3)
    count = len(evaluate(plan).passes)
    yield Row(f"evaluate, cold, {count} passes", cold_s, "Skyfield's loop, 8 h", loop_s, 3.0)
    edited_s, order_s = _after_a_keyway_edit(plan)
    yield Row("evaluate after a keyway edit", edited_s, "Skyfield's loop, 8 h", loop_s, 1.5)
    yield Row("of it the order", order_s, "Skyfield's loop, 8 h", loop_s, 1.0)


def _after_a_keyway_edit(plan: Plan) -> tuple[float, float]:
    """Seconds of an evaluation after the keyway is turned, and of its order alone."""
    memo, taken, orders = Memo(), [], []
    evaluate(plan, memo)
    for keyway in (17.0, 99.0, 143.0, 211.0, 305.0):
        turned = plan.model_copy(
            update={"mount": plan.mount.model_copy(update={"keyway_bearing_deg": keyway})}
        )
        calls: dict[str, float] = {}

        def progress(_done: int, _total: int, what: str, calls: dict[str, float] = calls) -> bool:
            calls.setdefault(what, perf_counter())
            return True

        begin = perf_counter()
        evaluate(turned, memo, progress)
        end = perf_counter()
        taken.append(end - begin)
        orders.append(end - calls["choosing the evening"])
    return median(taken), median(orders)


def seat_rows() -> Iterator[Row]:
    """The seat's table, curve and best for the same evening, beside the loop over a day."""
    plan = evening()
    result: Result = evaluate(plan)
    loop_s = seconds(lambda: plain_loop(amateur_sets(), START_UTC_S, 24.0), 3)
    for name, numbers in MOUNTS.items():
        station = Station(mount_of(*numbers), plan.antennas)
        steered = steer_all(result.tracks, station.mount)

        def study(station: Station = station, steered: Sequence[object] = steered) -> object:
            return study_seat(result.passes, result.tracks, station, steered=tuple(steered))  # type: ignore[arg-type]

        wanted = 1.5 / 0.16 if name == "360/90 as measured" else 0.3 / 0.16
        yield Row(f"the seat's study, {name}", seconds(study, 1), "Skyfield's loop, 24 h", loop_s, wanted)


def season_rows() -> Iterator[Row]:
    """A year of the amateur satellites, whole days: its passes, and the study of them, beside the loop."""
    sets = amateur_sets()
    site = Site(latitude_deg=PLACE[0], longitude_deg=PLACE[1], height_m=PLACE[2])
    windows = repeated(START_UTC_S, START_UTC_S + DAY_S, 365, "Europe/Zurich")
    loop_s = seconds(lambda: plain_loop(sets, START_UTC_S, 24.0), 3)
    begin = perf_counter()
    season = find_season(sets, site, Tilt(), windows)
    search_s = perf_counter() - begin
    what = f"a season's {season.evening.size} passes"
    yield Row(what, search_s, "Skyfield's loop, 24 h", loop_s, 30.0 / 0.16)
    mount = mount_of(450.0, 90.0, {})

    def study() -> object:
        return study_season(not_clear_of(season, len(windows), mount), mount, SeasonQuestion())

    yield Row("the season's study", seconds(study, 1), "Skyfield's loop, 24 h", loop_s, 1.0 / 0.16)


def window_rows() -> Iterator[Row]:
    """Where a person waits at the window and the sheet; none without the window's extra."""
    if importlib.util.find_spec("PySide6") is None:
        return iter(())
    from tests.bench.window_rows import all_rows

    return all_rows()


SECTIONS = {
    "passes": passes_rows,
    "catalogue": catalogue_rows,
    "evening": evening_rows,
    "seat": seat_rows,
    "season": season_rows,
    "window": window_rows,
}


def main(names: Sequence[str]) -> int:
    """Print the table; 1 where something took longer than wanted."""
    met = True
    for name in names or SECTIONS:
        for row in SECTIONS[name]():
            print(row, flush=True)
            met &= row.wanted is None or row.ratio <= row.wanted
    return 0 if met else 1


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
