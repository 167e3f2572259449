"""Distance to a fault: each method against its source, then over any place on any run."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from server.trade import fault_methods
from server.trade.errors import InputError
from server.trade.register import assess

MILE_M = 1609.344
RUN = [{"tag": "D1", "length_m": 100}, {"tag": "D2", "length_m": 120}, {"tag": "D3", "length_m": 80}]


def values(method: str, **raw: Any) -> dict[str, Any]:
    figures = assess("fault-distance", {"method": method, **raw})["figures"]
    return {name: one["value"] for name, one in figures.items()}


# exam exercises, second-hand (data; answer of the first), computed
def test_cab_12_murray() -> None:
    assert values("murray", length_m=600, arm_sound=3, arm_fault=1)["distance_m"] == pytest.approx(300)
    assert values("murray", length_m=300, arm_sound=2, arm_fault=1)["distance_m"] == pytest.approx(200)
    drums = [["A", 100, 120], ["B", 100, 240]]
    joint = values("murray", drums=drums, arm_sound=2, arm_fault=1, reading_percent=0, run_percent=0)
    assert joint["distance_m"] == pytest.approx(100, rel=1e-12)
    assert values("murray", drums=drums, arm_sound=2, arm_fault=1)["drum"] == "A, B"


# Hawkins Electrical Guide, vol. 3, published; miles converted here
def test_cab_13_murray_by_slide() -> None:
    got = values("murray", arm_sound=668, arm_fault=332, loop_ohm=54.07, ohm_per_km=16.46 / (MILE_M / 1000))
    assert got["to_fault_ohm"] == pytest.approx(17.951, abs=5e-4)
    assert got["distance_m"] / MILE_M == pytest.approx(1.0906, abs=5e-5)
    assert got["distance_m"] / MILE_M == pytest.approx(1.09, abs=0.005)
    assert got["distance_m"] / 1000 == pytest.approx(1.755, abs=0.005)


# CAB-14: an exercise, second-hand (data); CAB-15: Purkait et al., from memory; computed
@pytest.mark.parametrize(
    ("per_km", "p", "q", "s1", "s2", "loop", "core_m", "ohm", "metres"),
    [
        pytest.param(0.5, 15, 40, 20, 10, 7.5, 7500, 2.7273, 5454.5, id="CAB-14"),
        pytest.param(0.4, 20, 50, 30, 15, 12, 15000, 4.2857, 10714, id="CAB-15"),
    ],
)
def test_cab_14_and_cab_15_varley(
    per_km: float,
    p: float,
    q: float,
    s1: float,
    s2: float,
    loop: float,
    core_m: float,
    ohm: float,
    metres: float,
) -> None:
    raw = {"arm_sound": p, "arm_fault": q, "series_loop_ohm": s1, "series_fault_ohm": s2}
    got = values("varley", **raw, ohm_per_km=per_km)
    assert got["loop_ohm"] == pytest.approx(loop, abs=1e-4)
    assert got["length_m"] == pytest.approx(core_m, rel=1e-9)
    assert got["to_fault_ohm"] == pytest.approx(ohm, abs=1e-4)
    assert got["distance_m"] == pytest.approx(metres, rel=1e-4)
    by_length = values("varley", **raw, length_m=core_m)
    assert by_length["distance_m"] == pytest.approx(got["distance_m"], rel=1e-9)


# algebra, computed
def test_cab_16_two_ends_to_earth() -> None:
    got = values("two-ended", core_ohm=10, a_ohm=5, b_ohm=9, length_m=1000)
    assert (got["to_fault_ohm"], got["fault_ohm"]) == (3, 2)
    assert got["distance_m"] == pytest.approx(300, rel=1e-12)


# algebra, computed
@pytest.mark.parametrize("contact", [0, 5])
def test_cab_17_short_from_two_ends(contact: float) -> None:
    raw = {"fault": "core to core", "length_m": 300, "ohm_per_km": 36.5}
    got = values("two-ended", **raw, a_ohm=7.3 + contact, b_ohm=14.6 + contact)
    assert got["distance_m"] == pytest.approx(100, abs=1e-9)
    assert got["fault_ohm"] == pytest.approx(contact, abs=1e-9)


# formula, computed
@pytest.mark.parametrize(("us", "metres"), [(1, 98.93), (2, 197.86)])
def test_cab_18_pulse_echo(us: float, metres: float) -> None:
    got = values("pulse-echo", velocity_factor=0.66, echo_us=us)
    assert got["distance_m"] == pytest.approx(metres, abs=0.005)


def test_a_good_core_calibrates_the_velocity() -> None:
    got = values("pulse-echo", drums=RUN, good_echo_us=3.2, echo_us=1.6)
    assert got["distance_m"] == pytest.approx(150, rel=1e-12)
    factor = fault_methods.velocity_factor(300, 3.2)
    assert fault_methods.echo_m(factor, 3.2) == pytest.approx(300, rel=1e-12)


# the two-ended form: from memory
def test_an_open_core_by_capacitance() -> None:
    one_end = values("capacitance", drums=RUN, fault_nf=20, good_nf=30)
    both = values("capacitance", drums=RUN, fault_nf=20, far_nf=10)
    assert one_end["distance_m"] == both["distance_m"] == pytest.approx(200)
    assert one_end["drum"] == "D2"


@given(st.floats(0.01, 0.99), st.floats(0.5, 200), st.floats(0, 50))
def test_every_method_finds_where_it_was_put(part: float, core: float, fault: float) -> None:
    """A model cable of our own, solved forward: the fault at a part of one core, as each method reads it."""
    here, back = part * core, (2 - part) * core
    known = {"drums": RUN, "reading_percent": 0, "run_percent": 0}
    series = 5 * core
    sound = (back / (here + series)) * 10
    readings: dict[str, dict[str, Any]] = {
        "murray": {"arm_sound": back, "arm_fault": here},
        "varley": {"arm_sound": sound, "arm_fault": 10, "series_fault_ohm": series, "loop_ohm": 2 * core},
        "two-ended": {"core_ohm": core, "a_ohm": here + fault, "b_ohm": core - here + fault},
        "pulse-echo": {"good_echo_us": 3.2, "echo_us": 3.2 * part},
        "capacitance": {"good_nf": 30, "fault_nf": 30 * part},
    }
    for method, read in readings.items():
        got = values(method, **known, **read)
        assert got["distance_m"] == pytest.approx(300 * part, rel=1e-6, abs=1e-6)
        assert got["distance_m"] + got["from_far_end_m"] == pytest.approx(300)
    loops = {"a_ohm": 2 * here + fault, "b_ohm": 2 * (core - here) + fault, "fault": "core to core"}
    assert values("two-ended", **known, core_ohm=core, **loops)["distance_m"] == pytest.approx(
        300 * part, rel=1e-6, abs=1e-6
    )


@given(st.floats(0.02, 1.98), st.floats(0.1, 5))
def test_unlike_sections_by_walking_in_ohms(part: float, ratio: float) -> None:
    """Ohms from this end, walked drum by drum the other way, give the arms back."""
    assume(part <= 1)
    drums = [["A", 100, 1.5], ["B", 50, 1.5 * ratio], ["C", 70, 1.0]]
    ohms = [length / section for _, length, section in drums]
    got = values("murray", drums=drums, arm_sound=2 - part, arm_fault=part)["distance_m"]
    walked, left = 0.0, got
    for (_, length, _), ohm in zip(drums, ohms, strict=True):
        inside = min(left, length)
        walked, left = walked + ohm * inside / length, left - inside
    assert walked == pytest.approx(part * sum(ohms), rel=1e-9)


@given(st.floats(0.05, 0.95), st.floats(0.1, 10))
def test_twice_the_errors_is_twice_the_uncertainty_and_it_covers_them(part: float, percent: float) -> None:
    raw = {"length_m": 300, "core_ohm": 10, "run_percent": 0}
    a, b = 10 * part + 5, 10 * (1 - part) + 5
    once = values("two-ended", **raw, a_ohm=a, b_ohm=b, reading_percent=percent)["uncertainty_m"]
    twice = values("two-ended", **raw, a_ohm=a, b_ohm=b, reading_percent=2 * percent)["uncertainty_m"]
    assert twice == pytest.approx(2 * once, rel=0.25)
    off = values("two-ended", **raw, a_ohm=a * (1 + percent / 100), b_ohm=b, reading_percent=percent)
    if off["distance_m"] is not None:
        assert abs(off["distance_m"] - 300 * part) <= once * (1 + 1e-9)


def test_a_velocity_error_is_a_distance_error() -> None:
    """The notes' own rule: distance error % = velocity error %."""
    got = values("pulse-echo", velocity_factor=0.66, echo_us=1, reading_percent=0, run_percent=3)
    assert got["uncertainty_m"] == pytest.approx(0.03 * got["distance_m"], rel=1e-9)


