"""PySide6 6.12.0 on Python 3.11 loses one reference to True at every emit and aborts after some 560."""

from __future__ import annotations

import sys

import pytest
from PySide6.QtCore import QObject, Signal


class Sender(QObject):
    bare = Signal()
    flagged = Signal(bool)
    told = Signal(object)


@pytest.mark.parametrize(
    "emit", [lambda s: s.bare.emit(), lambda s: s.flagged.emit(True), lambda s: s.told.emit(True)]
)
@pytest.mark.parametrize("connected", [False, True])
def test_references_to_true_stay(emit, connected):
    sender = Sender()
    if connected:
        for signal in (sender.bare, sender.flagged, sender.told):
            signal.connect(lambda *_: None)
    emit(sender)
    before = sys.getrefcount(True)
    for _ in range(100):
        emit(sender)
    assert abs(sys.getrefcount(True) - before) < 5
