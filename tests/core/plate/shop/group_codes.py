"""A small reader of DXF by its group codes: circles and texts, nothing else."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Entity:
    kind: str
    codes: dict[int, str]

    @property
    def layer(self):
        return self.codes[8]

    @property
    def place(self):
        return float(self.codes[10]), float(self.codes[20])


def pairs_of(content: bytes):
    lines = content.decode("utf-8").splitlines()
    return [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]


def entities_of(content: bytes) -> list[Entity]:
    pairs = pairs_of(content)
    start = pairs.index((2, "ENTITIES")) + 1
    found: list[Entity] = []
    for code, value in pairs[start:]:
        if (code, value) == (0, "ENDSEC"):
            break
        if code == 0:
            found.append(Entity(value, {}))
        else:
            found[-1].codes.setdefault(code, value)
    return found


def header_value(content: bytes, name: str) -> str:
    pairs = pairs_of(content)
    return pairs[pairs.index((9, name)) + 1][1]
