"""A cable's insulation over its own history, length for length, down to where it is too little."""

from __future__ import annotations

import math

from server.trade import figure as pen
from server.trade.figure_scale import Scale
from server.trade.figure_sheet import Sheet
from server.trade.insulation import CIRCUITS, Inputs, assess, megohm_km, usual_megohm_km

TITLE = "Insulation"
LEFT, RIGHT, FOOT = 84.0, 300.0, 176.0
LEAST_MEGOHM_KM = 1e-4
"""The foot of the scale, where a reading of nought is drawn too."""


def draw(inputs: Inputs) -> str:
    """Readings by their date, every tenfold the same step up, this one last; the limits as lines across."""
    answer = assess(inputs)
    earlier = sorted(inputs.history, key=lambda one: one.at)
    series = [megohm_km(one.megohm, one.length_m or inputs.length_m) for one in earlier]
    here = megohm_km(inputs.megohm, inputs.length_m)
    limits = _limits(inputs)
    down = _scale([*series, here, *limits.values()])
    too_little = any(here < limit for limit in limits.values())
    places = _places([one.at.toordinal() for one in earlier])
    points = list(zip(places, (_at(down, value) for value in (*series, here)), strict=True))
    sheet = Sheet()
    sheet.say("Megohm km, each step tenfold", heavy=True)
    strokes = [*_tenfold(down), *_lines(limits, down)]
    if len(points) > 1:
        strokes.append(pen.mark("history", pen.rope(pen.path(*points), thick=4)))
    strokes += [pen.mark("earlier", pen.ring(x, y, 7)) for x, y in points[:-1]]
    x, y = points[-1]
    strokes.append(pen.mark("now", pen.hole(x, y, 30, 26) if too_little else "", pen.knot(x, y)))
    dates = (
        []
        if not earlier
        else [pen.words(LEFT, FOOT + 26, earlier[0].at.isoformat(), anchor="middle", tone="soft")]
    )
    sheet.put(FOOT + 34, *strokes, *dates, pen.words(RIGHT, FOOT + 26, "now", anchor="middle", tone="soft"))
    lines = [f"Knot: {pen.amount(inputs.megohm, 'Mohm')} on {pen.amount(inputs.length_m, 'm')}."]
    lines += [
        f"{_dash(name)[0]}: {name}, {pen.amount(limit, 'Mohm')}{pen.FIRM}km."
        for name, limit in limits.items()
    ]
    for line in lines:
        sheet.say(line)
    if not earlier:
        sheet.say("No earlier reading: this begins its history.", tone="soft")
    sheet.verdict(answer)
    trend = answer.figures["trend"].value
    times = [] if trend is None else [f"{pen.short(float(trend))} times what it usually reads."]
    return sheet.svg(
        TITLE, [*(line.replace(pen.FIRM, " ") for line in lines), *times, f"Verdict: {answer.words}."]
    )


def _limits(inputs: Inputs) -> dict[str, float]:
    """By the rule for its circuit, and by its own history; both in Mohm km."""
    limits = {"the least by the rule": megohm_km(CIRCUITS[inputs.circuit][1], inputs.length_m)}
    usual = usual_megohm_km(inputs)
    return limits if not usual else limits | {"least of its own": usual * inputs.least_share}


def _dash(name: str) -> tuple[str, str]:
    return ("Dashed", "8 5") if name == "the least by the rule" else ("Dotted", "2 4")


def _scale(values: list[float]) -> Scale:
    logs = [math.log10(max(value, LEAST_MEGOHM_KM)) for value in values]
    foot = max(math.floor(min(logs) - 0.2), math.log10(LEAST_MEGOHM_KM))
    return Scale(foot, max(math.ceil(max(logs) + 0.2), foot + 1), FOOT, 12)


def _at(down: Scale, value: float) -> float:
    return down.at(math.log10(max(value, LEAST_MEGOHM_KM)))


def _places(days: list[int]) -> list[float]:
    """By date; nobody said today's, so this reading stands a step after the last."""
    if not days:
        return [RIGHT]
    span = max(days[-1] - days[0], 1)
    last = LEFT + (RIGHT - LEFT) * 0.8
    return [LEFT + (last - LEFT) * (day - days[0]) / span for day in days] + [RIGHT]


def _tenfold(down: Scale) -> list[str]:
    """Every tenth power, named while there is room."""
    whole = range(int(down.low), int(down.high) + 1)
    every = 1 + len(whole) // 7
    drawn = []
    for power in whole:
        y = down.at(power)
        drawn.append(pen.rule(pen.path((LEFT - 14, y), (LEFT - 8, y)), width=2, tone="soft"))
        words = pen.short(10.0**power)
        if (power - whole[0]) % every == 0 and pen.breadth(words) < LEFT - 18:
            drawn.append(pen.words(LEFT - 18, y + 6, words, anchor="end", tone="soft"))
    return [*drawn, pen.rule(pen.path((LEFT - 14, 12), (LEFT - 14, FOOT)), width=2, tone="soft")]


def _lines(limits: dict[str, float], down: Scale) -> list[str]:
    return [
        pen.mark(
            name,
            pen.rule(
                pen.path((LEFT - 14, _at(down, limit)), (RIGHT + 24, _at(down, limit))),
                dash=_dash(name)[1],
                tone="soft",
            ),
        )
        for name, limit in limits.items()
    ]
