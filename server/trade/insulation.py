"""Does this cable still insulate, by its own history first and then by the rule for its circuit?

Insulation goes as one over length, R = r/L, so cables are compared by r in Mohm km. Least, dead, direct
current (BS 7671 reg 643.3, second-hand): SELV or PELV tested at 250 V 0.5 Mohm, other circuits up to 500 V
tested at 500 V 1.0 Mohm. Protective conductor: at most 0.1 ohm plus its own (IET Code of Practice, from memory).
"""

from __future__ import annotations

import datetime
import statistics
from dataclasses import dataclass

from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import choice, day, quantity, table_of
from server.trade.errors import InputError
from server.trade.fields import shown

PASSED_BY = "a competent person"
CIRCUITS = {"selv": (250.0, 0.5), "mains": (500.0, 1.0)}
"""Test voltage and least Mohm."""
WEATHER = ("dry", "damp", "wet")
FIXED_OHM = 0.1
RISES = 1.2
CAUTIONS = (
    "Isolate, prove dead, lock off and tag at the truck and at the camera before the first measurement: "
    "mains and camera power kill.",
    "Unplug camera and base station first: neither may see the test voltage.",
    "Nobody touches the far end while it is tested; discharge the cable afterwards.",
    "Local rules and a competent person decide.",
)


NOTHING = 1e-9
"""Mohm km: a history of less is zero, and nothing to compare with."""


@dataclass(frozen=True, kw_only=True)
class Earlier:
    """One earlier reading of the same cable."""

    at: datetime.date = day("on")  # noqa: RUF009 - declares only
    megohm: float = quantity("read", "Mohm", 0, 1e6)
    weather: str | None = choice("weather", *WEATHER, default=None)
    length_m: float | None = quantity("length then", "m", 0.1, 20000, "if not as now", default=None)


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """One core against all others bonded, or live conductors joined against earth."""

    test_v: float = quantity("tested at", "V", 1, 5000, "direct current, as set on the tester")
    megohm: float = quantity(
        "read", "Mohm", 0, 1e6, "after a minute; over range: the highest the tester shows"
    )
    length_m: float = quantity("length", "m", 0.1, 20000, "all drums of the run")
    circuit: str = choice("circuit", *CIRCUITS, help="selv: extra-low voltage, separated")
    weather: str | None = choice("weather", *WEATHER, help="of the plugs and drums", default=None)
    history: tuple[Earlier, ...] = table_of(Earlier, "earlier readings", least=0, default=())
    least_share: float = quantity(
        "least share of its own history", "", 0.001, 1, "house limit, editable", default=0.1
    )
    first_megohm: float | None = quantity(
        "read at the start", "Mohm", 0, 1e6, "of the same minute: tells absorption from leakage", default=None
    )
    protective_ohm: float | None = quantity(
        "protective conductor", "ohm", 0, 1000, "end to end, leads' own taken off", default=None
    )
    protective_mohm_per_m: float | None = quantity(
        "protective conductor by its size", "mohm/m", 0.1, 1000, "for the limit", default=None
    )

    def __post_init__(self) -> None:
        if self.protective_ohm is not None and self.protective_mohm_per_m is None:
            raise InputError(
                ("protective_mohm_per_m", "is missing to judge protective_ohm; give 0.1 to 1000 mohm/m")
            )


def megohm_km(megohm: float, length_m: float) -> float:
    """What one kilometre of it would read, in Mohm."""
    return megohm * length_m / 1000


def protective_limit_ohm(length_m: float, mohm_per_m: float) -> float:
    """0.1 ohm plus the conductor's own."""
    return FIXED_OHM + length_m * mohm_per_m / 1000


def usual_megohm_km(inputs: Inputs) -> float | None:
    """The median of its own history, in the weather of today where there is any of it; None without history."""
    alike = [one for one in inputs.history if one.weather == inputs.weather]
    return (
        statistics.median(
            megohm_km(one.megohm, one.length_m or inputs.length_m) for one in alike or inputs.history
        )
        if inputs.history
        else None
    )


def falls_in_a_row(inputs: Inputs) -> int:
    """How many readings, this one the last, each read less than the one before, by Mohm km."""
    by_day = sorted(inputs.history, key=lambda one: one.at)
    series = [megohm_km(one.megohm, one.length_m or inputs.length_m) for one in by_day]
    series.append(megohm_km(inputs.megohm, inputs.length_m))
    falls = 0
    for before, after in zip(reversed(series[:-1]), reversed(series[1:]), strict=True):
        if after >= before:
            break
        falls += 1
    return falls


