"""Every number of the stand with its words."""

from __future__ import annotations

from app.window.widgets.typed.values import Value

TRIPOD = (
    Value("stand.tripod_mass_kg", "&Tripod's mass", "kg", "of the tripod alone", ""),
    Value("stand.tripod_height_mm", "Its middle", "mm", "centre of the tripod's mass, over the ground", ""),
    Value("stand.tripod_rating_kg", "&Rated for", "kg", "by its maker", "", "not told"),
    Value("stand.highest_mm", "Highest point", "mm", "over the ground", "", "the highest typed"),
    Value("stand.friction", "Friction", "", "of the feet; wet grass or rock: less", ""),
    Value("stand.settling_mm", "A foot sinks", "mm", "how far one may", ""),
)
WIND = (
    Value("stand.gust_factor", "Gust factor", "", "gusts over the mean", ""),
    Value("stand.margin", "Margin", "", "of what holds over what tips", ""),
    Value("stand.air_density_kg_m3", "Air", "kg/m3", "its density", ""),
)
WISHES = (
    Value("stand.wishes.lost_weight", "A second lost", "", "what it counts", ""),
    Value(
        "stand.wishes.leg_downhill_s", "A leg downhill", "s", "worth, seconds of signal; 0: not wished", ""
    ),
    Value(
        "stand.wishes.downhill_deg",
        "Downhill is",
        "deg",
        "where the ground falls, true",
        "",
        "by the level",
    ),
    Value("stand.wishes.lee_s", "The lee", "s", "worth, seconds of signal; 0: not wished", ""),
    Value("stand.wishes.wind_from_deg", "Wind from", "deg", "true bearing it comes from", "", "not told"),
    Value("stand.wishes.cable_s", "Cable's side", "s", "worth, seconds of signal; 0: not wished", ""),
    Value("stand.wishes.cable_toward_deg", "Cable toward", "deg", "true bearing", "", "not told"),
)
