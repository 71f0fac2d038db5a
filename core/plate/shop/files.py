"""The files that go to the shop: one list, each with its name and who makes its content."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from core.plate.part import PlatePart
from core.plate.shop.hole_table import hole_table_csv

#: Name in the folder, and its content; a further form of the part joins here.
WRITERS: tuple[tuple[str, Callable[[PlatePart], bytes]], ...] = (("hole_table.csv", hole_table_csv),)


def shop_files(part: PlatePart) -> Iterator[tuple[str, bytes]]:
    """Each file's name and content, made when it is asked for."""
    for name, content_of in WRITERS:
        yield name, content_of(part)
