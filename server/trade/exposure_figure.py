"""The stops there are and the stops that are needed, on one scale from wide open to closed."""

from __future__ import annotations

import math

from server.trade import figure as pen
from server.trade import stops
from server.trade.exposure import Inputs, assess, light
from server.trade.figure_scale import Scale, axis
from server.trade.figure_sheet import Sheet

TITLE = "Exposure"
LEFT, RIGHT, LINE = 24.0, 316.0, 64.0


def draw(inputs: Inputs) -> str:
    """Rope from the widest iris there is to the one needed: stops in hand; dashed where they are short."""
    answer, found = assess(inputs), light(inputs)
    scale = _scale(found.available, found.needed, inputs.warn_stops)
    warn = stops.closed(found.available, inputs.warn_stops)
    sheet = Sheet()
    sheet.say("Iris at the tightest shot", heavy=True)
    sheet.put(
        LINE + 44, *_marks(scale, found.available, found.needed, warn, short=found.in_hand < 0), _axis(scale)
    )
    sheet.say(f"Ring: widest there is, {_f(found.available)}.")
    sheet.say(f"Knot: needed, {_f(found.needed)}.")
    sheet.say(f"Dashed: warn from here, {_f(warn)}.", tone="soft")
    sheet.say(_in_hand(found.in_hand), heavy=True, tone="alarm" if found.in_hand < 0 else "ink")
    if inputs.filter_stops:
        sheet.say(f"The filter taken out gives {_stops(inputs.filter_stops)}.")
    sheet.verdict(answer)
    return sheet.svg(
        TITLE,
        [
            f"Needed {_f(found.needed)}, widest there is {_f(found.available)}.",
            _in_hand(found.in_hand),
            f"Verdict: {answer.words}.",
        ],
    )


def _scale(available: float, needed: float, warn_stops: float) -> Scale:
    """In stops from f/1."""
    at = [stops.between(1, available), stops.between(1, needed)]
    at.append(at[0] + warn_stops)
    return Scale(min(at) - 1, max(at) + 1, LEFT, RIGHT)


def _axis(scale: Scale) -> str:
    """The whole stops: f/1, 1.4, 2 and so on."""
    whole = range(math.ceil(scale.low), math.floor(scale.high) + 1)
    numbers = [stops.closed(1, stop) for stop in whole]
    marked = [f"{number:.2g}" if 1 <= number < 100 else pen.short(number) for number in numbers]
    return axis(scale, LINE + 20, list(zip(whole, marked, strict=True)))


def _marks(scale: Scale, available: float, needed: float, warn: float, *, short: bool) -> list[str]:
    open_x, needed_x, warn_x = (scale.at(stops.between(1, n)) for n in (available, needed, warn))
    d = pen.path((open_x, LINE), (needed_x, LINE))
    between = pen.rule(d, width=5, tone="alarm", dash="8 5") if short else pen.rope(d, thick=7)
    left = min(max((open_x + needed_x) / 2, 60), pen.WIDTH - 60)
    return [
        pen.mark("warn", pen.rule(f"M{pen.unit(warn_x)} {LINE - 26}v40", tone="soft", dash="5 4")),
        pen.mark("in hand", between),
        pen.mark("available", pen.ring(open_x, LINE, 9)),
        pen.mark("needed", pen.knot(needed_x, LINE)),
        pen.words(
            left,
            LINE - 36,
            "short" if short else "in hand",
            anchor="middle",
            tone="alarm" if short else "ink",
            heavy=True,
        ),
    ]


def _f(number: float) -> str:
    return f"f/{pen.short(number)}"


def _in_hand(in_hand: float) -> str:
    return f"{_stops(abs(in_hand))} {'too little light' if in_hand < 0 else 'in hand'}."


def _stops(number: float) -> str:
    return pen.amount(number, "stop" if pen.short(number) == "1" else "stops")
