"""What lies over what, and which words are cut, on a page as it is shown."""

from __future__ import annotations

from itertools import combinations

from PySide6.QtCore import QPoint, QRect
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QSizePolicy,
    QWidget,
)

_PARTS = (QAbstractButton, QLineEdit, QLabel, QComboBox, QAbstractItemView, QPlainTextEdit)
_WHOLES = (QAbstractItemView, QComboBox, QLineEdit)


def overlaps(page: QWidget) -> list[str]:
    """Pairs of parts that lie over each other, parts whose words do not fit; not what is scrolled away."""
    shown = [part for part in page.findChildren(QWidget) if isinstance(part, _PARTS) and _counts(part)]
    places = [(part, _seen(part, page)) for part in shown]
    told = [f"{_name(part)}: {fault}" for part in shown for fault in _faults(part)]
    for (one, first), (other, second) in combinations(places, 2):
        both = first.intersected(second)
        inside = one.isAncestorOf(other) or other.isAncestorOf(one)
        if both.width() > 1 and both.height() > 1 and not inside:
            told.append(f"{_name(one)} and {_name(other)} lie over each other")
    return told


def _counts(part: QWidget) -> bool:
    return part.isVisible() and not part.visibleRegion().isEmpty() and not isinstance(part.parent(), _WHOLES)


def _seen(part: QWidget, page: QWidget) -> QRect:
    return part.visibleRegion().boundingRect().translated(part.mapTo(page, QPoint(0, 0)))


def _name(part: QWidget) -> str:
    return (part.accessibleName() or str(part.property("text")))[:40]


def _faults(part: QWidget) -> list[str]:
    told = []
    if isinstance(part, QLabel) and part.text() and _has_own_size(part):
        if part.wordWrap():
            low = part.heightForWidth(part.width()) > part.height() + 1
        else:
            low = part.sizeHint().height() > part.height() + 1
            if part.sizeHint().width() > part.width() + 1:
                told.append(f"{part.sizeHint().width() - part.width()} px too narrow")
        if low:
            told.append("too low for its words")
    if isinstance(part, QAbstractButton | QLineEdit) and part.minimumSizeHint().height() > part.height() + 1:
        told.append("too low")
    if part.visibleRegion().boundingRect().width() < part.width() - 1:
        told.append("cut at its side")
    return told


def _has_own_size(label: QLabel) -> bool:
    """Not one that gives way by cutting its words and saying them all in its tool tip."""
    gives = type(label).__name__ == "ElidedLabel"
    return not gives and label.sizePolicy().horizontalPolicy() != QSizePolicy.Policy.Ignored
