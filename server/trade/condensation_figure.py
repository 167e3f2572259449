"""The kit warming in this air, against the dew point: until they cross, water settles on it."""

from __future__ import annotations

import math

from server.trade import figure as pen
from server.trade.condensation import Inputs, assess
from server.trade.figure_scale import Scale, ticks
from server.trade.figure_sheet import Sheet

TITLE = "Condensation"
LEFT, RIGHT, FOOT = 20.0, 318.0, 176.0
TURNS = 40


def draw(inputs: Inputs) -> str:
    """The kit's temperature as a rope over time, the dew point dashed, a ring where they meet."""
    answer = assess(inputs)
    dew = float(answer.figures["dew_point_c"].value or 0)
    minutes = answer.figures["earliest_min"].value
    earliest = None if minutes is None else float(minutes)
    across = Scale(0, _until(inputs, earliest), LEFT, RIGHT)
    shown = (inputs.air_c, inputs.body_c, dew)
    room = 0.12 * max(max(shown) - min(shown), 1.0)
    down = Scale(min(shown) - room, max(shown) + room, FOOT, 16)
    sheet = Sheet()
    sheet.say(
        "The kit's temperature as it warms" if inputs.body_c <= inputs.air_c else "The kit's temperature",
        heavy=True,
    )
    sheet.put(
        FOOT + 30,
        *_lines(down, inputs.air_c, dew),
        *_warming(inputs, across, down, earliest),
        ticks(across, FOOT),
    )
    sheet.say("minutes from opening", tone="soft")
    sheet.say(f"Rope: the kit, from {pen.amount(inputs.body_c, '°C')}.")
    sheet.say(f"Dashed: dew point {pen.amount(dew, '°C')}.")
    sheet.say(f"Thin line: air {pen.amount(inputs.air_c, '°C')}.")
    sheet.say(_when(earliest), heavy=True)
    sheet.verdict(answer)
    return sheet.svg(
        TITLE,
        [
            f"The kit starts at {pen.short(inputs.body_c)} °C in air of {pen.short(inputs.air_c)} °C, dew point "
            f"{pen.short(dew)} °C.",
            _when(earliest),
            f"Verdict: {answer.words}.",
        ],
    )


def _until(inputs: Inputs, earliest: float | None) -> float:
    """Minutes drawn: half as long again as it stays wet, and a time constant at the least."""
    return (
        max(1.5 * earliest, inputs.time_constant_min)
        if earliest is not None
        else 3 * inputs.time_constant_min
    )


def _lines(down: Scale, air_c: float, dew_c: float) -> list[str]:
    def across(figure: float) -> str:
        return pen.path((LEFT, down.at(figure)), (RIGHT, down.at(figure)))

    return [
        pen.mark("air", pen.rule(across(air_c), width=2)),
        pen.mark("dew point", pen.rule(across(dew_c), width=3, tone="soft", dash="8 5")),
    ]


def _warming(inputs: Inputs, across: Scale, down: Scale, earliest: float | None) -> list[str]:
    points = []
    for turn in range(TURNS + 1):
        minutes = across.high * turn / TURNS
        left = math.exp(-minutes / inputs.time_constant_min)
        points.append((across.at(minutes), down.at(inputs.air_c + (inputs.body_c - inputs.air_c) * left)))
    drawn = [pen.mark("kit", pen.rope(pen.path(*points)))]
    if earliest:
        dew = inputs.air_c + (inputs.body_c - inputs.air_c) * math.exp(-earliest / inputs.time_constant_min)
        x, y = across.at(earliest), down.at(dew)
        stands = pen.rule(pen.path((x, y), (x, FOOT)), tone="soft", width=2, dash="2 4")
        wet = (
            pen.words((LEFT + x) / 2, FOOT - 10, "wet", anchor="middle", heavy=True) if x > LEFT + 90 else ""
        )
        drawn.append(pen.mark("earliest", stands, pen.ring(x, y, 8), wet))
    return drawn


def _when(earliest: float | None) -> str:
    if earliest is None:
        return "Wet, and not dry in this air."
    if earliest == 0:
        return "Dry; look all the same."
    return f"Look not before {pen.amount(math.ceil(earliest), 'min')}; never a clearance."
