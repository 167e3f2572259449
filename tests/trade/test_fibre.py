"""Loss budgets: a network maker's manual's two examples, and the sum itself."""

from __future__ import annotations

from typing import Any

import pytest

from server.trade.errors import InputError
from server.trade.register import assess

BUDGET = {"transmit_dbm": 0, "sensitivity_dbm": -13, "reserve_db": 0}


def value(name: str, **raw: Any) -> Any:
    return assess("fibre", raw)["figures"][name]["value"]


# a network maker's manual, second-hand; its 0.5 dB of higher-order loss stands as the reserve
@pytest.mark.parametrize(
    ("raw", "margin"),
    [
        ({"length_m": 8000, "loss_db_per_km": 0.5, "mated_pairs": 7}, 5.5),
        (
            {
                "length_m": 2000,
                "loss_db_per_km": 1,
                "mated_pairs": 5,
                "splices": 2,
                "loss_db_per_splice": 0.5,
                "reserve_db": 0.5,
            },
            7.0,
        ),
    ],
)
def test_cab_19_margin(raw: dict[str, Any], margin: float) -> None:
    assert value("margin_db", **{**BUDGET, **raw}) == pytest.approx(margin, abs=1e-9)


# sum, computed
def test_cab_20_camera_run() -> None:
    total = value("total_db", length_m=500, mated_pairs=4, loss_db_per_pair=0.75)
    assert total == pytest.approx(3.2, abs=1e-9)


def test_verdicts() -> None:
    raw = {"length_m": 500, **BUDGET}
    assert assess("fibre", raw)["verdict"] == "within limits"
    assert assess("fibre", {**raw, "received_dbm": -14})["verdict"] == "beyond limits"
    assert assess("fibre", {"length_m": 500})["verdict"] == "cannot tell"


def test_a_negative_length_names_the_field_the_range_and_the_unit() -> None:
    with pytest.raises(InputError, match=r"length_m: .*0 to 100000 m"):
        assess("fibre", {"length_m": -1})
