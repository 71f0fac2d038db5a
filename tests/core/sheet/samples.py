"""Invented evenings for the sheet: circular orbits past a site on a still ball, and simple pointing.

No search, no verdict: each contact is told what it is, so that every word and mark stands on the pages.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from core.base.angles import unwrap_deg, wrap_360
from core.base.errors import PropagationError
from core.elements.model import ElementSet
from core.evaluate import Result, Seat
from core.mount.evening.results import Contact, EveningOrder, Move
from core.mount.model.chain import hole_in_use, stop_bearings_deg, zeta_deg
from core.mount.model.results import (
    Cure,
    Part,
    PassCheck,
    Pointing,
    Reason,
    Rest,
    Sentence,
    Split,
    Topic,
    Verdict,
    Way,
)
from core.mount.model.station import AzimuthAxis, ElevationAxis, IndexHole, Mount
from core.passes.stays import Event
from core.passes.track import Pass
from core.place.site import HorizonPoint, Site
from core.plan.document import Evening, Plan, Satellite
from tests.stays import stay_through

EARTH_KM = 6371.0
START_S = 1_730_480_400.0  # 2024-11-01T17:00:00Z
MADE_S = START_S - 30_000.0
HOSTILE_NAME = '#let x = $y$ *b* _i_ @a <l> [c] "q" \\n // ä'
HOSTILE_TITLE = 'Föhre & Söhne #1 $x^2$ *bold* _it_ @ref <label> [b] "q" \\ // /* -- -> ---'
NAMES = ("ALDER-1", "FLINT-2", "EMBER-3", "DROVE-2", "CEDAR-3", HOSTILE_NAME, "W" * 70, "BRIAR-2")


@dataclass(frozen=True)
class Wanted:
    """One contact of a sample: which sky, which verdict."""

    word: str
    name: str
    after_s: float
    peak_deg: float
    heading_deg: float
    height_km: float = 800.0
    resting: bool = False
    notch: bool = False
    feasible: bool = True
    turns: int = 0
    right: bool = True


def pass_of(wanted: Wanted, norad_id: int, floor_deg: float = 5.0) -> Pass:
    """A circular orbit past the site, cut at the floor; positions in east, north, up."""
    radius = EARTH_KM + wanted.height_km
    rate = math.sqrt(398_600.4418 / radius**3)
    peak = math.radians(wanted.peak_deg)
    aside = math.acos(EARTH_KM * math.cos(peak) / radius) - peak
    heading = math.radians(wanted.heading_deg)
    middle_s = START_S + wanted.after_s
    utc_s = middle_s + np.arange(-900.0, 900.5, 0.5)
    along = rate * (utc_s - middle_s)
    forward = radius * np.sin(along)
    side = radius * math.sin(aside) * np.cos(along) * (1.0 if wanted.right else -1.0)
    up = radius * math.cos(aside) * np.cos(along) - EARTH_KM
    east = forward * math.sin(heading) + side * math.cos(heading)
    north = forward * math.cos(heading) - side * math.sin(heading)
    position = np.stack([east, north, up], axis=1)
    range_km = np.linalg.norm(position, axis=1)
    elevation = np.degrees(np.arcsin(up / range_km))
    azimuth = wrap_360(np.degrees(np.arctan2(east, north)))
    inside = elevation >= floor_deg
    utc_s, azimuth, elevation, range_km = (x[inside] for x in (utc_s, azimuth, elevation, range_km))
    position = position[inside]

    def event(index: int) -> Event:
        return Event(
            float(utc_s[index]), float(azimuth[index]), float(elevation[index]), float(range_km[index])
        )

    n = utc_s.size
    stretches = ((float(utc_s[0]), float(utc_s[-1])),)
    if wanted.notch:
        stretches = (
            (float(utc_s[0]), float(utc_s[n // 4])),
            (float(utc_s[n // 4 + 120]), float(utc_s[-1])),
        )
    peak_event, tca = event(int(np.argmax(elevation))), event(int(np.argmin(range_km)))
    velocity = np.gradient(position, utc_s, axis=0)
    stay = stay_through(wanted.name, norad_id, utc_s, (position, velocity), (peak_event, tca))
    return Pass(stay, event(0), event(-1), stretches, None)


def check_of(wanted: Wanted, pass_: Pass, mount: Mount) -> PassCheck:
    """The axes along the pass as the verdict asked for would have them."""
    over_top = wanted.word == "over the top"
    m = unwrap_deg(pass_.azimuth_deg) + (180.0 if over_top else 0.0) - zeta_deg(mount)
    m += 360.0 * (wanted.turns - math.floor(m.min() / 360.0))
    m -= 360.0 * math.ceil(max(m.max() - mount.azimuth.travel_deg, 0.0) / 360.0)
    e = 180.0 - pass_.elevation_deg if over_top else pass_.elevation_deg.copy()
    guard, top = mount.azimuth.guard_deg, mount.azimuth.travel_deg - mount.azimuth.guard_deg
    utc_s, n = pass_.utc_s, pass_.utc_s.size
    moving = np.zeros(n, dtype=bool)
    worked = np.any([(utc_s >= a) & (utc_s <= b) for a, b in pass_.stretches], axis=0)
    split = part = chosen = None
    lost = 0.0
    if wanted.word == "split":
        a, b = n // 2 - 40, n // 2 + 100
        moving[a + 1 : b] = True
        after = m - 360.0 if m.mean() > 225.0 else m + 360.0
        m = np.concatenate([m[:a], np.linspace(m[a], after[b], b - a), after[b:]])
        lost = float(utc_s[b] - utc_s[a])
        split = Split(
            float(utc_s[a]),
            float(utc_s[b]),
            "upright",
            0,
            "upright",
            1,
            float(m[a]),
            float(m[b]),
            "full turn",
        )
    elif wanted.word == "part":
        a, b = 0, int(0.6 * n)
        worked &= np.arange(n) <= b
        part = Part(float(utc_s[a]), float(utc_s[b]), "upright", 0)
        lost = float(utc_s[-1] - utc_s[b])
    elif wanted.word == "out of reach":
        lost = float(np.sum(worked)) * 0.5
    held = np.clip(m, guard, top)
    rest = None
    if wanted.resting:
        held = np.minimum(held, np.sort(held)[int(0.85 * n)])
        at = np.flatnonzero(held == held.max())
        rest = Rest(
            "clockwise stop", float(utc_s[at[0]]), float(utc_s[at[-1]]), float(at.size) / 2, 6.0, 5.5, 0.4
        )
    if wanted.word in {"upright", "over the top"}:
        chosen = Way(
            posture="over the top" if over_top else "upright",
            turn=wanted.turns,
            clear=not wanted.resting,
            rests=wanted.resting,
            m_min_deg=float(held.min()),
            m_max_deg=float(held.max()),
            e_min_deg=float(e.min()),
            e_max_deg=float(e.max()),
            m_aos_deg=float(held[0]),
            m_los_deg=float(held[-1]),
            e_aos_deg=float(e[0]),
            e_los_deg=float(e[-1]),
            peak_azimuth_rate_deg_s=float(np.abs(np.gradient(m, utc_s)).max()),
            seconds_lost=0.0,
            margin_deg=float(min(held.min() - guard, top - held.max())),
            rest=rest,
        )
    pointing = None
    if wanted.word != "out of reach":
        pointing = Pointing(utc_s, held, e, np.zeros(n), worked, moving)
    return PassCheck(
        pass_=pass_,
        ways=(chosen,) if chosen else (),
        verdict=Verdict(wanted.word),
        resting=wanted.resting,
        seconds_lost=lost,
        seconds_in_all=float(sum(b - a for a, b in pass_.stretches)),
        chosen=chosen,
        pointing=pointing,
        split=split,
        part=part,
    )


REASONS = {
    "upright": "Upright in the first turn: it stays clear of both guards.",
    "over the top": "Not upright: it runs 31.0 deg beyond the clockwise stop, from 18:41:07 (bearing 201.4 "
    "deg true, dial 447).",
    "split": "Runs 88.0 deg beyond the clockwise stop, from 19:02:44 (bearing 203.1 deg true, dial 447). "
    "Split by a full turn at 18:29:40 to dial 3, back on at 18:30:50: 70 s off the beam. "
    "Least cure: turn the keyway 31.5 deg clockwise, to 174.5 deg true.",
    "part": "Meets the clockwise stop at 19:01:13. Worked in part, upright: 292 s let go.",
    "out of reach": "Less than a quarter of it could be on the beam. "
    "No single change of the mount would cure it.",
}


def contact_of(wanted: Wanted, norad_id: int, mount: Mount, before: Contact | None) -> Contact:
    """A contact with the move from the one before."""
    check = check_of(wanted, pass_of(wanted, norad_id), mount)
    start, end = check.pass_.aos.utc_s, check.pass_.los.utc_s
    if check.part is not None:
        start, end = check.part.start_utc_s, check.part.end_utc_s
    half = mount.azimuth.travel_deg / 2.0
    first, last = (0.0, 0.0), (0.0, 0.0)
    if check.pointing is not None:
        at = [int(np.searchsorted(check.pointing.utc_s, t)) for t in (start, end)]
        first, last = ((float(check.pointing.m_deg[i]), float(check.pointing.e_deg[i])) for i in at)
    move = None
    if before is not None and before.check.pointing is not None and check.pointing is not None:
        from_m = before.wrap_after_deg + half
        from_e = float(before.check.pointing.e_deg[-1])
        needed = max(
            abs(first[0] - from_m) / mount.azimuth.rate_deg_s,
            abs(first[1] - from_e) / mount.elevation.rate_deg_s,
        )
        there = start - before.end_utc_s
        if not wanted.feasible:
            there = needed - 31.0
        move = Move(needed, there, from_m, first[0], from_e, first[1], needed <= there)
    cure = Cure("keyway_bearing_deg", 31.5, 174.5) if wanted.word == "split" else None
    return Contact(
        check,
        Reason((Sentence(Topic.DONE, REASONS[wanted.word]),), cure),
        1.0,
        True,
        start,
        end,
        move,
        first[0] - half,
        last[0] - half,
    )


EVERY_KIND: tuple[Wanted, ...] = (
    Wanted("upright", NAMES[0], 900.0, 36.0, 20.0),
    Wanted("upright", NAMES[1], 2400.0, 14.0, 160.0, 600.0, resting=True),
    Wanted("over the top", NAMES[2], 3900.0, 83.0, 175.0, 500.0),
    Wanted("split", NAMES[3], 5400.0, 55.0, 340.0, 1200.0),
    Wanted("part", NAMES[4], 7200.0, 41.0, 205.0, notch=True),
    Wanted("out of reach", NAMES[5], 8700.0, 22.0, 10.0),
    Wanted("upright", NAMES[6], 10200.0, 88.5, 350.0, 450.0, turns=1, feasible=False),
    Wanted("split", NAMES[7], 12000.0, 30.0, 100.0, 1400.0, notch=True),
)

MOUNT = Mount(
    keyway_bearing_deg=143.0,
    index_holes=(
        IndexHole(name="A"),
        IndexHole(name="B", offset_deg=-30.0),
        IndexHole(name="C", offset_deg=-75.0),
    ),
    index_hole="B",
    azimuth=AzimuthAxis(dial_wraps_at_deg=360.0, dial_wraps_to_deg=0.0),
    elevation=ElevationAxis(),
)

HORIZON = tuple(
    HorizonPoint(azimuth_deg=a, elevation_deg=e)
    for a, e in (
        (0.0, 4.0),
        (60.0, 6.0),
        (120.0, 3.0),
        (195.0, 5.0),
        (205.0, 17.0),
        (240.0, 19.0),
        (250.0, 6.0),
    )
)


def element_set(name: str, norad_id: int) -> ElementSet:
    """Enough of a set for its epoch to be printed."""
    return ElementSet(
        name=name,
        epoch=f"2024-10-{28 + norad_id % 3}T11:22:33.123456",
        mean_motion_rev_day=14.2,
        eccentricity=0.001,
        inclination_deg=97.7,
        raan_deg=10.0,
        arg_perigee_deg=20.0,
        mean_anomaly_deg=30.0,
        norad_id=norad_id,
    )


def evening(
    wanted: tuple[Wanted, ...] = EVERY_KIND,
    mount: Mount = MOUNT,
    title: str = HOSTILE_TITLE,
    site_name: str = "Larch ridge, upper meadow",
    zone: str = "Europe/Vienna",
    horizon: tuple[HorizonPoint, ...] = HORIZON,
    hours: tuple[str, str] = ("2024-11-01T17:00:00Z", "2024-11-01T21:00:00Z"),
    left_out: int = 2,
) -> tuple[Plan, Result]:
    """A plan and a result that belong together."""
    contacts: list[Contact] = []
    for index, one in enumerate(wanted):
        before = contacts[-1] if contacts else None
        contacts.append(contact_of(one, 44001 + index, mount, before))
    plan = Plan(
        title=title,
        site=Site(
            name=site_name,
            latitude_deg=47.2,
            longitude_deg=9.1,
            height_m=1300.0,
            time_zone=zone,
            horizon=horizon,
        ),
        evening=Evening(start=hours[0], end=hours[1]),
        mount=mount,
        satellites=tuple(
            Satellite(name=one.name, elements=element_set(one.name, 44001 + i))
            for i, one in enumerate(wanted)
        ),
        notes="Gate code is on the phone.\nAsk for the key at the farm.",
    )
    extra = [
        check_of(one, pass_of(one, 44100 + i), mount)
        for i, one in enumerate(
            (
                Wanted("upright", "HAZEL-4", 2500.0, 12.0, 200.0),
                Wanted("out of reach", "OSIER-1", 7000.0, 9.0, 80.0),
            )
        )
    ][:left_out]
    zeta, clockwise = stop_bearings_deg(mount)
    hole = hole_in_use(mount)
    checks = tuple(contact.check for contact in contacts)
    result = Result(
        identity="3f9a1c2e",
        passes=tuple(check.pass_ for check in checks),
        tracks=(),
        refused=(PropagationError("OLD BIRD", 40001, "decayed before 2024-11-01T18:02:00Z"),)
        if left_out
        else (),
        checks=checks,
        reasons=tuple(contact.reason for contact in contacts),
        order=EveningOrder(
            tuple(contacts),
            tuple((check, "It overlaps with pass 2, which is worth more.") for check in extra),
            ("The pick of 44999 near 19:00Z matches no pass.",) if left_out else (),
        ),
        seat=Seat(
            keyway_true_deg=mount.keyway_bearing_deg,
            declination_deg=3.4,
            declination_sigma_deg=0.4,
            declination_model="WMM2020",
            declination_note="",
            keyway_magnetic_deg=wrap_360(mount.keyway_bearing_deg - 3.4),
            counter_clockwise_stop_deg=zeta,
            clockwise_stop_deg=clockwise,
            hole=hole.name,
            hole_offset_deg=hole.offset_deg,
            hole_drilled_deg=hole.drilled_deg,
        ),
        time_zone=zone,
        element_ages=tuple((one.name, 44001 + i, 0.4 + 2.1 * i) for i, one in enumerate(wanted)),
        assumed=("minimum elevation 5 deg", "one antenna of 30 deg beamwidth", "guard 3 deg"),
    )
    return plan, result
