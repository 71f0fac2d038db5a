"""The one door to what is remembered between sessions: typed keys in an ini file."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings, QStandardPaths

#: A window of another build may have other parts: its geometry is then not restored.
GEOMETRY_VERSION = 1


@dataclass(frozen=True)
class Remembered:
    """What the window starts with.

    Attributes:
        last_plan: the plan file of last time, or None.
        scheme: light, dark or dusk.
        page: the page that was open.
        paper: a4 or letter, for the sheet.
        geometry: the window's place, or empty.
    """

    last_plan: Path | None = None
    scheme: str = "light"
    page: str = "Evening"
    paper: str = "a4"
    geometry: QByteArray = field(default_factory=QByteArray)


def _settings() -> QSettings:
    """An ini file, so that tests and operators can point it elsewhere by NORTHKEY_SETTINGS."""
    named = os.environ.get("NORTHKEY_SETTINGS")
    folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.GenericConfigLocation)
    path = named or str(Path(folder) / "northkey" / "northkey.ini")
    return QSettings(path, QSettings.Format.IniFormat)


def _text(kept: QSettings, key: str, default: str) -> str:
    value = kept.value(key, default, type=str)
    return value if isinstance(value, str) and value else default


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
    )


def remember(what: Remembered) -> None:
    """Write what the next start should find; a folder that cannot be written to is no reason to fail."""
    kept = _settings()
    kept.setValue("plan/last", str(what.last_plan) if what.last_plan else "")
    kept.setValue("window/scheme", what.scheme)
    kept.setValue("window/page", what.page)
    kept.setValue("sheet/paper", what.paper)
    kept.setValue(f"window/geometry_{GEOMETRY_VERSION}", what.geometry)
    kept.sync()
