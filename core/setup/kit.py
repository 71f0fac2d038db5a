"""What to pack: what the plan gives reason for, each with its reason, and a short standing list."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.words import counted, first_few, listed, plain
from core.mount.model.chain import hole_in_use
from core.mount.model.station import Antenna
from core.setup.checklist import band_words
from core.setup.facts import StationFacts, Tightened

#: So many landmarks are told by their names.
_MARKS = 3


@dataclass(frozen=True)
class KitItem:
    """A thing to take, and why in few words."""

    what: str
    why: str


def kit(facts: StationFacts) -> tuple[KitItem, ...]:
    """The list, what stands first, and last what is always taken."""
    return (
        *_antennas(facts),
        *_mount(facts),
        *_screws(facts.screws),
        *_holding(facts),
        *_north(facts),
        *_standing(facts),
    )


def _antennas(facts: StationFacts) -> list[KitItem]:
    found = [KitItem(_antenna(one), f"beam {plain(one.beamwidth_deg)} deg") for one in facts.antennas]
    bands = [band_words(one) or one.name for one in facts.antennas]
    feeders = counted(len(bands), "feeder") + ", labelled"
    return [*found, KitItem(feeders, f"one each for {listed(bands)}")]


def _antenna(one: Antenna) -> str:
    band = band_words(one)
    return f"{one.name} ({band})" if band else one.name


def _mount(facts: StationFacts) -> list[KitItem]:
    mount = facts.mount
    hole = hole_in_use(mount).name
    others = [one.name for one in mount.index_holes if one.name != hole]
    spare = f"; not {first_few(others, 3)}" if others else ""
    return [
        KitItem("rotator, controller, cable", f"travel {plain(mount.azimuth.travel_deg)} deg"),
        KitItem("adapter with its index screw", f"hole {hole} is in use{spare}"),
    ]


def _screws(screws: tuple[Tightened, ...]) -> list[KitItem]:
    if not screws:
        return [KitItem("plate bolts and their keys", "the plan has no plate to say which")]
    found = [KitItem(f"{one.count} x {one.thread}", one.what) for one in screws]
    torques = [one.torque_nm for one in screws]
    span = f"{plain(min(torques), 1)} to {plain(max(torques), 1)} Nm"
    return [*found, KitItem("torque key, hex bits", span)]


def _holding(facts: StationFacts) -> list[KitItem]:
    held = facts.holding
    if held is None:
        return [KitItem("stakes, ballast bag", "the plan has no stand to say how much")]
    why = held.wind or "the wind"
    found = []
    if held.guys:
        found.append(KitItem(f"{counted(held.guys, 'guy')} and pegs", f"up to {held.pegs_n:.0f} N, {why}"))
    if held.stakes_n > 0.0:
        found.append(KitItem("a stake for each foot", f"up to {held.stakes_n:.0f} N, {why}"))
    if held.ballast_kg:
        found.append(KitItem(f"{held.ballast_kg:.0f} kg of ballast", why))
    found += [KitItem(name, "hangs from the tripod") for name in held.hung]
    return found


def _north(facts: StationFacts) -> list[KitItem]:
    found = [KitItem("bubble level", "two ways across the plate")]
    if facts.level:
        found[0] = KitItem("inclinometer, shims", "the plate's lean is measured")
    compass = "the keyway is read by it" if facts.compass else "a second means for the keyway"
    found.append(KitItem("compass", compass))
    if facts.north == "sun":
        found.append(KitItem("plumb line and pin", "north by the Sun's shadow"))
    if facts.landmarks:
        names = first_few(facts.landmarks, _MARKS)
        found.append(KitItem("list of landmarks", names))
    return found


def _standing(facts: StationFacts) -> list[KitItem]:
    found = [
        KitItem("radios, battery", "receive check"),
        KitItem("a spotter", "travel test, lines overhead"),
        KitItem("marker pen", "witness line"),
        KitItem("this sheet, pencil", "log and sightings"),
        KitItem("watch set to UTC", "every time here"),
    ]
    if facts.after_dark:
        found.append(KitItem("red light", "work after sunset"))
    return found
