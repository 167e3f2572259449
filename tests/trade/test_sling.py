"""Slings against tables of leg loads, mode factors and marks."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from server.trade.errors import InputError
from server.trade.register import assess
from server.trade.sling import leg_tension, mode_factor


def values(**asked):
    return {name: one["value"] for name, one in assess("sling", {"load_kg": 100, **asked})["figures"].items()}


@pytest.mark.parametrize(("to_horizontal", "factor"), [(90, 1.0), (60, 1.1547), (45, 1.4142), (30, 2.0)])
def test_lif_3_angle_factor(to_horizontal, factor):
    """Formula (tables print 1.155 or 1.154), computed."""
    assert leg_tension(1, 1, 90 - to_horizontal) == approx(factor, abs=0.001)


@pytest.mark.parametrize(("to_horizontal", "pounds"), [(60, 577), (45, 707)])
def test_lif_4_leg_load(to_horizontal, pounds):
    """Suppliers' tables, second-hand."""
    assert leg_tension(1000, 2, 90 - to_horizontal) == approx(pounds, abs=0.5)


def test_lif_5_leg_load_at_30():
    """US Navy training manual 14080, published."""
    assert leg_tension(1000, 2, 60) == approx(1000, abs=0.5)
    kn = values(load_kg=453.59237, legs=2, symmetric="yes", angle_to_vertical_deg=60)["leg_tension_kn"]
    assert kn * 1000 / 9.80665 == approx(453.6, abs=0.5 * 0.4536)


@pytest.mark.parametrize(
    ("vertical", "angle", "exact", "printed"),
    [
        (1800, 0, 3600, 3600), (1800, 30, 3117.7, 3100), (1800, 45, 2545.6, 2600), (1800, 60, 1800, 1800),
        (1100, 0, 2200, 2200), (1100, 30, 1905.3, 1900), (1100, 45, 1555.6, 1500), (1100, 60, 1100, 1100),
    ],
)  # fmt: skip
def test_lif_6_basket(vertical, angle, exact, printed):
    """29 CFR 1918 App. II Table 2, published: the load at which a basket's leg reaches V."""
    lifts = vertical / leg_tension(1, 2, angle)
    assert lifts == approx(exact, abs=0.1)
    assert lifts == approx(printed, abs=100)


def test_lif_7_mode_factor():
    """EN 1492 second-hand; EN 818-4 from memory."""
    assert mode_factor(4, "straight", 50) == 1.5
    assert mode_factor(2, "straight", 30) == 1.4
    assert mode_factor(1, "choked", 0) == 0.8
    with pytest.raises(InputError, match="60"):
        values(legs=2, angle_to_vertical_deg=65)
    with pytest.raises(InputError, match="beyond 60 deg"):
        values(legs=2, height_m=1, spread_m=4.3)


@pytest.mark.parametrize(
    ("mark", "printed"), [(0.75, (1.05, 0.75, 1.55, 1.10)), (1.15, (1.60, 1.15, 2.40, 1.70))]
)
def test_lif_8_wll(mark, printed):
    """EN 13414-1:2003 Table 4, second-hand; its column of endless choked rope (1.6) is not offered here."""
    modes = ((2, 40), (2, 50), (4, 40), (4, 50))
    assert [mark * mode_factor(legs, "straight", angle) for legs, angle in modes] == approx(printed, rel=0.03)


@given(st.floats(1, 5000), st.floats(0, 59), st.integers(2, 4))
def test_scaling_and_spread(load, angle, legs):
    here = values(load_kg=load, legs=legs, angle_to_vertical_deg=angle)
    double = values(load_kg=2 * load, legs=legs, angle_to_vertical_deg=angle)
    wider = values(load_kg=load, legs=legs, angle_to_vertical_deg=angle + 1)
    assert double["leg_tension_kn"] == approx(2 * here["leg_tension_kn"])
    assert double["needed_wll_kg"] == approx(2 * here["needed_wll_kg"])
    assert wider["leg_tension_kn"] > here["leg_tension_kn"]
    assert wider["needed_wll_kg"] >= here["needed_wll_kg"]


def test_height_and_spread_are_an_angle():
    one = values(legs=2, height_m=1, spread_m=2)
    assert one["leg_tension_kn"] == approx(values(legs=2, angle_to_vertical_deg=45)["leg_tension_kn"])


def test_four_legs_are_rated_as_two():
    """US Navy training manuals 14080 and 14081, published."""
    figures = values(legs=4, symmetric="yes", angle_to_vertical_deg=0)
    assert figures["needed_wll_kg"] == approx(100 / 1.4)


def gear(tag="S1", wll=200, due="2031-07-01"):
    return {"tag": tag, "wll_kg": wll, "next_examination": due}


@pytest.mark.parametrize(
    ("rows", "word", "said"),
    [
        ([gear()], "figures within: the lift leader passes it", "legs are counted on"),
        ([gear(due="2031-05-01")], "figures beyond: the lift leader passes it", "was due on 2031-05-01"),
        ([gear(wll=99)], "figures beyond: the lift leader passes it", "beyond its mark"),
        ([gear(wll=None)], "cannot tell", "no mark given"),
        ([gear(due=None)], "cannot tell", "in date"),
    ],
)
def test_every_piece_is_judged(rows, word, said):
    answer = assess("sling", {"load_kg": 100, "gear": rows, "on_date": "2031-05-02"})
    assert answer["verdict"] == word
    assert any(said in text for text in answer["findings"])


def test_the_weakest_is_named():
    assert values(gear=[gear("S1", 300), gear("S2", 150)])["weakest"] == "S2"


@pytest.mark.parametrize(
    ("wrong", "field", "word"),
    [
        ({"load_kg": -1}, "load_kg", "kg"),
        ({"legs": 2}, "angle_to_vertical_deg", "deg"),
        ({"height_m": 1}, "spread_m", "m"),
    ],
)
def test_bad_input_is_named(wrong, field, word):
    with pytest.raises(InputError) as bad:
        values(**wrong)
    assert word in dict(bad.value.problems)[field]


@given(st.floats(0, 60), st.integers(1, 4), st.sampled_from(["straight", "choked", "basket"]), st.booleans())
def test_the_mark_needed_is_never_below_the_tension(angle, legs, hitch, symmetric):
    figures = values(
        legs=legs, hitch=hitch, symmetric="yes" if symmetric else "no", angle_to_vertical_deg=angle
    )
    assert figures["needed_wll_kg"] * 9.80665 / 1000 >= figures["leg_tension_kn"] * (1 - 1e-12)
