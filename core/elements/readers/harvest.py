"""What a reader gathers from one file: sets with their places, refusals, and notes told once a file."""

from __future__ import annotations

from collections.abc import Iterable

from core.base.errors import Cancelled, ElementsError
from core.base.text import one_line
from core.base.units import Progress, no_progress
from core.base.words import first_few
from core.elements.model import ElementSet

_NAMES_SHOWN = 12
#: Sets between two calls of the progress callback.
_SETS_A_REPORT = 500


class Fault(Exception):
    """Why one set is refused: keyword or two-line field, and reason.

    Never leaves the readers: the harvest adds file and place and makes it an ElementsError.
    """

    def __init__(self, field: str, reason: str) -> None:
        self.field, self.reason = field, reason
        super().__init__(f"{field}: {reason}")


class Harvest:
    """Collects what the readers of one file find, in the order of the file.

    Attributes:
        file: the file's name, for refusals.
        found: (place, set) pairs, places such as ``"line 12"`` or ``"record 3"``.
        refused: the refusals so far.
    """

    def __init__(self, file: str, progress: Progress = no_progress) -> None:
        self.file = file
        self._progress = progress
        self.found: list[tuple[str, ElementSet]] = []
        self.refused: list[ElementsError] = []
        self._dropped: dict[str, None] = {}
        self._set_aside: dict[str, None] = {}
        self._assumed: dict[str, list[str]] = {}
        self._remarks: list[str] = []

    def add(self, place: str, elements: ElementSet) -> None:
        """A good set found at ``place``.

        Raises:
            Cancelled: the progress callback, asked every so many sets, returned False.
        """
        if len(self.found) % _SETS_A_REPORT == 0 and not self._progress(
            len(self.found), 0, "reading elements"
        ):
            raise Cancelled
        self.found.append((place, elements))

    def refuse(self, place: str, field: str, reason: str) -> None:
        """A set, or a stretch of the file, that cannot be used."""
        self.refused.append(ElementsError(self.file, place, field, reason))

    def drop(self, keywords: Iterable[str]) -> None:
        """Keywords that the standard does not know."""
        self._dropped.update(dict.fromkeys(keywords))

    def set_aside(self, blocks: Iterable[str]) -> None:
        """Blocks that the standard allows and SGP4 has no use for, e.g. ``"covariance"``."""
        self._set_aside.update(dict.fromkeys(blocks))

    def assume(self, what: str, place: str) -> None:
        """Something left out by the set at ``place`` that had to be assumed, in words."""
        self._assumed.setdefault(what, []).append(place)

    def remark(self, sentence: str) -> None:
        """Something to tell about the file as a whole."""
        self._remarks.append(sentence)

    def notes(self) -> tuple[str, ...]:
        """One sentence for each kind of thing that was dropped, set aside or assumed."""
        notes = [f"{self.file}: {remark}" for remark in self._remarks]
        if self._dropped:
            notes.append(f"{self.file}: dropped keywords {_named(self._dropped)} (not in the standard)")
        if self._set_aside:
            notes.append(f"{self.file}: left aside {_named(self._set_aside)} (SGP4 has no use for them)")
        for what, places in self._assumed.items():
            notes.append(f"{self.file}: {what} ({first_few(places, 1)})")
        return tuple(notes)


def _named(names: Iterable[str]) -> str:
    return first_few([shorten(name, 40) for name in names], _NAMES_SHOWN)


def lines_told(first: int, last: int) -> str:
    """``line 3``, or ``lines 3 to 5``."""
    return f"line {first}" if first == last else f"lines {first} to {last}"


def shorten(text: object, longest: int = 60) -> str:
    """A value as found in a file, on one line and short enough to be shown in a reason."""
    line = one_line(str(text)[: 4 * longest])
    return line if len(line) <= longest else line[: longest - 3] + "..."
