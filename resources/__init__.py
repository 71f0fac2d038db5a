"""Bundled files: the demo scenario, the sheet template, the pocket page, fonts."""

from pathlib import Path


def bundled(*names: str) -> Path:
    """A bundled file or folder.

    Packages are installed as folders, so a path serves: the library that would also read out of archives is
    one more of a start.
    """
    return Path(__file__).parent.joinpath(*names)
