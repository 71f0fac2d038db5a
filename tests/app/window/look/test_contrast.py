"""Every text is told from each ground it stands on, and the verdicts' tones from each other, by WCAG 2.2.

The contrast of two colours is (L1 + 0.05) / (L2 + 0.05), with L the relative luminance of sRGB.
"""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLabel, QWidget

from app.window.look.scheme import (
    DUSK,
    DUSK_BRIGHTEST,
    LIGHT,
    SCHEMES,
    Scheme,
    fit_type,
    font,
    type_as_asked,
    use_type,
)

PAGE = ("paper", "card", "choice")
SKY = ("day", "dusk_sky", "night")
#: Which colour text has, on what it stands, and the least contrast.
TEXT: tuple[tuple[str, tuple[str, ...], float], ...] = (
    ("ink", (*PAGE, *SKY, "overlap", "edge", "accent_soft", "signal_soft"), 4.5),
    ("faint", (*PAGE, *SKY, "overlap"), 4.5),
    ("accent", (*PAGE, "overlap"), 4.5),
    ("figure", ("paper", "card"), 7.0),
    ("card", ("ink", "accent"), 4.5),
)
PAIRS = [(text, ground, least) for text, grounds, least in TEXT for ground in grounds]


def luminance(color: str) -> float:
    channels = [int(color[at : at + 2], 16) / 255.0 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_the_measure_is_the_standards():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=SCHEMES)
@pytest.mark.parametrize(("text", "ground", "least"), PAIRS)
def test_text_is_read_on_every_ground(scheme: Scheme, text: str, ground: str, least: float):
    assert contrast(getattr(scheme, text), getattr(scheme, ground)) >= least


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=SCHEMES)
def test_the_tones_of_the_verdicts_are_told_apart(scheme: Scheme):
    assert contrast(scheme.signal, scheme.accent) >= 1.6
    for tone in (scheme.signal, scheme.accent):
        assert contrast(tone, scheme.card) >= 3.0


@pytest.mark.parametrize("scheme", SCHEMES.values(), ids=SCHEMES)
def test_what_cannot_be_used_looks_so(scheme: Scheme):
    assert contrast(scheme.asleep, scheme.card) <= 0.6 * contrast(scheme.faint, scheme.card)


def test_only_dials_and_the_accent_are_brightest_at_dusk():
    colors = {name: value for name, value in vars(DUSK).items() if str(value).startswith("#")}
    brightest = {name: max(int(value[at : at + 2], 16) for at in (1, 3, 5)) for name, value in colors.items()}
    assert max(brightest.values()) <= DUSK_BRIGHTEST
    assert {name for name, most in brightest.items() if most > 150} == {"figure", "accent"}


def test_small_type_is_larger_at_dusk_and_its_own_size_again_by_day(qtbot):
    page = QWidget()
    qtbot.addWidget(page)
    with type_as_asked():
        small, large = QLabel("small", page), QLabel("large", page)
        small.setFont(font(8.5))
        large.setFont(font(13))
    use_type(DUSK)
    fit_type(page, DUSK)
    assert (small.font().pointSizeF(), large.font().pointSizeF()) == (DUSK.least_points, 13.0)
    assert font(7.5).pointSizeF() == DUSK.least_points
    use_type(LIGHT)
    fit_type(page, LIGHT)
    assert (small.font().pointSizeF(), large.font().pointSizeF()) == (8.5, 13.0)
    assert font(7.5).pointSizeF() == 7.5
