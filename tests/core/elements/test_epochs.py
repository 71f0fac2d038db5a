from __future__ import annotations

from datetime import UTC, datetime, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.base.errors import ValueRangeError
from core.elements.epochs import canonical_epoch, epoch_utc_s, split_jd, two_line_epoch


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("2024-11-01T16:00:00", "2024-11-01T16:00:00"),
        ("2024-11-01T16:00:00Z", "2024-11-01T16:00:00"),
        (" 2024-11-01T16:00:00.000Z ", "2024-11-01T16:00:00"),
        ("2024-11-01T16:00:00.5", "2024-11-01T16:00:00.5"),
        ("2024-11-01T16:00:00.123456789012345678900", "2024-11-01T16:00:00.1234567890123456789"),
        ("2007-064T10:34:41.4264", "2007-03-05T10:34:41.4264"),
        ("2007-064T10:34:41.4264Z", "2007-03-05T10:34:41.4264"),
        ("2024-366T23:59:59.9", "2024-12-31T23:59:59.9"),
        ("2024-060T00:00:00", "2024-02-29T00:00:00"),
        ("2023-060T00:00:00", "2023-03-01T00:00:00"),
        ("2000-02-29T00:00:00", "2000-02-29T00:00:00"),
        ("2016-12-31T23:59:60", "2017-01-01T00:00:00"),
        ("2016-12-31T23:59:60.25Z", "2017-01-01T00:00:00.25"),
        ("2016-366T23:59:60.75", "2017-01-01T00:00:00.75"),
        ("2015-06-30T23:59:60.0", "2015-07-01T00:00:00"),
        ("0001-01-01T00:00:00", "0001-01-01T00:00:00"),
        ("9999-365T23:59:59", "9999-12-31T23:59:59"),
    ],
)
def test_every_legal_form_comes_to_one_text(text, canonical):
    assert canonical_epoch(text) == canonical
    assert canonical_epoch(canonical) == canonical


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("2024-13-01T00:00:00", "month"),
        ("2024-00-01T00:00:00", "month"),
        ("2024-02-30T00:00:00", "29 days"),
        ("2023-02-29T00:00:00", "28 days"),
        ("1900-02-29T00:00:00", "28 days"),
        ("2024-11-00T00:00:00", "30 days"),
        ("2023-366T00:00:00", "365 days"),
        ("2024-367T00:00:00", "366 days"),
        ("2024-000T00:00:00", "366 days"),
        ("0000-01-01T00:00:00", "year"),
        ("0000-001T00:00:00", "year"),
        ("2024-11-01T24:00:00", "hours"),
        ("2024-11-01T23:60:00", "minutes"),
        ("2024-11-01T23:59:61", "seconds"),
        ("2024-11-01T23:59:60", "seconds"),
        ("2016-12-31T22:59:60", "seconds"),
        ("9999-12-31T23:59:60", "seconds"),
        ("2024-11-01T16:00:00+00:00", "UTC date and time"),
        ("2024-11-01T16:00:00+02:00", "UTC date and time"),
        ("2024-11-01T16:00:00ZZ", "UTC date and time"),
        ("2024-11-01T16:00:00z", "UTC date and time"),
        ("2024-11-01 16:00:00", "UTC date and time"),
        ("2024-11-01T16:00", "UTC date and time"),
        ("2024-11-01T16:00:00.", "UTC date and time"),
        ("2024-11-01T16:00:00,5", "UTC date and time"),
        ("2024-11-01", "UTC date and time"),
        ("24306.5", "UTC date and time"),
        ("2024-1-1T0:0:0", "UTC date and time"),
        ("２０２４-11-01T16:00:00", "UTC date and time"),
        ("2024-11-01T16:00:0٥", "UTC date and time"),
        ("-2024-11-01T16:00:00", "UTC date and time"),
        ("2024-11-01T16:00:00\n2024", "UTC date and time"),
        ("", "UTC date and time"),
    ],
)
def test_other_texts_are_refused_with_what_is_wrong(text, told):
    with pytest.raises(ValueRangeError) as refusal:
        canonical_epoch(text)
    assert refusal.value.field == "EPOCH"
    assert told in refusal.value.allowed


def test_the_refusal_names_the_field_asked_for_and_shortens_the_text():
    with pytest.raises(ValueRangeError) as refusal:
        canonical_epoch("x" * 10_000, "CREATION_DATE")
    assert refusal.value.field == "CREATION_DATE"
    assert len(str(refusal.value)) < 250


@given(st.datetimes(min_value=datetime(1, 1, 1), max_value=datetime(9999, 12, 31)))
def test_both_date_forms_agree_with_the_calendar_of_the_standard_library(moment):
    calendar = moment.isoformat(timespec="microseconds")
    by_day = f"{moment.year:04d}-{moment.timetuple().tm_yday:03d}T{calendar.partition('T')[2]}"
    assert canonical_epoch(calendar) == canonical_epoch(by_day + "Z")
    assert datetime.fromisoformat(canonical_epoch(calendar)) == moment


@given(st.lists(st.datetimes(), min_size=2, max_size=2))
def test_canonical_texts_sort_as_the_moments_do(moments):
    first, second = (canonical_epoch(moment.isoformat()) for moment in moments)
    assert (first < second) == (moments[0] < moments[1])
    assert (first == second) == (moments[0] == moments[1])


@given(st.datetimes(min_value=datetime(1957, 1, 1), max_value=datetime(2100, 1, 1)))
def test_julian_date_is_split_without_loss(moment):
    whole, fraction = split_jd(canonical_epoch(moment.isoformat()))
    since = moment - datetime(1970, 1, 1)
    exact = Fraction(since // timedelta(microseconds=1), 86_400_000_000)
    assert whole % 1.0 == 0.5
    assert 0.0 <= fraction <= 1.0
    assert abs(Fraction(whole) + Fraction(fraction) - (Fraction(4881175, 2) + exact)) < Fraction(1, 10**15)


def test_a_million_decimals_are_read_quickly_and_kept():
    epoch = canonical_epoch("2024-11-01T12:00:00." + "1" * 1_000_000)
    assert len(epoch) == 1_000_020
    assert split_jd(epoch)[1] == pytest.approx(0.5 + 0.1111111111 / 86400.0, abs=1e-15)


def test_posix_seconds():
    assert epoch_utc_s("2024-11-01T16:00:00.5") == datetime(2024, 11, 1, 16, tzinfo=UTC).timestamp() + 0.5


@given(st.integers(0, 99), st.integers(1, 365), st.integers(0, 99_999_999))
def test_two_line_epochs_are_exact(year, day, fraction):
    full = 1900 + year if year >= 57 else 2000 + year
    moment = datetime(full, 1, 1) + timedelta(days=day - 1, microseconds=fraction * 864)
    assert two_line_epoch(year, day, fraction) == canonical_epoch(moment.isoformat())


def test_two_line_years_turn_at_57():
    assert two_line_epoch(57, 1, 0) == "1957-01-01T00:00:00"
    assert two_line_epoch(99, 365, 50_000_000) == "1999-12-31T12:00:00"
    assert two_line_epoch(0, 366, 0) == "2000-12-31T00:00:00"
    assert two_line_epoch(56, 1, 1) == "2056-01-01T00:00:00.000864"


@pytest.mark.parametrize(("year", "day"), [(23, 366), (24, 367), (24, 0)])
def test_two_line_days_must_exist(year, day):
    with pytest.raises(ValueRangeError, match="a date that exists"):
        two_line_epoch(year, day, 0)
