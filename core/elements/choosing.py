"""Element sets chosen by what an operator calls the satellites."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from core.base.words import listed
from core.elements.model import ElementSet

#: ``X (Y)``: files write a satellite's other name in brackets behind its own.
_BRACKETED = re.compile(r"(?P<front>.*?)\s*[(\[](?P<inside>[^()\[\]]+)[)\]]\s*")
_MOST_OFFERED = 3


class Chosen(NamedTuple):
    """The sets asked for, in the order of the files, and a sentence for each name that found none."""

    sets: tuple[ElementSet, ...]
    told: tuple[str, ...]


def sets_named(sets: Sequence[ElementSet], names: str) -> Chosen:
    """The sets that a list of names or catalogue numbers, parted by commas, asks for.

    Case and blanks do not matter. A name is looked for as the whole of a set's name or as its number first;
    where that finds none, as the part in brackets of names such as "X (Y)", then as the part before them.
    """
    wanted = [name.strip() for name in names.split(",") if name.strip()]
    called = [_calls(elements) for elements in sets]
    found: set[int] = set()
    told: list[str] = []
    for name in wanted:
        hits = _places(called, name)
        found.update(hits)
        if not hits:
            told.append(_not_found(sets, name))
    return Chosen(tuple(elements for place, elements in enumerate(sets) if place in found), tuple(told))


def _calls(elements: ElementSet) -> tuple[tuple[str, ...], ...]:
    """What a set answers to, the surest first: name and number, part in brackets, part before them."""
    sure = (_plain(elements.name), str(elements.norad_id))
    match = _BRACKETED.fullmatch(elements.name)
    if match is None:
        return (sure,)
    return sure, (_plain(match["inside"]),), (_plain(match["front"]),)


def _places(called: Sequence[tuple[tuple[str, ...], ...]], name: str) -> list[int]:
    wanted = _plain(name).lstrip("0") if name.isdigit() else _plain(name)
    for rank in range(3):
        hits = [place for place, ranks in enumerate(called) if rank < len(ranks) and wanted in ranks[rank]]
        if hits:
            return hits
    return []


def _not_found(sets: Sequence[ElementSet], name: str) -> str:
    near = near_names(sets, name)
    offer = f"; perhaps {listed(near)}" if near else ""
    return f"no satellite is called {name!r} in these files{offer}"


def near_names(sets: Sequence[ElementSet], name: str) -> list[str]:
    """Names of the sets that come nearest to one that none has, at most three, the nearest first."""
    import difflib  # only where something was misspelt

    own: dict[str, str] = {}
    for elements in sets:
        for rank in _calls(elements):
            own.setdefault(_letters(rank[0]), elements.name)
    near = difflib.get_close_matches(_letters(_plain(name)), own, n=_MOST_OFFERED, cutoff=0.7)
    within = [key for key in own if len(_letters(name)) >= 3 and _letters(_plain(name)) in key]
    return list(dict.fromkeys(own[key] for key in (*near, *within)))[:_MOST_OFFERED]


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _letters(text: str) -> str:
    """Letters and digits alone: "ember 3" is as near to "EMBER-3" as can be."""
    return "".join(mark for mark in text.casefold() if mark.isalnum())
