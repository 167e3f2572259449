"""What each thing that makes a lift hard leaves of the load, and the load against what is left."""

from __future__ import annotations

from server.trade import figure as pen
from server.trade.figure_gauge import Gauge, gauges
from server.trade.figure_scale import Scale
from server.trade.figure_sheet import Sheet
from server.trade.lifting_task import Inputs, assess

TITLE = "One person's lift"
WORDS = {"hm": "reach", "vm": "height", "dm": "way", "am": "twist", "fm": "rate", "cm": "grip"}
FIRST, LAST, DEEP = 76.0, 270.0, 28.0


def draw(inputs: Inputs) -> str:
    """A rope for every multiplier, dotted where it takes away; then the load against what is recommended."""
    answer = assess(inputs)
    figures = {name: one.value for name, one in answer.figures.items()}
    sheet = Sheet()
    said = []
    if figures["rwl_kg"] is None:
        sheet.say("Not told: the table does not reach this rate.", heavy=True)
        said.append("The multiplier for the rate is not told.")
    else:
        sheet.say("What is left of the load for", heavy=True)
        for name, word in WORDS.items():
            part = float(figures[name] or 0)
            sheet.put(DEEP, pen.mark(word, *_row(word, part)))
            said.append(f"{word} {pen.short(part)}.")
        sheet.gap()
        row = Gauge("load", inputs.load_kg, float(figures["rwl_kg"] or 0), "kg")
        gauges(sheet, [row])
        sheet.say("Dashed: recommended for one person.", tone="soft")
        said.append(row.said())
    sheet.verdict(answer)
    return sheet.svg(
        TITLE, [f"{pen.short(inputs.load_kg)} kg lifted by one person.", *said, f"Verdict: {answer.words}."]
    )


def _row(word: str, part: float) -> list[str]:
    scale = Scale(0, 1, FIRST, LAST)
    x, y = scale.at(part), 12.0
    rope = pen.rope(pen.path((FIRST, y), (x, y))) if part > 0 else ""
    taken = pen.dots(pen.path((x + 8, y), (LAST, y)), "ink") if x + 8 < LAST else ""
    return [
        pen.words(pen.EDGE, pen.SIZE, word),
        rope,
        taken,
        pen.words(pen.WIDTH - pen.EDGE, pen.SIZE, pen.short(part), anchor="end", heavy=part < 1),
    ]
