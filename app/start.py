"""What has to be said before the first heavy import."""

from __future__ import annotations

import builtins
import os
from importlib import import_module


def without_algebra_threads() -> None:
    """Before numpy is imported: no threads for products of large matrices, of which there are none here.

    Starting them takes as long as half of numpy (50 ms measured). Who set the number of threads keeps it.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def without_plugins() -> None:
    """Before the first model is made: pydantic need not look through all packages for plugins.

    Looking takes as long as a quarter of the models (8 ms measured). Who has set the word keeps it.
    """
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")


def with_plain_imports() -> None:
    """Before anything else of Qt: import its binding, and go on importing as Python does.

    The binding puts an import of its own in place, which reads the source of every module imported afterwards
    for a request to have its methods named otherwise. Nothing here asks, and a start reads 150 of them (30 ms
    measured).
    """
    plain = builtins.__import__
    import_module("PySide6")
    vars(builtins)["__import__"] = plain
