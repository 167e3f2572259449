"""One person's lift: the revised NIOSH equation against its own example and table."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.trade import niosh
from server.trade.errors import InputError
from server.trade.register import assess

POUND_KG, INCH_CM = 0.45359237, 2.54
TASK = {"load_kg": 10, "horizontal_cm": 30, "vertical_cm": 75, "distance_cm": 25, "coupling": "good"}
EXAMPLE = {
    "load_kg": 44 * POUND_KG, "horizontal_cm": 23 * INCH_CM, "vertical_cm": 15 * INCH_CM,
    "distance_cm": 48 * INCH_CM, "per_minute": 0.2, "hours": 1, "coupling": "fair", "form": "inch",
}  # fmt: skip


def values(**more: Any) -> dict[str, Any]:
    return {name: one["value"] for name, one in assess("lifting-task", TASK | more)["figures"].items()}


# DHHS 94-110, example 1: data from memory, numbers computed. Printed with multipliers of two digits.
def test_car_9_niosh_example_1() -> None:
    start = values(**EXAMPLE)
    assert start["rwl_kg"] / POUND_KG == pytest.approx(16.03, abs=0.01)
    assert [start[name] for name in ("hm", "vm", "dm", "am", "fm", "cm")] == pytest.approx(
        [0.44, 0.89, 0.86, 1, 1, 0.95], abs=0.006
    )
    printed = 51 * 0.44 * 0.89 * 0.86 * 0.95
    assert printed == pytest.approx(16.3, abs=0.05)
    assert 44 / printed == pytest.approx(2.7, abs=0.01)
    assert start["rwl_kg"] / POUND_KG == pytest.approx(16.3, rel=0.02)
    assert start["lifting_index"] == pytest.approx(2.7, abs=0.05)
    both = values(**EXAMPLE, end_vertical_cm=63 * INCH_CM)
    assert both["rwl_kg"] == both["end_rwl_kg"]
    assert both["start_rwl_kg"] == start["rwl_kg"]
    assert both["rwl_kg"] / POUND_KG == pytest.approx(14.31, abs=0.01)
    assert both["rwl_kg"] / POUND_KG == pytest.approx(14.5, rel=0.02)
    assert both["lifting_index"] == pytest.approx(3.0, abs=0.1)


def test_car_9_in_centimetres_differs_by_the_forms() -> None:
    """The same example by the metric form, inputs as the row rounds them: within 2-3 % of the inch form."""
    metric = EXAMPLE | {"form": "metric", "load_kg": 20.0, "horizontal_cm": 58.4, "vertical_cm": 38.1}
    got = values(**metric | {"distance_cm": 121.9})
    assert got["rwl_kg"] / POUND_KG == pytest.approx(16.03, rel=0.025)


# NIOSH table, second-hand
@pytest.mark.parametrize(
    ("deg", "am"),
    list(zip(range(0, 136, 15), (1, 0.95, 0.90, 0.86, 0.81, 0.76, 0.71, 0.66, 0.62, 0.57), strict=True)),
)
def test_car_10_asymmetry(deg: float, am: float) -> None:
    assert values(asymmetry_deg=deg)["am"] == pytest.approx(am, abs=0.005)


# the notes' table of multipliers: second-hand, poor grip from memory
@pytest.mark.parametrize(("kind", "low", "high"), [("good", 1, 1), ("fair", 0.95, 1), ("poor", 0.9, 0.9)])
def test_coupling_below_and_from_75_cm(kind: str, low: float, high: float) -> None:
    assert values(coupling=kind, vertical_cm=74.9)["cm"] == low
    assert values(coupling=kind, vertical_cm=75)["cm"] == high


# from memory; the last row also seen in a published example
@pytest.mark.parametrize(
    ("rate", "row"),
    [(0.2, (1, 0.95, 0.85)), (0.5, (0.97, 0.92, 0.81)), (1, (0.94, 0.88, 0.75)), (2, (0.91, 0.84, 0.65)),
     (4, (0.84, 0.72, 0.45)), (6, (0.75, 0.50, 0.27)), (10, (0.45, 0.26, 0.13))],
)  # fmt: skip
def test_frequency(rate: float, row: tuple[float, ...]) -> None:
    assert tuple(values(per_minute=rate, hours=hours)["fm"] for hours in (1, 2, 8)) == row
    assert values(per_minute=rate - 0.01, hours=1.5)["fm"] == row[1]


def test_at_its_best_the_load_constant_is_left() -> None:
    assert values(horizontal_cm=25)["rwl_kg"] == 23


@pytest.mark.parametrize(
    ("more", "verdict"),
    [
        ({}, "figures within: a competent person passes it"),
        ({"load_kg": 23}, "figures beyond: a competent person passes it"),
        ({"horizontal_cm": 64}, "figures beyond: a competent person passes it"),
        ({"vertical_cm": 176}, "figures beyond: a competent person passes it"),
        ({"asymmetry_deg": 136}, "figures beyond: a competent person passes it"),
        ({"per_minute": 11}, "cannot tell"),
        ({"per_minute": 8, "vertical_cm": 40}, "cannot tell"),
        ({"hours": 9}, "cannot tell"),
        ({"per_minute": 11, "frequency_multiplier": 0.9}, "figures within: a competent person passes it"),
    ],
)
def test_verdicts(more: dict[str, Any], verdict: str) -> None:
    answer = assess("lifting-task", TASK | more)
    assert answer["verdict"] == verdict
    assert any("screen only" in text for text in answer["cautions"])


def test_what_takes_most_is_cured_first() -> None:
    answer = assess("lifting-task", TASK | {"load_kg": 20, "horizontal_cm": 50, "asymmetry_deg": 30})
    assert [line.split(":")[0] for line in answer["advice"]] == [
        "Bring it nearer to the body",
        "Turn the feet, not the back",
    ]
    out_of_reach = assess("lifting-task", TASK | {"horizontal_cm": 64})
    assert out_of_reach["figures"]["lifting_index"]["value"] is None
    assert "nothing is recommended" in out_of_reach["findings"][0]


@given(st.floats(25, 62), st.floats(0, 175), st.floats(0, 175), st.floats(0, 134), st.floats(0.1, 100))
def test_farther_out_or_more_twisted_is_never_more(
    reach: float, height: float, way: float, twist: float, load: float
) -> None:
    asked = {
        "load_kg": load, "horizontal_cm": reach, "vertical_cm": height, "distance_cm": way, "asymmetry_deg": twist,
    }  # fmt: skip
    here = values(**asked)
    assert here["lifting_index"] * here["rwl_kg"] == pytest.approx(load)
    assert values(**asked | {"horizontal_cm": reach + 1})["rwl_kg"] < here["rwl_kg"]
    assert values(**asked | {"asymmetry_deg": twist + 1})["rwl_kg"] < here["rwl_kg"]
    assert values(**asked | {"distance_cm": way + 1})["rwl_kg"] <= here["rwl_kg"]
    assert values(**asked | {"load_kg": 2 * load})["lifting_index"] == pytest.approx(
        2 * here["lifting_index"]
    )


@given(st.floats(0, 75))
def test_as_far_above_knuckle_height_as_below(off: float) -> None:
    below, above = values(vertical_cm=75 - off)["vm"], values(vertical_cm=75 + off)["vm"]
    assert below == pytest.approx(above)


@given(st.floats(25, 60), st.floats(25, 170))
def test_both_forms_agree_to_a_few_per_cent(reach: float, height: float) -> None:
    metric, inch = niosh.FORMS["metric"], niosh.FORMS["inch"]
    assert niosh.horizontal(metric, reach) == pytest.approx(niosh.horizontal(inch, reach), rel=0.02)
    assert niosh.vertical(metric, height) == pytest.approx(niosh.vertical(inch, height), abs=0.01)


@pytest.mark.parametrize(
    ("wrong", "field", "word"),
    [
        ({"load_kg": -1}, "load_kg", "kg"),
        ({"horizontal_cm": 0.3}, "horizontal_cm", "1 to 150 cm"),
        ({"coupling": "bad"}, "coupling", "poor"),
        ({"end_horizontal_cm": 40}, "end_vertical_cm", "cm"),
        ({"end_vertical_cm": 160}, "distance_cm", "85 cm"),
    ],
)
def test_bad_input_is_named(wrong: dict[str, Any], field: str, word: str) -> None:
    with pytest.raises(InputError) as bad:
        values(**wrong)
    assert word in dict(bad.value.problems)[field]
