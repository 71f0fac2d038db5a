"""What a file brings may be a flood: the first of it is kept, the rest is counted; lines come one by one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Generic, TypeVar

T = TypeVar("T")


class FirstOf(Generic[T]):
    """The first so many of what may be very many, and how many more there were.

    Attributes:
        kept: the first ones, in order.
        more: how many came after them.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self.kept: list[T] = []
        self.more = 0

    @property
    def is_full(self) -> bool:
        """Whether the next one would only be counted; asked ahead where making one costs something."""
        return len(self.kept) >= self._most

    def __len__(self) -> int:
        return len(self.kept) + self.more

    def add(self, item: T) -> None:
        """Keep it, or count it."""
        if self.is_full:
            self.more += 1
        else:
            self.kept.append(item)

    def count(self, number: int = 1) -> None:
        """So many more, that were not even made."""
        self.more += number


def numbered_lines(text: str) -> Iterator[tuple[int, str]]:
    """(line number from 1, line without its end) of every line, as a split at line feeds would have them.

    One by one: a list of all lines of a text of one-letter lines is thirty times the text.
    """
    start, number = 0, 1
    while (end := text.find("\n", start)) >= 0:
        yield number, text[start:end]
        start, number = end + 1, number + 1
    yield number, text[start:]


class LineCounter:
    """Line numbers of positions in a text; asked for positions that mostly rise, it looks at all but once."""

    def __init__(self, text: str) -> None:
        self._text, self._at, self._line = text, 0, 1

    def at(self, position: int) -> int:
        """The line, from 1, of a position in the text."""
        if position >= self._at:
            self._line += self._text.count("\n", self._at, position)
        else:
            self._line -= self._text.count("\n", position, self._at)
        self._at = position
        return self._line