def test_one_per_cent_of_arms_is_not_one_per_cent_of_the_place() -> None:
    """The trap of the notes: at 200 m of 300 both arms out by 1 % move it by 2.7 m, by algebra."""
    got = values("murray", length_m=300, arm_sound=2, arm_fault=1, run_percent=0)
    assert got["uncertainty_m"] == pytest.approx(200 * 2 / 3 * 0.02, rel=0.02)


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        ({"method": "murray", "length_m": 300, "arm_sound": 1, "arm_fault": 2}, "arms exchanged"),
        ({"method": "two-ended", "length_m": 300, "core_ohm": 10, "a_ohm": 30, "b_ohm": 2}, "outside the run"),
        ({"method": "two-ended", "length_m": 300, "core_ohm": 10, "a_ohm": 1, "b_ohm": 1}, "do not agree"),
        ({"method": "pulse-echo", "length_m": 100, "velocity_factor": 0.66, "echo_us": 2}, "outside the run"),
    ],
)  # fmt: skip
def test_readings_that_cannot_be_place_nothing(raw: dict[str, Any], words: str) -> None:
    answer = assess("fault-distance", raw)
    assert answer["verdict"] == "cannot tell"
    assert answer["figures"]["distance_m"]["value"] is None
    assert words in answer["findings"][0]


