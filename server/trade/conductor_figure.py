"""The core's resistance on a line, against the most that its size and length may have."""

from __future__ import annotations

from server.trade import figure as pen
from server.trade.conductor import Inputs, assess
from server.trade.figure_scale import Scale, ticks
from server.trade.figure_sheet import Sheet

TITLE = "Resistance of a core"
LINE = 40.0


def draw(inputs: Inputs) -> str:
    """A band up to the limit at 20 C and a knot where the reading lies at 20 C, in a hole where it is too high."""
    answer = assess(inputs)
    figures = {name: one.value for name, one in answer.figures.items()}
    most = float(figures["limit_ohm_per_km"] or 0) * inputs.length_m / 1000
    read = None if figures["at_20c_ohm"] is None else float(figures["at_20c_ohm"])
    warm = float(figures["expected_ohm"] or 0)
    scale = Scale(0, 1.15 * max(most, read or 0), 24, 316)
    sheet = Sheet()
    sheet.say("Ohm at 20 °C", heavy=True)
    band = pen.band(pen.box(scale.start, LINE - 14, scale.at(most) - scale.start, 28))
    edge = pen.rule(f"M{pen.unit(scale.at(most))} {LINE - 22}v44", tone="soft", dash="8 5")
    strokes = [pen.mark("limit", band, edge), ticks(scale, LINE + 26)]
    if read is not None:
        x = scale.at(read)
        strokes.append(pen.mark("read", pen.hole(x, LINE, 30, 24) if read > most else "", pen.knot(x, LINE)))
    sheet.put(LINE + 54, *strokes)
    lines = [
        f"Dashed: at most {pen.amount(most, 'ohm')}.",
        "No reading." if read is None else f"Knot: read, {pen.amount(read, 'ohm')}.",
        f"At {pen.amount(inputs.temperature_c, '°C')} at most {pen.amount(warm, 'ohm')}.",
    ]
    for line in lines:
        sheet.say(line)
    sheet.verdict(answer)
    return sheet.svg(TITLE, [*lines, f"Verdict: {answer.words}."])
