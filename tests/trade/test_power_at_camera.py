"""Constant power at the end of a loop, against algebra, a root finder and an Ethernet standard's figures."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq  # type: ignore[import-untyped]  # scipy ships no types

from server.trade.errors import InputError
from server.trade.register import assess


def values(**raw: Any) -> dict[str, Any]:
    return {name: one["value"] for name, one in assess("power-at-camera", raw)["figures"].items()}


# IEEE 802.3at Type 2, second-hand
def test_cab_7_constant_power() -> None:
    got = values(supply_v=50, load_w=25.5, loop_ohm=12.5)
    assert got["current_a"] == pytest.approx(0.600, abs=1e-3)
    assert got["camera_v"] == pytest.approx(42.5, abs=1e-3)
    assert got["loss_w"] == pytest.approx(4.5, abs=1e-3)


# algebra, computed
def test_cab_8_limit_and_no_solution() -> None:
    got = values(supply_v=50, load_w=50, loop_ohm=12.5)
    assert (got["camera_v"], got["current_a"], got["most_w"]) == (25, 2, 50)
    beyond = assess("power-at-camera", {"supply_v": 50, "load_w": 60, "loop_ohm": 12.5})
    assert beyond["figures"]["camera_v"]["value"] is None
    assert beyond["verdict"] == "figures beyond: a competent person passes it"
    assert "No solution" in beyond["findings"][0]


# algebra, computed
def test_cab_9_mains_over_300_m() -> None:
    got = values(supply_v=230, load_w=100, section_mm2=0.5, length_m=300)
    assert got["loop_ohm"] == pytest.approx(23.4, rel=1e-12)
    assert got["current_a"] == pytest.approx(0.4559, abs=1e-4)
    assert got["camera_v"] == pytest.approx(219.33, abs=0.01)
    assert got["loss_w"] == pytest.approx(4.864, abs=1e-3)
    assert got["most_w"] == pytest.approx(565.2, abs=0.05)


# algebra, computed
def test_cab_23_shared_cores() -> None:
    got = values(supply_v=230, load_w=10, ohm_per_km=28.7, length_m=500, cores_go=2, cores_return=2)
    assert got["loop_ohm"] == pytest.approx(14.35, rel=1e-12)


@given(st.floats(12, 400), st.floats(0.1, 50), st.floats(0.01, 0.95))
def test_the_upper_root_is_the_one_a_root_finder_finds(supply: float, ohm: float, share: float) -> None:
    load = max(0.1, share * supply**2 / (4 * ohm))
    if load > min(20000, 0.95 * supply**2 / (4 * ohm)):
        return
    found = brentq(lambda v: v * (supply - v) / ohm - load, supply / 2, supply, xtol=1e-13, rtol=1e-14)
    assert values(supply_v=supply, load_w=load, loop_ohm=ohm)["camera_v"] == pytest.approx(found, rel=1e-9)


@given(st.floats(0.5, 0.99))
def test_the_longest_run_gives_just_the_least_volts(share: float) -> None:
    least = 230 * share
    raw = {"supply_v": 230, "load_w": 400, "section_mm2": 0.5, "length_m": 100, "least_v": least}
    longest = values(**raw)["longest_m"]
    got = values(**{**raw, "length_m": longest})
    assert got["camera_v"] == pytest.approx(least, rel=1e-6)


@pytest.mark.parametrize(
    ("least", "verdict"),
    [
        (210, "figures within: a competent person passes it"),
        (225, "figures beyond: a competent person passes it"),
        (None, "cannot tell"),
    ],
)
def test_verdict(least: float | None, verdict: str) -> None:
    raw = {"supply_v": 230, "load_w": 100, "loop_ohm": 23.4, "least_v": least}
    answer = assess("power-at-camera", raw)
    assert answer["verdict"] == verdict
    assert answer["cautions"][0].startswith("Isolate, prove dead, lock off")


def test_no_loop_and_no_length_names_the_field_the_range_and_the_unit() -> None:
    with pytest.raises(InputError, match=r"length_m: .*0\.1 to 10000 m"):
        assess("power-at-camera", {"supply_v": 230, "load_w": 100})
