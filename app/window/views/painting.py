"""Painting that ends whatever happens in it.

An exception in a picture leaves its painter in the traceback, at work on a widget that Qt goes on to paint or
to destroy: the program then ends with a segmentation fault before anybody is told. Ended in time, the fault
is told like any other and the work is kept.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtGui import QPaintDevice, QPainter


@contextmanager
def painting(on: QPaintDevice) -> Iterator[QPainter]:
    """A painter on a widget or a picture, ended on leaving."""
    painter = QPainter(on)
    try:
        yield painter
    finally:
        painter.end()
