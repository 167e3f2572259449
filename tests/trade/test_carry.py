"""Bearers: shares, bounds, slope, and whose guideline."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from server.trade import bearers, guidelines
from server.trade.errors import InputError
from server.trade.register import assess

NAMES = ("lower_left", "lower_right", "upper_left", "upper_right")


def asked(**more):
    return {"load_kg": 100, "u": 0, "v": 0, **more}


def values(**more):
    return {name: one["value"] for name, one in assess("carry", asked(**more))["figures"].items()}


def by_bearer(word, **more):
    figures = values(**more)
    return [figures[f"{name}_{word}_kg"] for name in NAMES]


def test_car_1_spring():
    """Theory: Euler 1773, Garcia et al. 2015 (published); numbers computed."""
    assert by_bearer("likely", u=0.2, v=0.4) == approx([40, 20, 30, 10], abs=1e-9)


def test_car_2_product_rule():
    """A question-and-answer page, second-hand (rule); computed."""
    by_product = by_bearer("likely", u=0.2, v=0.4, likely_by="the product rule")
    assert by_product == approx([42, 18, 28, 12], abs=1e-9)


def test_car_3_bounds():
    """Computed; scipy.optimize.linprog agrees over the whole range in test_four_point."""
    assert bearers.span(0.2, 0.4) == approx((-0.4, 0.8), abs=1e-9)
    assert by_bearer("most", u=0.2, v=0.4) == approx([60, 30, 40, 30], abs=1e-9)
    assert [100 * part for part in bearers.shares(0.2, 0.4, 0.8)] == approx([60, 0, 10, 30], abs=1e-9)
    assert [100 * part for part in bearers.shares(0.2, 0.4, -0.4)] == approx([30, 30, 40, 0], abs=1e-9)


def test_car_3a_three_carry():
    """Statics, computed."""
    assert bearers.span(0.7, 0.6) == approx((0.3, 0.9), abs=1e-9)
    assert by_bearer("likely", u=0.7, v=0.6) == approx([65, 20, 15, 0], abs=1e-9)


def test_car_4_centred():
    """Statics, computed."""
    assert by_bearer("likely") == approx([25] * 4, abs=1e-9)
    assert by_bearer("least") == approx([0] * 4, abs=1e-9)
    assert by_bearer("most") == approx([50] * 4, abs=1e-9)


def test_car_5_uneven_body():
    """Statics, computed."""
    u = bearers.from_end_weights(2, 1)
    assert u == approx(1 / 3, abs=1e-12)
    assert bearers.span(u, 0) == approx((-2 / 3, 2 / 3), abs=1e-12)
    assert bearers.likely(u, 0, bearers.span(u, 0)) == approx((1 / 3, 1 / 3, 1 / 6, 1 / 6), abs=1e-12)
    assert bearers.ends(u, 0, bearers.span(u, 0))[1] == approx((1 / 2, 1 / 2, 1 / 3, 1 / 3), abs=1e-12)
    weighed = {"u": None, "lower_end_kg": 60, "upper_end_kg": 30}
    assert by_bearer("likely", **weighed) == approx([100 / 3, 100 / 3, 100 / 6, 100 / 6], abs=1e-9)
    assert by_bearer("most", **weighed) == approx([50, 50, 100 / 3, 100 / 3], abs=1e-9)


@pytest.mark.parametrize(("slope", "share"), [(0, 0.5), (15, 0.5447), (30, 0.5962), (35, 0.6167)])
def test_car_6_slope(slope, share):
    """Statics, computed."""
    figures = values(bearers=2, slope_deg=slope, cg_height_ratio=1 / 6)
    assert figures["lower_end_likely_kg"] == approx(100 * share, abs=1e-2)


def test_car_7_team():
    """HSE L23 para 120, second-hand."""
    assert values(bearers=2, alone_kg=50)["team_kg"] == approx(66.7, abs=0.05)
    assert values(bearers=3, alone_kg=50)["team_kg"] == approx(75, abs=0.05)


def test_car_8_filter():
    """INDG143 factors from memory, order ours, computed."""
    assert guidelines.filter_kg(25, 6, 100) == 10.0
    assert values(per_minute=6, twist_deg=100)["alone_kg"] == 10.0


@given(st.floats(-1, 1), st.floats(-1, 1), st.integers(2, 4), st.floats(1, 500))
def test_likely_shares_add_to_the_load(u, v, people, load):
    figures = values(u=u, v=v, bearers=people, load_kg=load)
    assert math.fsum(value for name, value in figures.items() if name.endswith("likely_kg")) == approx(load)


@given(st.floats(-0.99, 0.99), st.floats(-1, 1), st.floats(1, 500))
def test_ends_as_weighed_say_u(u, v, load):
    ends = {"lower_end_kg": load * (1 + u) / 2, "upper_end_kg": load * (1 - u) / 2}
    weighed, told = values(u=None, v=v, load_kg=load, **ends), values(u=u, v=v, load_kg=load)
    assert weighed == {name: approx(value, abs=1e-6) for name, value in told.items()}


@given(st.floats(-0.5, 0.5), st.floats(0, 39))
def test_a_steeper_slope_loads_the_lower_end(u, slope):
    here, steeper = (values(bearers=2, u=u, slope_deg=s, cg_height_ratio=0.1) for s in (slope, slope + 1))
    assert steeper["lower_end_likely_kg"] > here["lower_end_likely_kg"]


@given(st.floats(-1, 1), st.floats(0, 60))
def test_slope_alone_moves_nothing(u, slope):
    assert values(u=u, slope_deg=slope) == values(u=u)


def test_verdicts_say_whose_guide():
    within = assess("carry", asked(load_kg=50))
    assert within["verdict"] == "figures within: a competent person passes it"
    assert any("No fraction is published for four" in text for text in within["findings"])
    assert assess("carry", asked(load_kg=51))["verdict"].startswith("figures beyond")
    tips = assess("carry", asked(u=0.9, slope_deg=45, cg_height_ratio=0.5))
    assert tips["verdict"].startswith("figures beyond")
    assert tips["figures"]["worst_kg"]["value"] is None


@pytest.mark.parametrize(
    ("wrong", "field", "word"),
    [
        ({"load_kg": -5}, "load_kg", "kg"),
        ({"bearers": 5}, "bearers", "4"),
        ({"slope_deg": 80}, "slope_deg", "deg"),
        ({"u": None}, "u", "weigh both ends"),
        ({"lower_end_kg": 20, "upper_end_kg": 20}, "u", "beside the weighed ends"),
        ({"u": None, "lower_end_kg": 20}, "upper_end_kg", "kg"),
        ({"u": None, "lower_end_kg": 0, "upper_end_kg": 0}, "lower_end_kg", "weigh again"),
    ],
)
def test_bad_input_is_named(wrong, field, word):
    with pytest.raises(InputError) as bad:
        assess("carry", asked(**wrong))
    assert word in dict(bad.value.problems)[field]
