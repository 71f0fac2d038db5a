"""The pointing budget of an evening, per pass and per antenna, before and after the sighting."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from core.base.angles import Floats
from core.mount.model.station import Antenna, Station
from core.setup.budget.answer import (
    AntennaBudget,
    Budget,
    Figures,
    PassBudget,
    PassTime,
    PointingBudget,
    TermOnSky,
)
from core.setup.budget.combine import (
    OnSky,
    improve_first,
    lobe_loss_db,
    on_sky,
    with_one_halved,
)
from core.setup.budget.draws import Drawn, drawn_evenings
from core.setup.budget.terms.table import term_table
from core.setup.budget.terms.term import Absorbed, North, Term
from core.setup.budget.worked import Moments, WorkedPass, moments_of
from core.setup.model import PointingErrors

#: Drawn evenings: the mean loss is then good to some 3 %, the angle of 19 in 20 to some 2 %.
DRAWS = 2000


def pointing_budget(
    station: Station,
    worked: Sequence[WorkedPass],
    errors: PointingErrors | None = None,
    north: North | None = None,
    absorbed: Absorbed | None = None,
    seed: int = 0,
    draws: int = DRAWS,
) -> PointingBudget:
    """The budget of some passes on every antenna.

    What a way itself costs (resting, an axis too slow) is told with the way and not in here.

    Args:
        station: mount and antennas.
        worked: the passes; those of which nothing is worked are left out.
        errors: what is assumed; None for the defaults.
        north: how the keyway's bearing was found; None: typed, as good as ``errors`` says.
        absorbed: what the sightings' fit found; None before any.
        seed, draws: of the drawn evenings.

    Raises:
        ValueError: the fit's covariance has not the size of what was fitted, or the antenna that was sighted
            along is none of the station's.
    """
    errors = PointingErrors() if errors is None else errors
    some = [one for one in worked if one.stretches]
    if not some:
        nothing = Budget((), ())
        return PointingBudget(nothing, None if absorbed is None else nothing, ())
    moments = moments_of(some, station.mount.tilt)
    ages = [one.age_days for one in some]

    def budget(fit: Absorbed | None) -> Budget:
        tables = [term_table(station, antenna, errors, ages, north, fit) for antenna in station.antennas]
        return _budget(station.antennas, tables, some, moments, fit, (seed, draws))

    after = None if absorbed is None else budget(absorbed)
    return PointingBudget(budget(None), after, _times(station, some, errors))


def _times(station: Station, worked: Sequence[WorkedPass], errors: PointingErrors) -> tuple[PassTime, ...]:
    ages = [one.age_days for one in worked]
    table = term_table(station, station.antennas[0], errors, ages)
    along = [part for term in table for channel in term.channels for part in channel]
    seconds = [np.square(part.sizes) for part in along if part.turns == "track, seconds"]
    sigma_s = np.sqrt(sum(np.broadcast_to(one, len(worked)) for one in seconds))
    return tuple(
        PassTime(
            one.pass_.satellite,
            one.pass_.norad_id,
            one.pass_.aos.utc_s,
            float(sigma),
            one.pass_.cut not in ("start", "both"),
        )
        for one, sigma in zip(worked, sigma_s.tolist(), strict=True)
    )


def _budget(
    antennas: tuple[Antenna, ...],
    tables: Sequence[tuple[Term, ...]],
    worked: Sequence[WorkedPass],
    moments: Moments,
    absorbed: Absorbed | None,
    drawing: tuple[int, int],
) -> Budget:
    beams = [antenna.beamwidth_deg for antenna in antennas]
    drawn = drawn_evenings(tables, beams, moments, absorbed, *drawing)
    skies = [on_sky(table, moments, absorbed) for table in tables]
    halved = [with_one_halved(sky, moments, absorbed) for sky in skies]
    columns = list(zip(antennas, skies, halved, drawn, strict=True))
    return Budget(
        antennas=tuple(
            AntennaBudget(
                antenna.name, antenna.beamwidth_deg, sky.terms, _of_evening(antenna, sky, less, draw)
            )
            for antenna, sky, less, draw in columns
        ),
        passes=tuple(
            _of_pass(one, row, antenna, sky, less, draw)
            for row, one in enumerate(worked)
            for antenna, sky, less, draw in columns
        ),
    )


def _of_pass(
    one: WorkedPass, row: int, antenna: Antenna, sky: OnSky, halved: Floats, drawn: Drawn
) -> PassBudget:
    told = (
        float(drawn.rms_deg[row]),
        float(drawn.mean_loss_db[row]),
        float(drawn.off_95_deg[row]),
        float(drawn.outside[row]),
    )
    return PassBudget(
        satellite=one.pass_.satellite,
        norad_id=one.pass_.norad_id,
        aos_utc_s=one.pass_.aos.utc_s,
        antenna=antenna.name,
        figures=_figures(
            sky, sky.mean_square[:, row], halved[:, row], float(sky.worst_deg[row]), antenna, told
        ),
        peak_rss_deg=float(sky.peak_rss_deg[row]),
        worst_utc_s=float(sky.worst_utc_s[row]),
    )


def _of_evening(antenna: Antenna, sky: OnSky, halved: Floats, drawn: Drawn) -> Figures:
    share = sky.seconds / sky.seconds.sum()
    told = (
        math.sqrt(float(drawn.rms_deg**2 @ share)),
        drawn.evening_loss_db,
        drawn.evening_within_deg(),
        float(drawn.outside @ share),
    )
    return _figures(sky, sky.evening, halved @ share, float(sky.worst_deg.max()), antenna, told)


def _figures(
    sky: OnSky,
    mean_square: Floats,
    halved: Floats,
    worst_deg: float,
    antenna: Antenna,
    drawn: tuple[float, float, float, float],
) -> Figures:
    """The figures of (T,) mean squares; ``drawn``: root mean square, mean loss, angle of 95 %, outside."""
    fixed = float(mean_square[np.array(sky.fixed)].sum())
    total = float(mean_square.sum())
    rss, beam = math.sqrt(total), antenna.beamwidth_deg
    first, *ties = improve_first([term.name for term in sky.terms], halved, total) or ("",)
    return Figures(
        rss_deg=rss,
        fixed_deg=math.sqrt(fixed),
        random_deg=math.sqrt(max(total - fixed, 0.0)),
        worst_deg=worst_deg,
        loss_db=lobe_loss_db(rss, beam),
        worst_loss_db=lobe_loss_db(worst_deg, beam),
        drawn_rms_deg=drawn[0],
        drawn_loss_db=drawn[1],
        off_95_deg=drawn[2],
        outside_share=drawn[3],
        terms=tuple(
            TermOnSky(term.name, term.kind, math.sqrt(float(one)))
            for term, one in zip(sky.terms, mean_square, strict=True)
        ),
        improve_first=first,
        ties=tuple(ties),
    )
