"""Continuity: what each reading means, and that few readings find what many would."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.trade import measuring_order
from server.trade.errors import InputError
from server.trade.register import assess

PINS = {"1": "red video", "2": "green video", "3": "talkback", "4": "power go"}
WHOLE = [[pin, pin, 5.0] for pin in PINS]
RUN = {"pins": PINS, "limit_ohm": 7.8}


def values(**more: Any) -> dict[str, Any]:
    return {name: one["value"] for name, one in assess("continuity", RUN | more)["figures"].items()}


# IEC 60228, second-hand: 39.0 ohm/km is the most of 0.5 mm2 of class 5
def test_cab_1_the_limit_of_a_core() -> None:
    raw = {"pins": PINS, "section_mm2": 0.5, "length_m": 200, "measured": [["1", "1", 7.9], ["2", "2", 7.7]]}
    figures = assess("continuity", raw)["figures"]
    assert figures["limit_ohm"]["value"] == pytest.approx(7.8, rel=1e-12)
    assert figures["high"]["value"] == "1 (red video)"


# IEC 60228 formula, second-hand; number computed
def test_cab_2_a_warm_drum_may_read_more() -> None:
    warm = values(limit_ohm=None, section_mm2=0.5, length_m=200, temperature_c=45)
    assert warm["limit_ohm"] == pytest.approx(7.8 * 1.098, rel=1e-3)


# common practice, no source
def test_cab_24_nominal_length() -> None:
    long = values(limit_ohm=None, section_mm2=0.5, length_m=1800 * 0.3048)
    assert long["limit_ohm"] == pytest.approx(39.0 * 0.54864, rel=1e-12)


def test_open_short_crossed_and_high_by_pin_and_by_what_it_carries() -> None:
    answer = assess(
        "continuity",
        RUN
        | {"measured": [["1", "2", 5], ["2", "1", 5], ["1", "1", None], ["2", "2", 5e6], ["3", "3", 5],
                        ["3", "4", 6], ["4", "4", 9]]},
    )  # fmt: skip
    figures = {name: one["value"] for name, one in answer["figures"].items()}
    assert figures["open"] == "1 (red video), 2 (green video)"
    assert figures["crossed"] == "1 (red video) to 2 (green video), 2 (green video) to 1 (red video)"
    assert figures["short"] == "3 (talkback) to 4 (power go)"
    assert figures["high"] == "4 (power go)"
    assert answer["verdict"] == "beyond limits"


def test_joined_without_their_own_pins_read_is_not_told() -> None:
    answer = assess("continuity", RUN | {"measured": [["1", "2", 5]]})
    assert "short or crossed is not told" in answer["findings"][0]
    assert (answer["figures"]["short"]["value"], answer["figures"]["crossed"]["value"]) == ("none", "none")


def test_a_list_of_other_pins_and_a_reading_from_the_far_end() -> None:
    pins = {"A": "video", "B": "video", "C": "screen", "D": "screen"}
    run = {"pins": pins, "expected": [["A", "B"], ["C", "D"]], "limit_ohm": 7.8}
    whole = {**run, "measured": [["B", "A", 5], ["C", "D", 5]], "tied_groups": "all open"}
    assert assess("continuity", whole)["verdict"] == "within limits"
    joined = {**run, "measured": [["A", "B", 5], ["C", "D", 5], ["A", "C", 0.1]]}
    assert assess("continuity", joined)["figures"]["short"]["value"] == "A (video) to C (screen)"


@pytest.mark.parametrize(
    ("more", "verdict"),
    [
        ({"measured": WHOLE, "tied_groups": "all open"}, "within limits"),
        ({"measured": WHOLE + [[a, b, None] for a in PINS for b in PINS if a < b]}, "within limits"),
        ({"measured": WHOLE}, "cannot tell"),
        ({"measured": WHOLE[1:], "tied_groups": "all open"}, "cannot tell"),
        ({"measured": WHOLE, "tied_groups": "all open", "limit_ohm": None}, "cannot tell"),
        ({"measured": WHOLE, "tied_groups": "some closed"}, "beyond limits"),
        ({}, "cannot tell"),
    ],
)
def test_a_missing_reading_is_never_within(more: dict[str, Any], verdict: str) -> None:
    answer = assess("continuity", RUN | more)
    assert answer["verdict"] == verdict
    assert answer["cautions"][0].startswith("Isolate, prove dead, lock off")


def test_says_how_many_readings() -> None:
    many = values(pins={str(pin): "core" for pin in range(101)})
    assert (many["tests"], many["tests_one_by_one"]) == (8, 5151)
    advice = assess("continuity", RUN)["advice"]
    assert "at most 2 more find one open core" in advice[0]
    assert [line.split(":")[0] for line in advice[1:]] == ["Tied group 1 of 2", "Tied group 2 of 2"]
    assert "far end, tie 2, 4 to a return" in advice[1]
    assert "this end, tie 1, 3 and read" in advice[1]


def closed(
    group: measuring_order.Group, reaches: dict[int, int], joined: frozenset[int] = frozenset()
) -> bool:
    """What a tied group reads on a cable whose cores reach other pins, two of them perhaps joined."""
    near, far = group
    ends = {reaches[core] for core in near}
    if ends & {reaches[core] for core in joined}:
        ends |= {reaches[core] for core in joined}
    return bool(ends & set(far))


@given(st.integers(2, 200), st.data())
def test_any_short_closes_some_group(count: int, data: st.DataObject) -> None:
    pair = data.draw(st.sets(st.integers(0, count - 1), min_size=2, max_size=2))
    straight = {core: core for core in range(count)}
    groups = measuring_order.tied_groups(count)
    assert not any(closed(group, straight) for group in groups)
    assert any(closed(group, straight, frozenset(pair)) for group in groups)


@given(st.integers(2, 200), st.randoms(use_true_random=False))
def test_any_crossing_closes_some_group(count: int, random: Any) -> None:
    pins = list(range(count))
    random.shuffle(pins)
    reaches = dict(enumerate(pins))
    crossed = any(core != pin for core, pin in reaches.items())
    assert any(closed(group, reaches) for group in measuring_order.tied_groups(count)) == crossed


@given(st.integers(1, 300), st.data())
def test_halving_finds_an_open_core_in_as_many_as_said(count: int, data: st.DataObject) -> None:
    bad = data.draw(st.integers(0, count - 1))
    suspects, readings = tuple(range(count)), 0
    while len(suspects) > 1:
        strung, left = measuring_order.halves(suspects)
        suspects, readings = (strung if bad in strung else left), readings + 1
    assert suspects == (bad,)
    assert readings <= measuring_order.to_find(count)


@given(st.integers(4, 500))
def test_few_is_fewer(count: int) -> None:
    assert measuring_order.few(count) < measuring_order.one_by_one(count)


@given(st.permutations([*WHOLE, ["1", "2", 3.0], ["4", "3", None]]), st.floats(0.01, 100))
def test_neither_order_nor_scale_changes_what_is_found(readings: list[Any], times: float) -> None:
    scaled = [[a, b, ohm and ohm * times] for a, b, ohm in readings]
    here, there = values(measured=readings), values(measured=scaled, limit_ohm=7.8 * times, open_ohm=1e6)
    for name in ("open", "crossed", "high", "short"):
        assert sorted(here[name].split(", ")) == sorted(there[name].split(", "))
    assert here["short"] == "1 (red video) to 2 (green video)"


@pytest.mark.parametrize(
    ("wrong", "field", "word"),
    [
        ({"measured": [["1", "9", 5]]}, "measured[1].b", "not among the pins"),
        ({"expected": [["1", "1"], ["x", "2"]]}, "expected[2].a", "give one of 1, 2, 3, 4"),
        ({"measured": [["1", "1", -5]]}, "measured[1].ohm", "ohm"),
        ({"measured": [["1", "1", "NaN"]]}, "measured[1].ohm", "not a number"),
        ({"pins": {}}, "pins", "by name"),
        ({"limit_ohm": 5000}, "open_ohm", "ohm"),
        ({"limit_ohm": None, "section_mm2": 0.5}, "length_m", "20000 m"),
    ],
)
def test_bad_input_is_named(wrong: dict[str, Any], field: str, word: str) -> None:
    with pytest.raises(InputError) as bad:
        values(**wrong)
    assert word in dict(bad.value.problems)[field]
