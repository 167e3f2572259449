"""What the run takes of the signal, against what the other end makes up."""

from __future__ import annotations

from server.trade import figure as pen
from server.trade.coax import Inputs, assess
from server.trade.figure_gauge import Gauge, gauges
from server.trade.figure_sheet import Sheet

TITLE = "Coaxial run"


def draw(inputs: Inputs) -> str:
    """The loss as read off the table, and at worst, each against the same limit."""
    answer = assess(inputs)
    figures = {name: one.value for name, one in answer.figures.items()}
    loss, worst = float(figures["loss_db"] or 0), float(figures["at_worst_db"] or 0)
    rows = [Gauge("loss", loss, inputs.most_db, "dB")]
    if worst > loss:
        rows.append(Gauge("at worst", worst, inputs.most_db, "dB"))
    longest = figures["longest_m"]
    lines = [
        f"{pen.amount(inputs.length_m, 'm')} at {pen.amount(float(figures['mhz'] or 0), 'MHz')}.",
        *([] if longest is None else [f"Longest run for it: {pen.amount(float(longest), 'm')}."]),
    ]
    sheet = Sheet()
    sheet.say("What the run takes", heavy=True)
    gauges(sheet, rows)
    if inputs.most_db is not None:
        sheet.say("Dashed: the most that is made up.", tone="soft")
    for line in lines:
        sheet.say(line)
    sheet.verdict(answer)
    return sheet.svg(TITLE, [*(row.said() for row in rows), *lines, f"Verdict: {answer.words}."])
