"""Condensation against psychrolib's own route to the dew point."""

import math

import psychrolib
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pytest import approx

from server.trade.condensation import dew_point
from server.trade.register import assess

psychrolib.SetUnitSystem(psychrolib.SI)


@given(st.floats(5, 50), st.floats(40, 100))
def test_dew_point_agrees_with_psychrolib(air, humidity):
    """Above freezing, where both speak of water; Magnus keeps within a tenth of a degree."""
    expected = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
    assume(expected > 0.5)
    assert dew_point(air, humidity) == approx(expected, abs=0.1)


def test_warming_follows_newton():
    asked = {"air_c": 20, "humidity_percent": 60, "body_c": 2, "time_constant_min": 40}
    figures = assess("condensation", asked)["figures"]
    body = 20 - 18 * math.exp(-figures["earliest_min"]["value"] / 40)
    assert body == approx(figures["dew_point_c"]["value"], abs=1e-9)


@pytest.mark.parametrize(
    ("humidity", "body", "verdict", "minutes"), [(50, 15, "within limits", 0), (100, 5, "adjust", None)]
)
def test_dry_and_never(humidity, body, verdict, minutes):
    answer = assess("condensation", {"air_c": 20, "humidity_percent": humidity, "body_c": body})
    assert answer["verdict"] == verdict
    assert answer["figures"]["earliest_min"]["value"] == minutes
