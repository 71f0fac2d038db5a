"""How hypothesis draws: the suite the same each time, so that red is about the change; a hunt at random."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("suite", derandomize=True)
settings.register_profile("hunt", derandomize=False)
settings.load_profile("suite")
