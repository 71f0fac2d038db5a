"""Ways to true north: which are possible, what their errors are made of, and which is best when."""

from __future__ import annotations

import dataclasses
import math

import numpy as np
import pytest

from core.base.edits import changed
from core.base.times import format_iso, parse_iso
from core.elements.age import age_days
from core.mount.dial.readings import azimuth_from_dial
from core.mount.model.chain import zeta_deg
from core.mount.model.station import Mount
from core.place.site import HorizonPoint, Site
from core.setup.along_track import along_track_s
from core.setup.boom import readout_sigma_deg
from core.setup.methods import Field, Method, best_method, landmark_elevation_deg, methods_at
from core.setup.minutes import by_the_minute
from core.setup.model import CompassReading, Landmark, PointingErrors, Sighting
from core.setup.satellites import satellites_now
from core.setup.sightings.targets import Known, Target, targets_of
from tests.plans import plan_of, short_plan_data

SITE = Site(latitude_deg=47.2, longitude_deg=8.5, height_m=450.0)
AFTERNOON, DUSK, NIGHT = (parse_iso(f"2024-11-01T{clock}:00Z") for clock in ("13:30", "16:40", "20:00"))
MOONLIT = parse_iso("2024-11-17T03:00:00Z")
FAR = Landmark(name="mast", latitude_deg=47.25, longitude_deg=8.6, height_m=900.0, sigma_m=5.0)
COMPASS = CompassReading(reading_deg=140.0)


def field(**given: object) -> Field:
    plan = plan_of(short_plan_data())
    plain = Field(
        site=SITE,
        mount=Mount(keyway_bearing_deg=143.0),
        errors=PointingErrors(),
        beamwidth_deg=30.0,
        landmarks=(),
        compass=None,
        elements=(),
        lean_deg=0.3,
    )
    assert plan.satellites
    return dataclasses.replace(plain, **given)  # type: ignore[arg-type]


def of(methods: tuple[Method, ...], name: str) -> Method:
    return next(one for one in methods if one.method == name)


def satellite_scene() -> tuple[Field, float]:
    """A plan's satellite over the mask at night, with nothing else written down."""
    plan = plan_of(short_plan_data())
    elements = tuple(one.elements for one in plan.satellites)
    everything_hidden = changed(plan.site, "horizon", ())
    south = everything_hidden.model_copy(update={"latitude_deg": -35.0})  # no Polaris
    for minute in range(24 * 60):
        utc_s = plan.evening.start_utc_s + 60.0 * minute
        scene = field(site=south, elements=elements)
        methods = methods_at(scene, utc_s)
        if (
            of(methods, "satellite").possible
            and not of(methods, "sun").possible
            and not of(methods, "moon").possible
        ):
            return scene, utc_s
    raise AssertionError("no satellite rises at night")


@pytest.mark.parametrize(
    ("given", "utc_s", "winner"),
    [
        ({"compass": COMPASS}, AFTERNOON, "sun"),
        ({"compass": COMPASS}, MOONLIT, "moon"),
        ({"compass": COMPASS}, NIGHT, "polaris"),
        ({"compass": COMPASS, "landmarks": (FAR,)}, DUSK, "landmark"),
        ({"compass": COMPASS}, DUSK, "compass"),
    ],
)
def test_five_scenes_have_five_winners(given, utc_s, winner):
    if winner == "moon":  # clouds in the north: a ridge that hides Polaris
        ridge = [(300.0, 0.0), (301.0, 60.0), (60.0, 60.0), (61.0, 0.0)]
        site = changed(SITE, "horizon", tuple(HorizonPoint(azimuth_deg=a, elevation_deg=e) for a, e in ridge))
        given = {**given, "site": site}
    best = best_method(methods_at(field(**given), utc_s))
    assert best is not None
    assert best.method == winner


def test_the_last_resort_is_a_satellites_signal():
    scene, utc_s = satellite_scene()
    best = best_method(methods_at(scene, utc_s))
    assert best is not None
    assert best.method == "satellite"
    assert best.terms[0].name == "finding the peak"
    assert best.sigma_deg is not None
    assert best.sigma_deg > 2.0


def test_with_nothing_to_go_by_there_is_no_best():
    south = Site(latitude_deg=-35.0, longitude_deg=138.0)
    methods = methods_at(field(site=south), parse_iso("2024-11-01T14:00:00Z"))
    assert best_method(methods) is None
    assert all(one.reason and one.sigma_deg is None for one in methods)


def test_a_methods_error_is_the_root_of_the_squares_of_its_terms():
    for utc_s in (AFTERNOON, NIGHT, DUSK):
        for one in methods_at(field(compass=COMPASS, landmarks=(FAR,)), utc_s):
            if one.possible:
                squares = sum(term.sigma_deg**2 for term in one.terms)
                assert one.sigma_deg == pytest.approx(math.sqrt(squares))
                assert [t.sigma_deg for t in one.terms] == sorted(
                    (t.sigma_deg for t in one.terms), reverse=True
                )


