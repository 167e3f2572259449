"""Instants, beside Python's own clock arithmetic."""

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.logbook.instant import parse


@given(
    st.datetimes(datetime(2, 1, 2), datetime(9990, 1, 1)),
    st.integers(-1439, 1439),
    st.integers(-100_000, 100_000),
)
def test_as_the_standard_library_reckons(local, offset_min, minutes):
    moment = local.replace(tzinfo=timezone(timedelta(minutes=offset_min)))
    ours = parse(moment.isoformat()).plus_minutes(minutes).in_utc()
    assert datetime.fromisoformat(ours) == moment + timedelta(minutes=minutes)
    assert ours.endswith("Z")


@pytest.mark.parametrize(
    ("text", "utc"),
    [
        ("2031-05-01T23:30:00.500-02:30", "2031-05-02T02:00:00.5Z"),
        ("2031-05-01T09:00:00.000Z", "2031-05-01T09:00:00Z"),
        ("2032-02-28T23:59:59.1234567891234-00:01", "2032-02-29T00:00:59.1234567891234Z"),
        ("0001-01-01T00:00:00+00:01", "0000-12-31T23:59:00Z"),
        ("9999-12-31T23:59:00-00:01", "10000-01-01T00:00:00Z"),
    ],
)
def test_in_utc(text, utc):
    assert parse(text).in_utc() == utc


def test_the_later_of_two_instants_is_not_that_of_two_texts():
    assert parse("2031-05-01T10:00:00+02:00") < parse("2031-05-01T09:00:00Z")
    assert parse("2031-05-01T10:00:00.5Z") > parse("2031-05-01T10:00:00.45Z")
    assert parse("2031-05-01T10:00:00.50Z") == parse("2031-05-01T10:00:00.5Z")
    assert parse("2031-05-01T10:00:00Z") == parse("2031-05-01T10:00:00Z")
    assert parse(datetime(2031, 5, 1, 10, tzinfo=UTC).isoformat()) == parse("2031-05-01T10:00:00Z")
