"""What has to be said before the first heavy import."""

from __future__ import annotations

import os


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
