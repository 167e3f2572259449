"""Insulation: Mohm km, the rule's limits, its own history, and the protective conductor."""

from __future__ import annotations

import statistics
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.trade.errors import InputError
from server.trade.register import assess

RUN = {"test_v": 500, "megohm": 50, "length_m": 200, "circuit": "mains"}
DRY = [
    {"at": f"203{year}-05-02", "megohm": megohm, "weather": "dry"} for year, megohm in enumerate((52, 48, 50))
]
WET = [{"at": "2033-05-02", "megohm": 5, "weather": "wet"}]


def values(**more: Any) -> dict[str, Any]:
    return {name: one["value"] for name, one in assess("insulation", RUN | more)["figures"].items()}


# definition, computed
@pytest.mark.parametrize(("length", "megohm"), [(200, 50), (1000, 10)])
def test_cab_10_by_length(length: float, megohm: float) -> None:
    history = [{"at": "2031-05-02", "megohm": 10, "length_m": 1000}]
    here = values(length_m=length, megohm=megohm, history=history)
    assert here["megohm_km"] == pytest.approx(10, rel=1e-12)
    assert here["usual_megohm"] == pytest.approx(megohm, rel=1e-12)
    assert here["trend"] == pytest.approx(1, rel=1e-12)


# BS 7671 643.3, second-hand
@pytest.mark.parametrize(("circuit", "volts", "limit"), [("selv", 250, 0.5), ("mains", 500, 1.0)])
def test_cab_10_limits(circuit: str, volts: float, limit: float) -> None:
    asked = RUN | {"circuit": circuit, "test_v": volts}
    at = assess("insulation", asked | {"megohm": limit})
    assert at["figures"]["limit_megohm"]["value"] == limit
    assert at["verdict"] == "figures within: a competent person passes it"
    below = assess("insulation", asked | {"megohm": limit - 0.01})
    assert below["verdict"] == "figures beyond: a competent person passes it"


# IET Code of Practice rule, from memory
@pytest.mark.parametrize(("length", "mohm_per_m", "limit"), [(5, 26, 0.23), (10, 39, 0.49)])
def test_cab_11_protective_conductor(length: float, mohm_per_m: float, limit: float) -> None:
    asked = {"length_m": length, "protective_mohm_per_m": mohm_per_m}
    assert values(**asked)["protective_limit_ohm"] == pytest.approx(limit, rel=1e-12)
    for ohm, word in ((limit - 0.01, "figures within"), (limit + 0.01, "figures beyond")):
        assert assess("insulation", RUN | asked | {"protective_ohm": ohm})["verdict"].startswith(word)


def test_its_own_history_comes_first() -> None:
    """Far above the rule's least, and yet a tenth of what this cable reads."""
    answer = assess("insulation", RUN | {"megohm": 4.9, "weather": "dry", "history": DRY})
    assert answer["verdict"].startswith("figures beyond")
    assert answer["findings"][0] == "0.098 times what it usually reads, length for length."
    assert "house limit" in answer["findings"][1]


def test_the_same_weather_is_compared() -> None:
    wet = values(megohm=4.9, weather="wet", history=[*DRY, *WET])
    assert wet["trend"] == pytest.approx(0.98)
    unknown = assess("insulation", RUN | {"history": DRY})
    assert "No earlier reading is from weather known to be the same." in unknown["findings"]


def test_says_how_often_it_fell() -> None:
    fell = assess("insulation", RUN | {"megohm": 40, "history": [DRY[2], DRY[0], DRY[1] | {"megohm": 51}]})
    assert "It has fallen 3 times in a row." in fell["findings"]


def test_too_low_a_test_voltage_is_never_within() -> None:
    assert assess("insulation", RUN | {"test_v": 250})["verdict"] == "cannot tell"
    assert assess("insulation", RUN | {"test_v": 250, "megohm": 0.9})["verdict"].startswith("figures beyond")
    over = assess("insulation", RUN | {"circuit": "selv"})
    assert over["advice"][-1].startswith("The tester is set higher")


# from memory; the idea of IEEE 43
def test_rising_within_the_minute_is_absorption() -> None:
    assert "absorption" in assess("insulation", RUN | {"first_megohm": 10})["findings"][-1]
    assert "leakage" in assess("insulation", RUN | {"first_megohm": 49})["findings"][-1]


@given(st.floats(0.001, 1000), st.floats(1, 1000), st.floats(1.5, 10))
def test_twice_the_length_halves_the_reading(megohm: float, length: float, times: float) -> None:
    here = values(megohm=megohm, length_m=length)["megohm_km"]
    there = values(megohm=megohm / times, length_m=length * times)["megohm_km"]
    assert there == pytest.approx(here, rel=1e-12)


@given(st.lists(st.floats(0.1, 1000), min_size=1, max_size=9), st.floats(0.1, 1000))
def test_trend_is_to_the_median_whatever_the_order(history: list[float], megohm: float) -> None:
    rows = [{"at": f"2031-05-0{number + 1}", "megohm": one} for number, one in enumerate(history)]
    expected = megohm / statistics.median(history)
    assert values(megohm=megohm, history=rows)["trend"] == pytest.approx(expected)
    assert values(megohm=megohm, history=rows[::-1])["trend"] == pytest.approx(expected)


@pytest.mark.parametrize(
    ("wrong", "field", "word"),
    [
        ({"megohm": -1}, "megohm", "Mohm"),
        ({"megohm": "OL"}, "megohm", "not a number"),
        ({"circuit": "triax"}, "circuit", "selv"),
        ({"history": [{"at": "2031-02-30", "megohm": 5}]}, "history[1].at", "year-month-day"),
        ({"protective_ohm": 0.2}, "protective_mohm_per_m", "mohm/m"),
        ({"length_m": 0}, "length_m", "20000 m"),
    ],
)
def test_bad_input_is_named(wrong: dict[str, Any], field: str, word: str) -> None:
    with pytest.raises(InputError) as bad:
        values(**wrong)
    assert word in dict(bad.value.problems)[field]
