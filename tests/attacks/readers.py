"""The readers of the program, each as a plain function of a text; what they refuse is an answer too."""

from __future__ import annotations

from contextlib import suppress

from core.afterwards.typed import read_azimuth, read_elevation
from core.base.errors import NorthkeyError
from core.base.times import parse_iso
from core.base.typed import Quantity, read_quantity
from core.elements.epochs import canonical_epoch
from core.elements.reading import read_elements
from core.log.pocket_file import pocket_log_from_text
from core.place.horizon_file import read_horizon_csv
from core.place.hours import parse_clock, parse_day
from core.place.locator import from_locator
from core.place.position import parse_site_text
from core.place.typed_place import read_coordinate
from core.plan.document import Evening
from core.plan.storage import plan_from_text
from core.plan.typed_moment import read_moment
from tests.attacks.cost import Reader
from tests.attacks.makers import ELEMENTS, HORIZONS, LOGS, PLANS, TYPED, Maker

EVENING = Evening(start="2026-11-27T16:00:00Z", end="2026-11-27T20:00:00Z")


def elements(text: str) -> object:
    return read_elements(text, "sent.txt")


def plan(text: str) -> object:
    with suppress(NorthkeyError):
        return plan_from_text(text, "sent.northkey.json")
    return None


def horizon(text: str) -> object:
    with suppress(NorthkeyError):
        return read_horizon_csv(text, "sent.csv")
    return None


def log(text: str) -> object:
    with suppress(NorthkeyError):
        return pocket_log_from_text(text, "sent.json")
    return None


def typed(text: str) -> object:
    for quantity in (Quantity("height", "m", 0.0, 10.0), Quantity("bearing", "deg", bearing=True)):
        with suppress(NorthkeyError):
            read_quantity(text, quantity)
    for read in (parse_site_text, parse_iso, parse_clock, parse_day, from_locator, canonical_epoch):
        with suppress(NorthkeyError):
            read(text)
    for dial in (read_azimuth, read_elevation):
        with suppress(NorthkeyError):
            dial(text)
    with suppress(NorthkeyError):
        read_coordinate(text, "latitude")
    with suppress(NorthkeyError):
        read_moment(text, EVENING, 1.73e9)
    return None


READERS: dict[str, Reader] = {
    "elements": elements,
    "plan": plan,
    "log": log,
    "horizon": horizon,
    "typed": typed,
}
ATTACKS: dict[str, tuple[Reader, Maker]] = {
    f"{kind}, {name}": (READERS[kind], make)
    for kind, makers in (
        ("elements", ELEMENTS),
        ("plan", PLANS),
        ("log", LOGS),
        ("horizon", HORIZONS),
        ("typed", TYPED),
    )
    for name, make in makers.items()
}
