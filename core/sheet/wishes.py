"""What the sheet is asked to be: its shape, and what is on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

#: cards: two contacts a page where they fit. four: four small cards a page, without the sky. page: the whole
#: evening on one page, with the line on the dial, large. strips: narrow columns to be cut out, for a pocket.
Shape = Literal["cards", "four", "page", "strips"]
SHAPES: tuple[Shape, ...] = get_args(Shape)

#: In words, for a choice.
SHAPE_WORDS: dict[Shape, str] = {
    "cards": "Cards, two a page",
    "four": "Small cards, four a page",
    "page": "The evening on one page",
    "strips": "Pocket strips",
}
#: Lines of a card at most, so that it always fits: a small card has less room, a strip has no end.
MOST_LINES: dict[Shape, int] = {"cards": 60, "four": 32, "page": 60, "strips": 60}


@dataclass(frozen=True)
class SheetWishes:
    """How the sheet is wanted.

    Attributes:
        shape: how the contacts are laid out.
        set_up: with the set-up card; None: with it unless the evening was planned again from a moment, when
            the station stands, and only before cards.
        left_out: with the list of passes that are not worked, and why.
    """

    shape: Shape = "cards"
    set_up: bool | None = None
    left_out: bool = False

    @property
    def across(self) -> bool:
        """The paper lies across."""
        return self.shape == "page"

    def with_set_up(self, planned_again: bool) -> bool:
        """Whether the set-up card is printed."""
        if self.set_up is not None:
            return self.set_up
        return self.shape == "cards" and not planned_again


PLAIN_WISHES = SheetWishes()
