"""What has to be said before the first heavy import."""

from __future__ import annotations

import os
import sys
from importlib import import_module
from types import ModuleType


def without_algebra_threads() -> None:
    """Before numpy is imported: no threads for products of large matrices, of which there are none here.

    Starting them takes as long as half of numpy (50 ms measured). Who set the number of threads keeps it.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


class _NoPlugins(ModuleType):
    """In place of pydantic's module that looks for plugins, which imports what reads packages' metadata."""

    def get_plugins(self) -> tuple[()]:
        """None."""
        return ()

    def __getattr__(self, name: str) -> object:
        """Whatever else is asked of it is the module's own."""
        if name.startswith("__"):
            raise AttributeError(name)
        if sys.modules.get(self.__name__) is self:
            del sys.modules[self.__name__]
        return getattr(import_module(self.__name__), name)


def without_plugins() -> None:
    """Before the first model is made: pydantic need not look through all packages for plugins.

    Looking takes as long as a quarter of the models (8 ms measured), and to import what looks, with the mail
    library, 12 ms more. Who has set the word keeps it.
    """
    if os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__") == "__all__":
        loader = _NoPlugins("pydantic.plugin._loader")
        sys.modules.setdefault(loader.__name__, loader)
