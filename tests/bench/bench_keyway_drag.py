"""How long a step of a dragged keyway takes to be seen: python -m tests.bench.bench_keyway_drag.

The Keyway page at 1920x1080 with an evening of the amateur satellites over 5 deg at 47.2 N 9.1 E, on a
mount of 360 deg travel without over the top, where most verdicts change. Every step moves the keyway by
0.7 deg and repaints what changed, offscreen; told are the station view alone and the whole page, as
milliseconds and as a ratio to repainting an empty widget of the same size.
"""

from __future__ import annotations

import os
import statistics
from collections.abc import Callable
from time import perf_counter

from core.base.memo import Memo
from core.elements.files import read_element_files
from core.evaluate import evaluate
from core.mount.model.station import AzimuthAxis, ElevationAxis, IndexHole, Mount
from core.place.site import Site
from core.plan.document import Evening, Plan, Satellite
from core.studies import orient
from tests.shared_data import shared_file

SIZE = (1920, 1080)
STEPS = 240


def evening() -> Plan:
    """All amateur satellites over eight hours."""
    sets = read_element_files([shared_file("data/amateur_20241101.csv")]).sets
    return Plan(
        title="Bench",
        site=Site(latitude_deg=47.2, longitude_deg=9.1, height_m=1300.0, minimum_elevation_deg=5.0),
        evening=Evening(start="2024-11-01T16:00:00Z", end="2024-11-02T00:00:00Z"),
        mount=Mount(
            keyway_bearing_deg=184.0,
            index_holes=(IndexHole(name="A"), IndexHole(name="B", offset_deg=-45.0)),
            azimuth=AzimuthAxis(travel_deg=360.0, guard_deg=5.0),
            elevation=ElevationAxis(maximum_deg=90.0),
        ),
        satellites=tuple(Satellite(name=elements.name, elements=elements) for elements in sets),
    )


def times_ms(step: Callable[[int], None]) -> list[float]:
    """Milliseconds of each step."""
    times = []
    for number in range(STEPS):
        begin = perf_counter()
        step(number)
        times.append((perf_counter() - begin) * 1e3)
    return times


def main() -> None:
    """Drag and tell."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from PySide6.QtWidgets import QApplication, QWidget

    from app.window.look.scheme import LIGHT, font, load_fonts
    from app.window.look.style import palette, style_sheet
    from app.window.pages.keyway.page import KeywayPage
    from app.window.state.context import Context
    from app.window.state.document import Document
    from app.window.state.runner import Runner

    application = QApplication.instance() or QApplication(["bench"])
    assert isinstance(application, QApplication)
    load_fonts()
    application.setFont(font(10))
    plan, memo = evening(), Memo()
    result = evaluate(plan, memo)
    study = orient(plan, result, memo)
    runner = Runner()
    known = {"result": result, "result_plan": plan, "study": study, "study_plan": plan}
    page = KeywayPage(Context(Document(plan), runner, **known))
    page.setPalette(palette(LIGHT))
    page.setStyleSheet(style_sheet(LIGHT))
    page.resize(*SIZE)
    page.show()
    page.refresh()
    application.processEvents()

    empty = QWidget()
    empty.resize(page.size())
    empty.show()
    application.processEvents()
    plain = times_ms(lambda _number: empty.repaint())

    def station(number: int) -> None:
        page.now.live_deg = (184.0 + 0.7 * number) % 360.0
        page.station.set_seat(page.now.above(), page.now.mount.azimuth, page.now.standing())
        page.station.repaint()

    def whole(number: int) -> None:
        page.station.moved.emit((184.0 + 0.7 * number) % 360.0)
        application.processEvents()

    application.processEvents()
    seen = {"station view": times_ms(station), "whole page": times_ms(whole)}
    base = statistics.median(plain)
    print(f"{len(study.passes)} passes, {SIZE[0]}x{SIZE[1]}, {STEPS} steps of 0.7 deg")
    print(f"empty widget   median {base:6.2f} ms")
    for name, times in seen.items():
        middle = statistics.median(times)
        late = statistics.quantiles(times, n=20)[-1]
        print(f"{name:14} median {middle:6.2f} ms, 95 % {late:6.2f} ms, {middle / base:.1f} times empty")
    page.close()
    empty.close()
    runner.close()


if __name__ == "__main__":
    main()
