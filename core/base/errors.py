"""Project exceptions: each carries its facts and reads as one clear sentence.

Nothing below the edge prints; the commands and the window show ``str(error)`` as it is.
"""

from __future__ import annotations

#: Letters of a value that a sentence shows.
_LONGEST_SHOWN = 80


class NorthkeyError(Exception):
    """Base of every exception this project raises on purpose; ``str()`` is one sentence.

    They cross process boundaries with all their facts, so they pickle by what they hold.
    """

    def __reduce__(self) -> tuple[object, ...]:
        return _revived, (type(self), self.args, self.__dict__)


def _revived(kind: type[NorthkeyError], args: tuple[object, ...], facts: dict[str, object]) -> NorthkeyError:
    error = kind.__new__(kind, *args)
    error.args = args
    error.__dict__.update(facts)
    return error


class ElementsError(NorthkeyError):
    """An element set (or a whole element file) that was refused.

    Attributes:
        file: name of the file it came from, or a stand-in such as ``"(text)"``.
        place: where in the file, e.g. ``"line 12"`` or ``"record 3"``; empty when the whole file is meant.
        field: OMM keyword or two-line field at fault; empty when none can be named.
        reason: what is wrong and, where it can be said, what would be right.
    """

    def __init__(self, file: str, place: str, field: str, reason: str) -> None:
        self.file, self.place, self.field, self.reason = file, place, field, reason
        where = ", ".join(part for part in (file, place, field) if part)
        super().__init__(f"{where}: {reason}")


class PropagationError(NorthkeyError):
    """An element set that cannot be propagated over the window asked for.

    Attributes:
        satellite: object name.
        norad_id: catalogue number, or None where the set has none.
        reason: one clause, e.g. ``"decayed before 2024-11-01T18:02:00Z"``.
    """

    def __init__(self, satellite: str, norad_id: int | None, reason: str) -> None:
        self.satellite, self.norad_id, self.reason = satellite, norad_id, reason
        super().__init__(f"{satellite}: {reason}")


class ValueRangeError(NorthkeyError):
    """A value outside what is possible.

    Attributes:
        field: what was given, e.g. ``"latitude_deg"``.
        value: what it was, as given.
        allowed: the range or form in words, e.g. ``"-90 to 90"``.
    """

    def __init__(self, field: str, value: object, allowed: str) -> None:
        self.field, self.value, self.allowed = field, value, allowed
        shown = str(value)  # a whole file, pasted by mistake, is no sentence
        shown = shown if len(shown) <= _LONGEST_SHOWN else shown[: _LONGEST_SHOWN - 3] + "..."
        super().__init__(f"{field} is {shown}, it must be {allowed}")


class DialTwiceError(NorthkeyError):
    """A dial reading that the axis passes more than once, told without which time round.

    Attributes:
        dial_deg: the figure.
        places_deg: mechanical azimuths that show it, rising from the counter-clockwise stop.
    """

    def __init__(self, dial_deg: float, places_deg: tuple[float, ...]) -> None:
        self.dial_deg, self.places_deg = dial_deg, places_deg
        super().__init__(f"{self.occurs}: tell which time round, {self.rounds}")

    @property
    def occurs(self) -> str:
        """``azimuth dial 20 occurs twice, at 20 and 380 deg from the counter-clockwise stop``."""
        many = "twice" if len(self.places_deg) == 2 else f"{len(self.places_deg)} times"
        places = " and ".join(f"{m_deg:.0f}" for m_deg in self.places_deg)
        return (
            f"azimuth dial {self.dial_deg:g} occurs {many}, at {places} deg from the counter-clockwise stop"
        )

    @property
    def rounds(self) -> str:
        """``1 or 2``."""
        return " or ".join(str(k) for k in range(1, len(self.places_deg) + 1))


class FileProblem(NorthkeyError):
    """A file that cannot be read, is of the wrong form, or must not be overwritten.

    Attributes:
        file: its path as the operator gave it.
        place: line, key path or empty.
        reason: what is wrong and what to do.
    """

    def __init__(self, file: str, place: str, reason: str) -> None:
        self.file, self.place, self.reason = file, place, reason
        where = f"{file}, {place}" if place else file
        super().__init__(f"{where}: {reason}")


class PlanError(FileProblem):
    """A plan that is not valid; ``place`` is the key path, e.g. ``"mount.azimuth.travel_deg"``."""


class SolidError(NorthkeyError):
    """A part that the solids' kernel cannot write.

    Attributes:
        part: its identity.
    """

    def __init__(self, part: str) -> None:
        self.part = part
        super().__init__(f"part {part}: the solid cannot be written; the other files do not need it")


class Cancelled(NorthkeyError):
    """Raised out of a long computation whose progress callback asked for an end."""

    def __init__(self) -> None:
        super().__init__("cancelled")
