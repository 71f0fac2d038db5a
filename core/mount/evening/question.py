"""What an evening's order is asked of, and the choice that answers it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from core.base.units import Progress, no_progress
from core.mount.check.ways import Reach
from core.mount.drive.motion import Steered
from core.mount.drive.tracks import MountTrack
from core.mount.evening.order.chains import ChoiceProblem, Solution
from core.mount.evening.order.joined import JoinedTracks
from core.mount.evening.order.moves import mover_of
from core.mount.evening.order.options import options_of
from core.mount.evening.order.rules import EveningRules, MountStart, Wanted
from core.mount.evening.order.solve import solve
from core.mount.evening.order.worth import units_for
from core.mount.model.results import PassCheck
from core.mount.model.station import Posture, Station


@dataclass(frozen=True, eq=False)
class EveningQuestion:
    """All that an evening's order depends on.

    Attributes:
        checks, tracks: all passes on the mount, and their tracks in the mount frame.
        station: what they were checked with.
        shortest_contact_s: no contact is shorter; a picked pass that is shorter itself may be worked whole.
        picks: the picks matched to passes; None without picks, then all passes are wanted.
        rules: costs, margin, idle and stow place.
        mount_start: where the mount stands at first; None: where the first contact starts.
        steered, joined, reaches: `steer_all`, `joined_tracks` and `reaches_of` the tracks, where they are at
            hand.
    """

    checks: tuple[PassCheck, ...]
    tracks: tuple[MountTrack, ...]
    station: Station
    shortest_contact_s: float
    picks: tuple[Wanted, ...] | None = None
    rules: EveningRules = field(default_factory=EveningRules)
    mount_start: MountStart | None = None
    steered: tuple[Steered, ...] | None = None
    joined: JoinedTracks | None = None
    reaches: tuple[Mapping[Posture, Reach], ...] | None = None

    @property
    def picked(self) -> bool:
        """Somebody picked what is wanted."""
        return self.picks is not None

    @cached_property
    def wanted(self) -> tuple[Wanted, ...]:
        """What may be worked."""
        return (
            self.picks if self.picks is not None else tuple(Wanted(i, 1.0) for i in range(len(self.checks)))
        )


@dataclass(frozen=True, eq=False)
class Choice:
    """The problem that a question comes to, and its solution."""

    problem: ChoiceProblem
    solution: Solution


def choose(question: EveningQuestion, progress: Progress = no_progress, every: bool = False) -> Choice:
    """The best evening as spans of options; ``every`` as in `solve`.

    Raises:
        Cancelled: ``progress`` returned False.
    """
    options = options_of(
        question.checks,
        question.tracks,
        question.station,
        question.wanted,
        question.shortest_contact_s,
        question.picked,
        progress=progress,
        steered=question.steered,
        joined=question.joined,
        mount_start=question.mount_start,
    )
    mover = mover_of(question.station.mount, question.rules)
    problem = ChoiceProblem(options, mover, units_for(options, question.rules), question.mount_start)
    return Choice(problem, solve(problem, progress, every))
