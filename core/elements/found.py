"""Element sets as they are found, each object once: of several sets of one the newest is kept."""

from __future__ import annotations

from dataclasses import dataclass

from core.base.errors import ElementsError
from core.base.floods import FirstOf
from core.elements.model import ElementSet

#: So many of the sets that gave way to another are told one by one.
_MOST_TOLD = 1000


@dataclass(frozen=True, slots=True)
class Origin:
    """Where an element set was read.

    Attributes:
        file: the file's name as given.
        place: e.g. ``"line 12"`` or ``"record 3"``.
    """

    file: str
    place: str

    def __str__(self) -> str:
        return f"{self.file}, {self.place}"


class Found:
    """Good sets by catalogue number, in the order they came.

    Attributes:
        gave_way: the refusals of those that another set of the object stands for.
    """

    def __init__(self) -> None:
        self._kept: dict[int, tuple[Origin, ElementSet]] = {}
        self._given: dict[frozenset[str], set[str]] = {}
        self.gave_way: FirstOf[ElementsError] = FirstOf(_MOST_TOLD)

    def __len__(self) -> int:
        return len(self._kept)

    @property
    def sets(self) -> tuple[ElementSet, ...]:
        """In the order they came; a newer one has its own place."""
        return tuple(elements for _, elements in self._kept.values())

    @property
    def origins(self) -> tuple[Origin, ...]:
        """Of `sets`."""
        return tuple(origin for origin, _ in self._kept.values())

    def take(self, origin: Origin, elements: ElementSet) -> None:
        """One more good set: kept, or refused with the one it gave way to."""
        self._share(elements)
        first = self._kept.get(elements.norad_id)
        if first is None:
            self._kept[elements.norad_id] = (origin, elements)
            return
        is_newer = elements.epoch > first[1].epoch
        if self.gave_way.is_full:
            self.gave_way.count()
        elif is_newer:
            self.gave_way.add(_refusal(*first, origin, elements))
        else:
            self.gave_way.add(_refusal(origin, elements, *first))
        if is_newer:
            del self._kept[elements.norad_id]
            self._kept[elements.norad_id] = (origin, elements)

    def _share(self, elements: ElementSet) -> None:
        """Hold once which keys were given: the same of all sets of a file, and nearly half of what one takes.

        Element sets are frozen, so that nobody changes it.
        """
        given = elements.model_fields_set
        shared = self._given.setdefault(frozenset(given), given)
        object.__setattr__(elements, "__pydantic_fields_set__", shared)


def _refusal(origin: Origin, elements: ElementSet, at: Origin, kept: ElementSet) -> ElementsError:
    """Of a set that gives way to the one found at ``at``."""
    if elements.epoch != kept.epoch:
        reason = f"older set of the same object ({elements.norad_id}), the newer one stands in {at}"
        return ElementsError(origin.file, origin.place, "EPOCH", reason)
    same = elements.model_copy(update={"name": kept.name, "object_id": kept.object_id}) == kept
    what = "duplicate" if same else "another set with the same epoch, duplicate of the object"
    reason = f"{what}: {elements.norad_id} was already read from {at}, which is kept"
    return ElementsError(origin.file, origin.place, "NORAD_CAT_ID", reason)
