"""What a reader gathers from one file: sets with their places, refusals, and notes told once a file."""

from __future__ import annotations

from collections.abc import Iterable

from core.base.errors import Cancelled, ElementsError
from core.base.floods import FirstOf
from core.base.text import one_line
from core.base.units import Progress, no_progress
from core.base.words import first_few
from core.elements.found import Found, Origin
from core.elements.model import ElementSet

#: Of one file's refusals so many are kept; nobody reads more, and a flood of them fills the memory.
MOST_REFUSALS_KEPT = 1000
#: After so many refusals, and more of them than good sets, the rest of a file is not read.
_MOST_REFUSALS = 10_000
#: After so many sets the rest of a file is not read: the public catalogue numbers some 60,000 objects.
_MOST_SETS = 200_000
_NAMES_SHOWN = 12
#: So many names of dropped keywords are remembered.
_MOST_DROPPED = 1000
#: Sets and refusals between two calls of the progress callback.
_SETS_A_REPORT = 500


class Fault(Exception):
    """Why one set is refused: keyword or two-line field, and reason.

    Never leaves the readers: the harvest adds file and place and makes it an ElementsError.
    """

    def __init__(self, field: str, reason: str) -> None:
        self.field, self.reason = field, reason
        super().__init__(f"{field}: {reason}")


class Enough(Exception):
    """So much of a file is damaged that the rest is not read. Never leaves the readers."""


class Harvest:
    """Collects what the readers of one file find, in the order of the file.

    Attributes:
        file: the file's name, for refusals.
        found: what was found, each object once.
        refused: the refusals so far, and how many more there were.
    """

    def __init__(self, file: str, progress: Progress = no_progress) -> None:
        self.file = file
        self._progress = progress
        self._taken = 0
        self.found = Found()
        self.refused: FirstOf[ElementsError] = FirstOf(MOST_REFUSALS_KEPT)
        self._dropped: dict[str, None] = {}
        self._set_aside: dict[str, None] = {}
        self._assumed: dict[str, FirstOf[str]] = {}
        self._remarks: list[str] = []

    def add(self, place: str, elements: ElementSet) -> None:
        """A good set found at ``place``.

        Raises:
            Cancelled: the progress callback, asked every so many sets, returned False.
            Enough: there are more sets than any catalogue holds.
        """
        self._tick()
        self.found.take(Origin(self.file, place), elements)
        if len(self.found) == _MOST_SETS:
            self.remark(f"{_MOST_SETS} sets, more than any catalogue: nothing after {place} was read")
            raise Enough

    def refuse(self, place: str, field: str, reason: str) -> None:
        """A set, or a stretch of the file, that cannot be used.

        Raises:
            Cancelled: as `add`.
            Enough: there were more refusals than any file has sets, and more of them than good sets.
        """
        self._tick()
        if self.refused.is_full:
            self.refused.count()
            if len(self.refused) >= _MOST_REFUSALS and len(self.refused) > 2 * len(self.found):
                self.give_up(place)
        else:
            self.refused.add(ElementsError(self.file, place, field, reason))

    def give_up(self, place: str) -> None:
        """Nothing after ``place`` is read.

        Raises:
            Enough: always.
        """
        self.remark(f"so much damage that nothing after {place} was read")
        raise Enough

    def _tick(self) -> None:
        if self._taken % _SETS_A_REPORT == 0 and not self._progress(len(self.found), 0, "reading elements"):
            raise Cancelled
        self._taken += 1

    def drop(self, keywords: Iterable[str]) -> None:
        """Keywords that the standard does not know; of a flood of them the first are told."""
        for keyword in keywords:
            if len(self._dropped) < _MOST_DROPPED:
                self._dropped[shorten(keyword, 40)] = None

    def set_aside(self, blocks: Iterable[str]) -> None:
        """Blocks that the standard allows and SGP4 has no use for, e.g. ``"covariance"``."""
        self._set_aside.update(dict.fromkeys(blocks))

    def assume(self, what: str, place: str) -> None:
        """Something left out by the set at ``place`` that had to be assumed, in words."""
        self._assumed.setdefault(what, FirstOf(1)).add(place)

    def remark(self, sentence: str) -> None:
        """Something to tell about the file as a whole."""
        self._remarks.append(sentence)

    def notes(self) -> tuple[str, ...]:
        """One sentence for each kind of thing that was dropped, set aside or assumed."""
        notes = [f"{self.file}: {remark}" for remark in self._remarks]
        if self._dropped:
            dropped = first_few(list(self._dropped), _NAMES_SHOWN)
            notes.append(f"{self.file}: dropped keywords {dropped} (not in the standard)")
        if self._set_aside:
            aside = first_few(list(self._set_aside), _NAMES_SHOWN)
            notes.append(f"{self.file}: left aside {aside} (SGP4 has no use for them)")
        for what, places in self._assumed.items():
            more = f" and {places.more} more" if places.more else ""
            notes.append(f"{self.file}: {what} ({places.kept[0]}{more})")
        return tuple(notes)


def lines_told(first: int, last: int) -> str:
    """``line 3``, or ``lines 3 to 5``."""
    return f"line {first}" if first == last else f"lines {first} to {last}"


def shorten(text: object, longest: int = 60) -> str:
    """A value as found in a file, on one line and short enough to be shown in a reason."""
    line = one_line(str(text)[: 4 * longest])
    return line if len(line) <= longest else line[: longest - 3] + "..."
