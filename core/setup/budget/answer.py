"""What a pointing budget answers: per pass, per antenna, before and after the sighting."""

from __future__ import annotations

from dataclasses import dataclass

from core.setup.budget.terms.term import Kind, Term


@dataclass(frozen=True)
class TermOnSky:
    """What one term comes to on the sky, root mean square in degrees."""

    name: str
    kind: Kind
    deg: float


@dataclass(frozen=True)
class Figures:
    """What all terms of an antenna come to, over a pass or over an evening.

    Attributes:
        rss_deg: root of the mean, over the worked seconds, of all terms added in squares.
        fixed_deg, random_deg: the same of what is fixed for the evening, and of the rest.
        worst_deg: greatest sum of all bounds at any moment.
        loss_db: 12 (rss / beamwidth)^2, to first order the mean loss; None outside the main lobe.
        worst_loss_db: at worst_deg; None outside the main lobe.
        drawn_rms_deg: root mean square of the drawn evenings, by exact vectors.
        drawn_loss_db: their mean loss, the main lobe's edge for what is outside.
        off_95_deg: 95 % of the drawn moments are within it.
        outside_share: of the drawn moments, those outside the main lobe.
        terms: each on the sky.
        improve_first: the term whose halving lowers rss_deg most; empty where none does.
        ties: others that lower it just as much.
    """

    rss_deg: float
    fixed_deg: float
    random_deg: float
    worst_deg: float
    loss_db: float | None
    worst_loss_db: float | None
    drawn_rms_deg: float
    drawn_loss_db: float
    off_95_deg: float
    outside_share: float
    terms: tuple[TermOnSky, ...]
    improve_first: str
    ties: tuple[str, ...]


@dataclass(frozen=True)
class PassBudget:
    """One antenna on one pass.

    Attributes:
        satellite, norad_id, aos_utc_s: the pass.
        antenna: its name.
        figures: over what is worked of the pass.
        peak_rss_deg: all terms added in squares, at the moment when they come to most.
        worst_utc_s: when the worst case is greatest.
    """

    satellite: str
    norad_id: int
    aos_utc_s: float
    antenna: str
    figures: Figures
    peak_rss_deg: float
    worst_utc_s: float


@dataclass(frozen=True)
class AntennaBudget:
    """One antenna over the evening; ``terms`` are the table's, ``figures`` what they come to on the sky."""

    antenna: str
    beamwidth_deg: float
    terms: tuple[Term, ...]
    figures: Figures


@dataclass(frozen=True)
class Budget:
    """The budget with one set of terms.

    Attributes:
        antennas: over the evening.
        passes: by pass, and for each by antenna.
    """

    antennas: tuple[AntennaBudget, ...]
    passes: tuple[PassBudget, ...]


@dataclass(frozen=True)
class PassTime:
    """How well a pass's time is known.

    Attributes:
        satellite, norad_id, aos_utc_s: the pass.
        sigma_s: one standard deviation, the elements' age and the clock together.
        crosses: its AOS is where it comes into sight; False where the evening's hours cut it.
    """

    satellite: str
    norad_id: int
    aos_utc_s: float
    sigma_s: float
    crosses: bool


@dataclass(frozen=True)
class PointingBudget:
    """The answer.

    Attributes:
        before: before the sighting.
        after: after it; None where nothing was fitted.
        times: of every pass.
    """

    before: Budget
    after: Budget | None
    times: tuple[PassTime, ...]

    @property
    def now(self) -> Budget:
        """The one that holds."""
        return self.before if self.after is None else self.after
