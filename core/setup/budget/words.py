"""The pointing budget in short sentences, number first."""

from __future__ import annotations

from core.base.words import figure, listed, plain
from core.place.zones import local_clock
from core.setup.budget.answer import AntennaBudget, Budget, Figures, PassTime, PointingBudget

#: Where 12 (off / beamwidth)^2 says nothing.
OUTSIDE = "outside the main lobe"


def loss_words(loss_db: float | None) -> str:
    """``0.4 dB``."""
    return OUTSIDE if loss_db is None else f"{figure(loss_db)} dB"


def time_words(time: PassTime, zone: str) -> str:
    """``AOS 19:31:40 +- 6 s``: twice the standard deviation, to a second, at least 1; local time."""
    clock = local_clock(time.aos_utc_s, zone)
    if not time.crosses:
        return f"in sight before {clock}"
    return f"AOS {clock} +- {max(round(2.0 * time.sigma_s), 1)} s"


def improve_words(figures: Figures) -> str:
    """``step lag``, ``lean or clock, which do as much``; empty where nothing is to be improved."""
    if not figures.ties:
        return figures.improve_first
    return " or ".join((figures.improve_first, *figures.ties)) + ", which do as much"


def antenna_sentence(one: AntennaBudget) -> str:
    """An antenna over the evening."""
    told = one.figures
    first = f" Improve first: {improve_words(told)}." if told.improve_first else ""
    return (
        f"{figure(told.rss_deg)} deg on the {one.antenna}, {loss_words(told.loss_db)}; "
        f"95 % within {figure(told.off_95_deg)} deg. Worst case {figure(told.worst_deg)} deg, "
        f"{loss_words(told.worst_loss_db)}.{first}"
    )


def rules_sentence(budget: Budget) -> str:
    """All antennas over the evening; empty without passes."""
    return " ".join(antenna_sentence(one) for one in budget.antennas)


def gained_sentence(budget: PointingBudget) -> str:
    """What the sighting did for each antenna; empty before it."""
    if budget.after is None or not budget.after.antennas:
        return ""
    told = [
        f"from {figure(old.figures.rss_deg)} to {figure(new.figures.rss_deg)} deg on the {new.antenna}"
        for old, new in zip(budget.before.antennas, budget.after.antennas, strict=True)
    ]
    return f"The sighting: {listed(told)}."


def size_words(size: float, unit: str) -> str:
    """``0.3 deg``, ``1 s``."""
    return f"{plain(size)} {unit}"
