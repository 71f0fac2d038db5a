"""The one door to what is remembered between sessions: typed keys in an ini file."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, QSettings, QStandardPaths

#: A window of another build may have other parts: its geometry is then not restored.
GEOMETRY_VERSION = 1
_LAYOUT = f"layout_{GEOMETRY_VERSION}"


@dataclass(frozen=True)
class Remembered:
    """What the window starts with.

    Attributes:
        last_plan: the plan file of last time, or None.
        scheme: light, dark or dusk.
        page: the page that was open.
        paper: a4 or letter, for the sheet.
        geometry: the window's place, or empty.
        recent: plan files opened or saved lately, the latest first.
        layout: pixels of the parts of splitters and of columns that were set by hand, by their names.
    """

    last_plan: Path | None = None
    scheme: str = "light"
    page: str = "Evening"
    paper: str = "a4"
    geometry: QByteArray = field(default_factory=QByteArray)
    recent: tuple[Path, ...] = ()
    layout: dict[str, tuple[int, ...]] = field(default_factory=dict)


def _settings() -> QSettings:
    """An ini file, so that tests and operators can point it elsewhere by NORTHKEY_SETTINGS."""
    named = os.environ.get("NORTHKEY_SETTINGS")
    folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.GenericConfigLocation)
    path = named or str(Path(folder) / "northkey" / "northkey.ini")
    return QSettings(path, QSettings.Format.IniFormat)


def spares_folder() -> Path:
    """Where windows keep what is in no file: beside the settings."""
    return Path(_settings().fileName()).parent / "unsaved"


def _text(kept: QSettings, key: str, default: str) -> str:
    value = kept.value(key, default, type=str)
    return value if isinstance(value, str) and value else default


def _list(kept: QSettings, key: str) -> list[Any]:
    """A list kept as JSON; empty where there is none, or something else."""
    try:
        found = json.loads(_text(kept, key, "[]"))
    except ValueError:
        return []
    return found if isinstance(found, list) else []


def _layout(kept: QSettings) -> dict[str, tuple[int, ...]]:
    kept.beginGroup(_LAYOUT)
    found = {key: _list(kept, key) for key in kept.childKeys()}
    kept.endGroup()
    sound = {key: sizes for key, sizes in found.items() if sizes and all(type(size) is int for size in sizes)}
    return {key: tuple(sizes) for key, sizes in sound.items()}


def recall() -> Remembered:
    """What was remembered; defaults where nothing was, or nothing that makes sense."""
    kept, plain = _settings(), Remembered()
    last = _text(kept, "plan/last", "")
    geometry = kept.value(f"window/geometry_{GEOMETRY_VERSION}", QByteArray(), type=QByteArray)
    return Remembered(
        last_plan=Path(last) if last else None,
        scheme=_text(kept, "window/scheme", plain.scheme),
        page=_text(kept, "window/page", plain.page),
        paper=_text(kept, "sheet/paper", plain.paper),
        geometry=geometry if isinstance(geometry, QByteArray) else QByteArray(),
        recent=tuple(Path(name) for name in _list(kept, "plan/recent") if isinstance(name, str) and name),
        layout=_layout(kept),
    )


def remember(what: Remembered) -> None:
    """Write what the next start should find; a folder that cannot be written to is no reason to fail."""
    kept = _settings()
    kept.setValue("plan/last", str(what.last_plan) if what.last_plan else "")
    kept.setValue("window/scheme", what.scheme)
    kept.setValue("window/page", what.page)
    kept.setValue("sheet/paper", what.paper)
    kept.setValue(f"window/geometry_{GEOMETRY_VERSION}", what.geometry)
    kept.setValue("plan/recent", json.dumps([str(path) for path in what.recent]))
    for name, sizes in what.layout.items():
        kept.setValue(f"{_LAYOUT}/{name}", json.dumps(list(sizes)))
    kept.sync()
