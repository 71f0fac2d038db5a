"""The one door to what is remembered between sessions: typed keys in an ini file."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings, QStandardPaths


@dataclass(frozen=True)
class Remembered:
    """What the window starts with.

    Attributes:
        last_plan: the plan file of last time, or None.
        scheme: light, dark or dusk.
        page: the page that was open.
        geometry: the window's place, or empty.
    """

    last_plan: Path | None
    scheme: str
    page: str
    geometry: QByteArray


def _settings() -> QSettings:
    """An ini file, so that tests and operators can point it elsewhere by NORTHKEY_SETTINGS."""
    named = os.environ.get("NORTHKEY_SETTINGS")
    folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.GenericConfigLocation)
    path = named or str(Path(folder) / "northkey" / "northkey.ini")
    return QSettings(path, QSettings.Format.IniFormat)


def recall() -> Remembered:
    """What was remembered; defaults where nothing was."""
    kept = _settings()
    last = str(kept.value("plan/last", "", type=str))
    geometry = kept.value("window/geometry_1", QByteArray(), type=QByteArray)
    return Remembered(
        last_plan=Path(last) if last else None,
        scheme=str(kept.value("window/scheme", "light", type=str)),
        page=str(kept.value("window/page", "Evening", type=str)),
        geometry=geometry if isinstance(geometry, QByteArray) else QByteArray(),
    )


def remember(what: Remembered) -> None:
    """Write what the next start should find."""
    kept = _settings()
    kept.setValue("plan/last", str(what.last_plan) if what.last_plan else "")
    kept.setValue("window/scheme", what.scheme)
    kept.setValue("window/page", what.page)
    kept.setValue("window/geometry_1", what.geometry)
    kept.sync()
