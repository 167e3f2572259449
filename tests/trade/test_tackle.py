"""Tackle by three rules, each against its own source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from server.trade import rope_strength, tackle
from server.trade.errors import InputError
from server.trade.register import assess

ASKED = {"load_kg": 60, "sheaves": 4, "parts": 4}


def values(**more):
    return {name: one["value"] for name, one in assess("tackle", ASKED | more)["figures"].items()}


def test_lif_12_one_tenth():
    """US Navy Steelworker, published; licence exam, second-hand; Builder, published."""
    assert tackle.one_tenth(1000, 4, 4) == approx(350, abs=0.01)
    assert tackle.one_tenth(100, 2, 2) == approx(60, abs=0.01)
    assert tackle.one_tenth(600, 0, 3) == approx(200, abs=0.01)


def test_lif_13_nicholls():
    """Nicholls pp. 40, 42, published."""
    assert tackle.one_tenth(4, 2, 2) == approx(2.4, abs=0.01)
    assert tackle.one_tenth(12, 6, 6) == approx(3.2, abs=0.01)
    assert tackle.one_tenth(12, 6, 7) == approx(2.743, abs=0.01)
    assert tackle.one_tenth(20, 4, 5) == approx(5.6, abs=0.01)
    assert tackle.one_tenth(15, 3, 3) == approx(6.5, abs=0.01)
    assert tackle.one_tenth(12, 6, 7, 1) == approx(3, abs=0.1)


def test_lif_14_lead_line():
    """Wire Rope Users Manual pp. 86-88, second-hand; series computed."""
    for k, row in (
        (1.09, (1.0900, 0.5685, 0.3951, 0.3087, 0.2571, 0.2229)),
        (1.04, (1.0400, 0.5302, 0.3603, 0.2755, 0.2246, 0.1908)),
    ):
        assert [tackle.lead_line_factor(k, parts) for parts in range(1, 7)] == approx(row, rel=1e-3)
    assert tackle.lead_line_factor(1.09, 4, 2) == approx(0.3667, rel=1e-3)
    assert 6000 * tackle.lead_line_factor(1.09, 4, 2) == approx(2200.4, rel=1e-3)


def test_lif_15_ratio():
    """A block maker's table, second-hand."""
    for k, row in (
        (1.045, (0.96, 1.87, 2.75, 3.59, 4.39, 5.16)),
        (1.02, (0.98, 1.94, 2.88, 3.81, 4.71, 5.60)),
    ):
        assert [1 / tackle.lead_line_factor(k, parts) for parts in range(1, 7)] == approx(row, abs=0.005)


def test_lif_16_measured():
    """Workshop Receipts, published."""
    assert tackle.measured(1, 4) == approx(0.37, abs=0.01)
    assert values(rule="measured", load_kg=100)["pull_kg"] == approx(37, abs=1)


@pytest.mark.parametrize(("angle", "times"), [(0, 2.0), (60, 1.73), (90, 1.41), (120, 1.0), (180, 0)])
def test_lif_17_deflection(angle, times):
    """A sheave data book, second-hand."""
    assert tackle.on_block(1, angle) == approx(times, abs=0.005)


def test_lif_18_breaking_strength():
    """Seamanship rule; course sheet; second-hand."""
    assert rope_strength.by_circumference_lb(0.5, "manila") == approx(2218, rel=2e-3)
    nylon = values(rope="nylon", rope_diameter_mm=12.7)["rope_mbs_kn"]
    assert nylon * 1000 / 9.80665 / 0.45359237 == approx(5546, rel=2e-3)
    kinds = ("manila", "polypropylene", "polyethylene")
    found = [rope_strength.estimates_kn(24, kind)["course sheet"] / 9.80665 for kind in kinds]
    assert found == approx((2.88, 7.48, 5.43), rel=2e-3)


@given(st.floats(4, 80), st.sampled_from(rope_strength.KINDS))
def test_a_rope_known_by_thumb_takes_the_lesser_rule_and_is_never_within(diameter, kind):
    rope = {"rope": kind, "rope_diameter_mm": diameter}
    assert values(**rope)["rope_mbs_kn"] == min(rope_strength.estimates_kn(diameter, kind).values())
    answer = assess("tackle", ASKED | rope | {"people": 4, "anchor_wll_kn": 5})
    assert answer["verdict"] != "figures within: the lift leader passes it"
    assert any("its maker's figure is wanted" in line for line in answer["findings"])


def test_lif_19_rope():
    """The 1946 table; CI 1401; second-hand, computed."""
    assert tackle.working_load(10, tackle.KNOTS["bowline"], 10) == 0.6


@given(st.floats(1, 1000), st.integers(1, 6))
def test_scaling_and_lead_blocks(load, parts):
    for rule in ("one-tenth", "bearing", "measured"):
        here = values(load_kg=load, sheaves=parts, parts=parts, rule=rule)
        assert values(load_kg=2 * load, sheaves=parts, parts=parts, rule=rule)["pull_n"] == approx(
            2 * here["pull_n"]
        )
        led = values(load_kg=load, sheaves=parts, parts=parts, rule=rule, lead_blocks=1)
        assert led["pull_n"] > here["pull_n"]


def test_anchor_takes_the_pull_of_a_rope_coming_down():
    """Nicholls p. 42, example B, published."""
    figures = values(tackle_kg=5)
    assert figures["anchor_n"] == approx(65 * 9.80665 + figures["pull_n"])


@pytest.mark.parametrize(
    ("more", "word"),
    [
        ({}, "cannot tell"),
        ({"rope_mbs_kn": 20, "people": 2, "anchor_wll_kn": 2}, "figures within: the lift leader passes it"),
        ({"rope_mbs_kn": 2}, "figures beyond: the lift leader passes it"),
        ({"people": 1}, "figures beyond: the lift leader passes it"),
        ({"anchor_wll_kn": 0.5}, "figures beyond: the lift leader passes it"),
    ],
)
def test_verdicts(more, word):
    assert assess("tackle", ASKED | more)["verdict"] == word


@pytest.mark.parametrize(
    ("wrong", "field", "word"),
    [
        ({"load_kg": -1}, "load_kg", "kg"),
        ({"parts": 7}, "parts", "sheaves"),
        ({"rope": "manila"}, "rope_diameter_mm", "mm"),
        ({"rope": "manila", "rope_diameter_mm": 12, "rope_mbs_kn": 20}, "rope", "kN"),
    ],
)
def test_bad_input_is_named(wrong, field, word):
    with pytest.raises(InputError) as bad:
        values(**wrong)
    assert word in dict(bad.value.problems)[field]