def test_steel_and_a_pole_put_the_compass_last_or_out():
    beside = of(methods_at(field(compass=changed(COMPASS, "steel_near", True)), AFTERNOON), "compass")
    assert beside.possible
    assert beside.terms[0].name == "steel near"
    assert "Steel is near" in beside.reason
    pole = Site(latitude_deg=86.0, longitude_deg=142.0)
    there = of(methods_at(field(site=pole, compass=COMPASS), parse_iso("2026-06-01T12:00:00Z")), "compass")
    assert not there.possible
    assert "magnetic pole" in there.reason


def test_the_compass_on_the_keyway_gives_its_true_bearing():
    found = of(methods_at(field(compass=COMPASS), AFTERNOON), "compass")
    # Declination there is 3.4 deg east (WMM2020, as the models' own test values are held elsewhere).
    assert found.bearing_deg == pytest.approx(143.4, abs=0.3)


def test_the_dials_of_a_method_point_the_boom_at_it():
    scene = field(landmarks=(FAR,))
    for one in methods_at(scene, AFTERNOON):
        if one.dials is None:
            continue
        assert one.bearing_deg is not None
        places = azimuth_from_dial(one.dials.azimuth.value_deg, scene.mount.azimuth)
        bearings = [(zeta_deg(scene.mount) + m) % 360.0 for m in places]
        assert min(abs((b - one.bearing_deg + 180.0) % 360.0 - 180.0) for b in bearings) < 1e-6
        assert one.dials.elevation.value_deg == pytest.approx(one.elevation_deg)


def test_what_the_boom_does_not_reach_is_no_method():
    narrow = changed(
        changed(Mount(keyway_bearing_deg=0.0), "azimuth.travel_deg", 90.0), "azimuth.guard_deg", 0.0
    )
    found = of(methods_at(field(mount=narrow), NIGHT), "polaris")
    assert found.possible == (found.dials is not None)
    behind = of(methods_at(field(mount=changed(narrow, "keyway_bearing_deg", 120.0)), NIGHT), "polaris")
    assert not behind.possible
    assert "does not reach" in behind.reason


def test_a_hidden_sun_says_by_what():
    wall = changed(SITE, "horizon", (HorizonPoint(azimuth_deg=0.0, elevation_deg=40.0),))
    assert "behind the mask (40.0 deg" in of(methods_at(field(site=wall), AFTERNOON), "sun").reason
    assert "below the horizon" in of(methods_at(field(), NIGHT), "sun").reason


def test_a_landmark_over_the_earths_curve():
    """10 km away and level the curve hides 7.85 m, of which air gives 13 % back (surveyors' usual value)."""
    assert landmark_elevation_deg(0.0, 0.0, 10_000.0) == pytest.approx(
        -math.degrees(7.848 * 0.87 / 10_000.0), rel=1e-3
    )


def test_the_minutes_agree_with_the_methods_and_the_shadow_falls_away_from_the_sun():
    scene = field()
    sun, moon, polaris = by_the_minute(scene.site, scene.mount, AFTERNOON + 60.0 * np.arange(60))
    assert (sun.body, moon.body, polaris.body) == ("Sun", "Moon", "Polaris")
    method = of(methods_at(scene, AFTERNOON), "sun")
    assert sun.azimuth_deg[0] == pytest.approx(method.bearing_deg)
    assert sun.dials[0] == method.dials
    assert np.allclose((sun.shadow_bearing_deg - sun.azimuth_deg) % 360.0, 180.0)
    assert sun.shadow_m[0] == pytest.approx(1.0 / math.tan(math.radians(sun.apparent_deg[0])))
    assert np.isnan(moon.shadow_m).all()
    night = by_the_minute(scene.site, scene.mount, np.array([NIGHT]))[0]
    assert night.dials == (None,)
    assert np.isnan(night.shadow_m).all()


def test_old_elements_are_late_alike_wherever_it_is_told():
    """The last resort, a sighting and the pointing budget take a set's age along its track by one formula."""
    scene, utc_s = satellite_scene()
    best = best_method(methods_at(scene, utc_s))
    assert best is not None
    elements = next(one for one in scene.elements if one.name == best.target)
    later = next(one for one in satellites_now(scene.site, (elements,), utc_s))
    assert later.along_track_s == along_track_s(age_days(elements, utc_s))
    sighting = Sighting(time=format_iso(utc_s), target=elements.name, azimuth_dial_deg=0.0)
    (target,) = targets_of(Known(scene.site, 5.0, (), (elements,)), [(0, sighting)], [0.0])
    assert isinstance(target, Target)
    late_s = target.azimuth_sigma_deg / abs(target.azimuth_rate_deg_s)
    assert late_s == pytest.approx(along_track_s(age_days(elements, parse_iso(sighting.time))))


def test_a_gears_play_is_half_of_it_either_way():
    """A dial read to half of 2 deg: 1 / sqrt(12); a play of 1 deg: 0.5 on either flank."""
    axis = changed(Mount(), "azimuth.dial_division_deg", 2.0).azimuth
    assert readout_sigma_deg(axis) == pytest.approx(1.0 / math.sqrt(12.0))
    assert readout_sigma_deg(axis, 1.0) == pytest.approx(math.hypot(1.0 / math.sqrt(12.0), 0.5))
    flanks = np.random.default_rng(1).choice([-0.5, 0.5], 4000)
    assert readout_sigma_deg(changed(axis, "dial_division_deg", 0.01), 1.0) == pytest.approx(
        flanks.std(), rel=0.01
    )