def test_says_which_drum_to_change_and_what_stands_first() -> None:
    answer = assess(
        "fault-distance",
        {"method": "pulse-echo", "drums": RUN, "velocity_factor": 0.66, "echo_us": 1.5, "echo": "as sent"},
    )
    assert (answer["verdict"], answer["figures"]["drum"]["value"]) == ("adjust", "D2")
    assert answer["advice"][0].startswith("Change D2")
    assert "an open" in answer["findings"][1]
    assert answer["cautions"][0].startswith("Isolate, prove dead, lock off")


@pytest.mark.parametrize(
    ("raw", "field", "word"),
    [
        ({"method": "murray", "length_m": 300, "arm_sound": 2}, "arm_fault", "missing for murray"),
        ({"method": "murray", "arm_sound": 2, "arm_fault": 1}, "ohm_per_km", "ohm/km"),
        ({"method": "murray", "length_m": 300, "arm_sound": 2, "arm_fault": 0}, "arm_fault", "more than 0"),
        ({"method": "varley", "length_m": 9, "arm_sound": 2, "arm_fault": 1, "series_fault_ohm": 1},
         "loop_ohm", "ohm"),
        ({"method": "varley", "length_m": 9, "arm_sound": 0, "arm_fault": 1, "series_fault_ohm": 0,
          "series_loop_ohm": 0}, "series_loop_ohm", "a loop of 0 ohm"),
        ({"method": "pulse-echo", "echo_us": 1, "good_echo_us": 3}, "length_m", "20000 m"),
        ({"method": "capacitance", "fault_nf": 1, "length_m": 9}, "good_nf", "nF"),
        ({"method": "bridge"}, "method", "murray"),
        ({"method": "pulse-echo", "echo_us": 1, "velocity_factor": 66}, "velocity_factor", "0.1 to 1"),
        ({"method": "capacitance", "fault_nf": 1, "good_nf": 2, "drums": [["A", 100, 1.5], ["B", 100]]},
         "drums[2].section_mm2", "mm2"),
        ({"method": "capacitance", "fault_nf": 1, "good_nf": 2, "drums": RUN, "length_m": 200}, "length_m", "drums"),
    ],
)  # fmt: skip
def test_bad_input_is_named(raw: dict[str, Any], field: str, word: str) -> None:
    with pytest.raises(InputError) as bad:
        assess("fault-distance", raw)
    assert word in dict(bad.value.problems)[field]
