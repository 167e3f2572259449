"""Loss of coaxial cable: scaling against two published tables, and both terms against their own curve."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.trade.errors import InputError
from server.trade.register import assess

HUNDRED_FEET_M = 30.48
RUN = {"length_m": 100, "loss_db_per_100m": 4.9, "known_mhz": 50, "wanted_mhz": 150}


def values(**raw: Any) -> dict[str, Any]:
    return {name: one["value"] for name, one in assess("coax", raw)["figures"].items()}


# ARRL, Antennas chapter, cable table: published; dB per 100 ft as printed
@pytest.mark.parametrize(
    ("at_30", "at_150", "table"), [(1.79, 4.00, 4.11), (1.96, 4.38, 4.53), (2.47, 5.52, 5.63)]
)
def test_cab_21_scaling(at_30: float, at_150: float, table: float) -> None:
    per_100m = at_30 * 100 / HUNDRED_FEET_M
    got = values(length_m=HUNDRED_FEET_M, loss_db_per_100m=per_100m, known_mhz=30, wanted_mhz=150)
    assert got["loss_db"] == pytest.approx(at_150, abs=0.005)
    assert got["loss_db"] == pytest.approx(table, rel=0.06)
    assert got["loss_db"] < table < got["at_worst_db"]


# a maker's manual, second-hand
def test_cab_22_scaling() -> None:
    got = values(**RUN)
    assert got["loss_db"] == pytest.approx(8.49, abs=0.005)
    assert got["loss_db"] == pytest.approx(8.9, rel=0.06)


# a trade article on studio-lens sharpness, second-hand
def test_reg_3_detail_as_a_frequency() -> None:
    detail = RUN | {"wanted_mhz": None, "tv_lines": 800, "system": "1080/50", "aspect": "16:9"}
    assert values(**detail)["mhz"] == pytest.approx(27.5, abs=1e-6)


@given(st.floats(0.1, 5), st.floats(0, 0.05), st.floats(1, 900), st.floats(1.1, 20), st.floats(1, 900))
def test_two_figures_give_the_curve_back(a: float, b: float, f1: float, times: float, f: float) -> None:
    def curve(mhz: float) -> float:
        return a * math.sqrt(mhz) + b * mhz

    f2 = min(f1 * times, 10000)
    if max(curve(f1), curve(f2)) > 500:
        return
    known = {
        "loss_db_per_100m": curve(f1),
        "known_mhz": f1,
        "second_loss_db_per_100m": curve(f2),
        "second_mhz": f2,
    }
    assert values(length_m=100, wanted_mhz=f, **known)["loss_db"] == pytest.approx(curve(f), rel=1e-6)


@given(st.floats(1, 5000), st.floats(0.1, 1000))
def test_the_longest_run_loses_just_what_is_made_up(length: float, mhz: float) -> None:
    raw = RUN | {"length_m": length, "wanted_mhz": mhz, "most_db": 20}
    longest = values(**raw)["longest_m"]
    if 0.1 <= longest <= 20000:
        assert values(**raw | {"length_m": longest})["loss_db"] == pytest.approx(20, rel=1e-9)
    quarter = values(**raw | {"wanted_mhz": mhz / 4})
    assert values(**raw)["loss_db"] == pytest.approx(2 * quarter["loss_db"], rel=1e-9)


@pytest.mark.parametrize(
    ("most", "verdict"),
    [(10, "within limits"), (8.6, "cannot tell"), (8, "beyond limits"), (None, "cannot tell")],
)
def test_what_scaling_may_hide_is_not_called_within(most: float | None, verdict: str) -> None:
    assert assess("coax", RUN | {"most_db": most})["verdict"] == verdict


@pytest.mark.parametrize(
    ("wrong", "field", "word"),
    [
        ({"length_m": -1}, "length_m", "20000 m"),
        ({"wanted_mhz": None}, "wanted_mhz", "MHz"),
        ({"tv_lines": 400}, "wanted_mhz", "not both"),
        ({"second_mhz": 100}, "second_mhz", "dB/100 m"),
        ({"second_mhz": 50, "second_loss_db_per_100m": 6}, "second_mhz", "another"),
        ({"second_mhz": 60, "second_loss_db_per_100m": 0.1}, "second_loss_db_per_100m", "no loss"),
    ],
)
def test_bad_input_is_named(wrong: dict[str, Any], field: str, word: str) -> None:
    with pytest.raises(InputError) as bad:
        values(**RUN | wrong)
    assert word in dict(bad.value.problems)[field]
