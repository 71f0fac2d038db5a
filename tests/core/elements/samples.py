"""Invented element sets for the tests of this folder, and a two-line writer that imports nothing of core."""

from __future__ import annotations

from datetime import datetime

from hypothesis import strategies as st

from core.elements.model import ElementSet, one_line

MADE = {"creation_date": "2024-11-01T12:00:00Z", "originator": "NORTHKEY TEST"}
#: Catalogue numbers that differ in at least two digits from one another, so no single damage confuses two.
IDS = (11022, 22133, 33244, 44355, 55466)


def keywords(**changes):
    """OMM keywords of one invented low satellite; a value of None leaves the keyword out."""
    fields = {
        "OBJECT_NAME": "HILLTOP 1",
        "OBJECT_ID": "2021-007B",
        "EPOCH": "2024-11-01T06:28:48.432",
        "MEAN_MOTION": "14.81234567",
        "ECCENTRICITY": "0.0012345",
        "INCLINATION": "97.5",
        "RA_OF_ASC_NODE": "120.25",
        "ARG_OF_PERICENTER": "45.125",
        "MEAN_ANOMALY": "315.0625",
        "EPHEMERIS_TYPE": "0",
        "CLASSIFICATION_TYPE": "U",
        "NORAD_CAT_ID": "55466",
        "ELEMENT_SET_NO": "999",
        "REV_AT_EPOCH": "12345",
        "BSTAR": "0.00012345",
        "MEAN_MOTION_DOT": "0.00001234",
        "MEAN_MOTION_DDOT": "0",
    }
    fields.update(changes)
    return {keyword: value for keyword, value in fields.items() if value is not None}


def element_set(**changes) -> ElementSet:
    return ElementSet.model_validate(keywords(**changes))


def five_sets() -> tuple[ElementSet, ...]:
    return tuple(
        element_set(OBJECT_NAME=f"HILLTOP {at}", NORAD_CAT_ID=norad_id, MEAN_ANOMALY=10.5 * at)
        for at, norad_id in enumerate(IDS, start=1)
    )


def _checked(line: str) -> str:
    total = sum(int(mark) if mark.isdigit() else mark == "-" for mark in line)
    return f"{line}{total % 10}"


def _exponent(value: float) -> str:
    if value == 0.0:
        return " 00000+0"
    digits, exponent = f"{abs(value):.4e}".split("e")
    return f"{'-' if value < 0 else ' '}{digits.replace('.', '')}{int(exponent) + 1:+d}"


def two_lines(elements: ElementSet, number: str | None = None) -> str:
    """Name line and two lines; what five or eight decimals cannot hold is rounded."""
    moment = datetime.fromisoformat(elements.epoch)
    fraction = (moment - moment.replace(hour=0, minute=0, second=0, microsecond=0)).total_seconds() / 86400.0
    number = number or f"{elements.norad_id:05d}"
    designator = elements.object_id[2:].replace("-", "")
    dot = f"{elements.mean_motion_dot:+.8f}".replace("+", " ").replace("0.", ".", 1)
    first = (
        f"1 {number}{elements.classification} {designator:<8} {moment:%y%j}{f'{fraction:.8f}'[1:]} {dot} "
        f"{_exponent(elements.mean_motion_ddot)} {_exponent(elements.bstar)} {elements.ephemeris_type} "
        f"{elements.element_set_no:4d}"
    )
    second = (
        f"2 {number} {elements.inclination_deg:8.4f} {elements.raan_deg:8.4f} "
        f"{f'{elements.eccentricity:.7f}'[2:]} {elements.arg_perigee_deg:8.4f} "
        f"{elements.mean_anomaly_deg:8.4f} {elements.mean_motion_rev_day:11.8f}{elements.rev_at_epoch:5d}"
    )
    return f"{elements.name}\n{_checked(first)}\n{_checked(second)}\n"


_REALS = {"allow_nan": False, "allow_infinity": False}
_ANGLES = st.floats(min_value=-360.0, max_value=360.0, **_REALS)

epochs = st.builds(
    lambda moment, extra: f"{moment.isoformat()}{extra}" if moment.microsecond else moment.isoformat(),
    st.datetimes(min_value=datetime(1957, 1, 1), max_value=datetime(2099, 12, 31)),
    st.sampled_from(["", "1", "123456789"]),
)


def _by_name(**fields) -> ElementSet:
    return ElementSet(**fields)


element_sets = st.builds(
    _by_name,
    name=st.text(min_size=1, max_size=30).filter(lambda text: 0 < len(one_line(text)) <= 120),
    object_id=st.sampled_from(["", "1998-067A", "2024-001ABC"]),
    epoch=epochs,
    mean_motion_rev_day=st.floats(1e-300, 19.999999999999996, **_REALS),
    eccentricity=st.floats(min_value=0.0, max_value=1.0, exclude_max=True, **_REALS),
    inclination_deg=st.floats(min_value=0.0, max_value=180.0, **_REALS),
    raan_deg=_ANGLES,
    arg_perigee_deg=_ANGLES,
    mean_anomaly_deg=_ANGLES,
    ephemeris_type=st.sampled_from([0, 2]),
    classification=st.sampled_from(["U", "C", "S"]),
    norad_id=st.integers(min_value=1, max_value=999_999_999),
    element_set_no=st.integers(min_value=0, max_value=999_999_999),
    rev_at_epoch=st.integers(min_value=0, max_value=999_999_999),
    bstar=st.floats(**_REALS),
    mean_motion_dot=st.floats(**_REALS),
    mean_motion_ddot=st.floats(**_REALS),
)