def assess(inputs: Inputs) -> Assessment:
    """Against its own history, then the rule; the protective conductor where it was read."""
    voltage, limit = CIRCUITS[inputs.circuit]
    usual = usual_megohm_km(inputs)
    here = megohm_km(inputs.megohm, inputs.length_m)
    trend = here / usual if usual and usual > NOTHING else None
    protective = (
        None
        if inputs.protective_mohm_per_m is None
        else protective_limit_ohm(inputs.length_m, inputs.protective_mohm_per_m)
    )
    beyond = _beyond(inputs, trend, limit, protective)
    unknown = _unknown(inputs, voltage)
    verdict = Verdict.FIGURES_BEYOND if beyond else Verdict.CANNOT_TELL if unknown else Verdict.FIGURES_WITHIN
    return Assessment(
        verdict=verdict,
        figures={
            "megohm_km": Figure(here, "Mohm km"),
            "limit_megohm": Figure(limit, "Mohm"),
            "usual_megohm": Figure(None if usual is None else usual * 1000 / inputs.length_m, "Mohm"),
            "trend": Figure(trend, "times its usual"),
            "protective_limit_ohm": Figure(protective, "ohm"),
        },
        findings=(*_history(inputs, trend), *beyond, *unknown, *_within_the_minute(inputs)),
        advice=_advice(inputs, beyond),
        cautions=CAUTIONS,
        basis=(
            "Mohm x km: the definition. Usual: the median of its own history, in the same weather where there is any.",
            f"Least: BS 7671 reg 643.3, second-hand: {shown(limit)} Mohm at {shown(voltage)} V for this circuit.",
            f"Less than {shown(inputs.least_share)} of its own history: house limit, editable.",
            "Protective conductor: 0.1 ohm plus its own, IET Code of Practice, from memory."
            if protective is not None
            else "No protective conductor was asked about.",
            "Heat and wet change the reading: log weather and temperature with it.",
        ),
        passed_by="" if verdict is Verdict.CANNOT_TELL else PASSED_BY,
    )


def _history(inputs: Inputs, trend: float | None) -> tuple[str, ...]:
    if trend is None and inputs.history:
        return ("Its earlier readings are nothing to compare with: zero in the middle.",)
    if trend is None:
        return ("No reading of its own to compare with: this one begins its history.",)
    said = [f"{shown(trend)} times what it usually reads, length for length."]
    falls = falls_in_a_row(inputs)
    if falls > 1:
        said.append(f"It has fallen {falls} times in a row.")
    if inputs.weather is None or not any(one.weather == inputs.weather for one in inputs.history):
        said.append("No earlier reading is from weather known to be the same.")
    return tuple(said)


def _beyond(inputs: Inputs, trend: float | None, limit: float, protective: float | None) -> tuple[str, ...]:
    beyond = []
    if trend is not None and trend < inputs.least_share:
        beyond.append(
            f"Beyond the house limit: less than {shown(inputs.least_share)} of its own history is left."
        )
    if inputs.megohm < limit:
        beyond.append(f"Below the least of BS 7671: {shown(inputs.megohm)} Mohm against {shown(limit)} Mohm.")
    if protective is not None and inputs.protective_ohm is not None and inputs.protective_ohm > protective:
        beyond.append(
            f"Protective conductor too high: {shown(inputs.protective_ohm)} ohm against {shown(protective)} ohm "
            "(IET Code of Practice, from memory)."
        )
    return tuple(beyond)


def _unknown(inputs: Inputs, voltage: float) -> tuple[str, ...]:
    if inputs.test_v < voltage:
        return (
            f"Tested at {shown(inputs.test_v)} V: the rule for this circuit asks {shown(voltage)} V, so within is not "
            "told. Sensitive equipment: 250 V, live conductors joined, against earth (second-hand), if a competent "
            "person says so.",
        )
    return ()


def _within_the_minute(inputs: Inputs) -> tuple[str, ...]:
    if inputs.first_megohm is None:
        return ()
    if inputs.megohm > RISES * inputs.first_megohm:
        return ("It rises within the minute: absorption (from memory); read on until it is steady.",)
    return ("It stays as it was within the minute: where it is low, that is leakage (from memory).",)


def _advice(inputs: Inputs, beyond: tuple[str, ...]) -> tuple[str, ...]:
    over = inputs.test_v > CIRCUITS[inputs.circuit][0]
    return (
        *(
            ("Dry and clean both plugs and every joint, read again; then part the run to find the drum.",)
            if beyond
            else ()
        ),
        *(("Wet joints dry on the bench: read it again wet, before it goes out.",) if beyond else ()),
        *(
            ("The tester is set higher than the rule asks: ask whether everything on this cable takes that.",)
            if over
            else ()
        ),
    )
