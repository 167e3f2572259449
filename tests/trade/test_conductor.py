"""Copper conductors against IEC 60228, ASTM B258 and a published wire table."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.trade import copper
from server.trade.errors import InputError
from server.trade.register import assess


def figure(raw: dict[str, object], name: str) -> float:
    return float(assess("conductor", raw)["figures"][name]["value"])


# IEC 60228, second-hand
@pytest.mark.parametrize(
    ("section", "kind", "ohm"), [(0.5, "class 5 plain", 39.0), (2.5, "class 1, 2 plain", 7.41)]
)
def test_cab_1_class_limit(section: float, kind: str, ohm: float) -> None:
    raw: dict[str, object] = {"section_mm2": section, "conductor_class": kind, "length_m": 1000}
    assert figure(raw, "limit_ohm_per_km") == ohm
    assert figure(raw, "expected_ohm") == pytest.approx(ohm, rel=1e-12)


# IEC 60228 formula, second-hand; numbers computed
@pytest.mark.parametrize(("t", "k"), [(10, 1.0409), (30, 0.9622), (50, 0.8946)])
def test_cab_2_temperature_exact(t: float, k: float) -> None:
    assert copper.to_20c(t) == pytest.approx(k, abs=1e-4)
    assert copper.to_20c(t) == pytest.approx(1 / (1 + 0.00393 * (t - 20)), abs=1e-4)


def test_cab_2_a_drum_at_45_c_reads_9_8_percent_high() -> None:
    assert 100 * (1 / copper.to_20c(45) - 1) == pytest.approx(9.8, abs=0.05)


# IEC 60228 table as printed, second-hand: another form (250/(230+t)), which is not ours
@pytest.mark.parametrize(("t", "k"), [(10, 1.042), (30, 0.962), (50, 0.893)])
def test_cab_3_the_printed_table_is_another_form_within_two_in_a_thousand(t: float, k: float) -> None:
    assert 250 / (230 + t) == pytest.approx(k, abs=5e-4)
    assert copper.to_20c(t) == pytest.approx(k, abs=2e-3)


# IEC 60028, second-hand
def test_cab_4_resistance_at_50_c() -> None:
    assert 0.1 / copper.to_20c(50) == pytest.approx(0.1118, abs=1e-4)


# ASTM B258 formula second-hand, numbers computed
@pytest.mark.parametrize(
    ("awg", "d", "area"),
    [(20, 0.8118, 0.5176), (22, 0.6438, 0.3255), (24, 0.5106, 0.2047), (26, 0.4049, 0.1288)],
)
def test_cab_5_gauge(awg: int, d: float, area: float) -> None:
    assert copper.awg_diameter_mm(awg) == pytest.approx(d, abs=1e-4)
    assert copper.awg_area_mm2(awg) == pytest.approx(area, abs=1e-4)


# HyperPhysics, Georgia State University, wire table: published
@pytest.mark.parametrize(("awg", "per_1000_ft"), [(20, 10.15), (22, 16.14), (24, 25.67), (26, 40.81)])
def test_cab_6_gauge_resistance(awg: int, per_1000_ft: float) -> None:
    raw: dict[str, object] = {"awg": awg, "length_m": 304.8, "stranding_percent": 0}
    assert figure(raw, "expected_ohm") == pytest.approx(per_1000_ft, rel=5e-4)


# common practice, no source
def test_cab_24_nominal_length() -> None:
    raw: dict[str, object] = {"section_mm2": 0.5, "length_m": 1800 * 0.3048}
    assert figure(raw, "expected_ohm") == pytest.approx(39.0 * 0.54864, rel=1e-12)


@given(st.floats(0.1, 9000), st.floats(-20, 100))
def test_twice_the_length_is_twice_the_ohms(length: float, t: float) -> None:
    once = figure({"section_mm2": 1.5, "length_m": length, "temperature_c": t}, "expected_ohm")
    twice = figure({"section_mm2": 1.5, "length_m": 2 * length, "temperature_c": t}, "expected_ohm")
    assert twice == pytest.approx(2 * once, rel=1e-12)


@pytest.mark.parametrize(
    ("ohm", "verdict"),
    [(3.8, "within limits"), (4.0, "beyond limits"), (1.0, "cannot tell"), (None, "cannot tell")],
)
def test_verdict(ohm: float | None, verdict: str) -> None:
    assert (
        assess("conductor", {"section_mm2": 0.5, "length_m": 100, "measured_ohm": ohm})["verdict"] == verdict
    )


def test_neither_size_nor_gauge_names_the_field_the_range_and_the_unit() -> None:
    with pytest.raises(InputError, match=r"section_mm2: .*0\.05 to 400 mm2"):
        assess("conductor", {"length_m": 100})
