"""Does a cold case opened in this air turn wet, and when at the earliest may it be looked at?

Dew point by the Magnus form, T_d = b g/(a - g) with g = ln(RH/100) + a T/(b + T), a 17.625, b 243.04 C
(Alduchov and Eskridge, J. Appl. Meteor. 35, 1996: from memory). Warming by Newton's law with one time
constant: t = tau ln((air - body)/(air - dew point)).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.trade.answer import Assessment, Figure, Verdict
from server.trade.declare import quantity
from server.trade.fields import shown

A, B_C = 17.625, 243.04


@dataclass(frozen=True, kw_only=True)
class Inputs:
    """The air where the case is opened, and how cold the kit is."""

    air_c: float = quantity("air temperature", "C", -40, 60)
    humidity_percent: float = quantity("relative humidity", "%", 1, 100)
    body_c: float = quantity("kit's temperature", "C", -40, 60, "its coldest part: glass and metal")
    time_constant_min: float = quantity(
        "time constant",
        "min",
        1,
        1000,
        "minutes until 63 % of the way to the air: the unit's own",
        default=60,
    )


def dew_point(air_c: float, humidity_percent: float) -> float:
    """Dew point in C over water."""
    g = math.log(humidity_percent / 100) + A * air_c / (B_C + air_c)
    return B_C * g / (A - g)


def earliest(inputs: Inputs, dew_c: float) -> float | None:
    """Minutes until the body passes the dew point; None where it never does in this air."""
    if inputs.body_c > dew_c:
        return 0.0
    if inputs.air_c - dew_c < 1e-6:
        return None
    return inputs.time_constant_min * math.log((inputs.air_c - inputs.body_c) / (inputs.air_c - dew_c))


def assess(inputs: Inputs) -> Assessment:
    """Wet or not; a time is the earliest to look, never a clearance."""
    dew_c = dew_point(inputs.air_c, inputs.humidity_percent)
    minutes = earliest(inputs, dew_c)
    dry = minutes == 0
    when = "not in this air" if minutes is None else f"not before {shown(minutes)} min"
    return Assessment(
        verdict=Verdict.WITHIN if dry else Verdict.ADJUST,
        figures={"dew_point_c": Figure(dew_c, "C"), "earliest_min": Figure(minutes, "min")},
        findings=(
            f"Dry: the kit is above the dew point of {shown(dew_c)} C."
            if dry
            else f"Wet: the kit is not above the dew point of {shown(dew_c)} C: water settles; {when}.",
        ),
        advice=() if dry else ("Keep it closed in its case until it is warm, then look at the glass.",),
        cautions=(
            "The time is never a clearance: look, inside and out, before power. Tube cameras hold EHT.",
        ),
        basis=(
            "Dew point over water by the Magnus form, a 17.625, b 243.04 C: from memory.",
            "Warming by Newton's law with one time constant, a house figure, editable; inside is slower.",
        ),
    )
