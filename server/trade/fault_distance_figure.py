"""The run laid out by its metres, drum after drum, with the fault marked as widely as it is uncertain."""

from __future__ import annotations

from server.trade import drum_run
from server.trade import figure as pen
from server.trade.answer import Assessment
from server.trade.fault_distance import Inputs, assess
from server.trade.figure_scale import Scale, ticks
from server.trade.figure_sheet import Sheet

TITLE = "Where the fault lies"
LEFT, RIGHT, LINE = 24.0, 316.0, 62.0


def draw(inputs: Inputs) -> str:
    """Rope from here to the far end, a joint between drums, the fault crossed in a dashed box."""
    answer = assess(inputs)
    metres, give, length = (_value(answer, name) for name in ("distance_m", "uncertainty_m", "length_m"))
    doubtful = set(str(answer.figures["drum"].value or "").split(", "))
    reach = max(length or 0, 0.1) if length is not None else 1.4 * ((metres or 1) + (give or 0))
    scale = Scale(0, reach, LEFT, RIGHT)
    sheet = Sheet()
    sheet.say("Metres from here to the far end", heavy=True)
    sheet.put(
        LINE + 62,
        *_run(inputs, scale, known=length is not None),
        _fault(scale, metres, give or 0) if metres is not None else "",
        ticks(scale, LINE + 30),
    )
    for number, drum in enumerate(inputs.drums, start=1):
        _drum(sheet, number, drum, in_question=drum.tag in doubtful)
    said = _said(metres, give, length)
    for line in said:
        sheet.say(line, heavy=True, tone="alarm" if metres is None else "ink")
    sheet.verdict(answer)
    tags = [f"Drums in question: {answer.figures['drum'].value}."] if answer.figures["drum"].value else []
    return sheet.svg(
        TITLE, [*(line.replace(pen.FIRM, " ") for line in said), *tags, f"Verdict: {answer.words}."]
    )


def _value(answer: Assessment, name: str) -> float | None:
    value = answer.figures[name].value
    return None if value is None else float(value)


def _run(inputs: Inputs, scale: Scale, *, known: bool) -> list[str]:
    """The whole length as rope; dotted where nobody knows how long the run is."""
    line = pen.path((LEFT, LINE), (RIGHT, LINE))
    drawn = [pen.mark("run", pen.rope(line, thick=7) if known else pen.dots(line))]
    drawn += [
        pen.rule(pen.box(x - 9, LINE - 9, 18, 18), paper=True) for x in ((LEFT, RIGHT) if known else (LEFT,))
    ]
    at, named = 0.0, 0.0
    for number, drum in enumerate(inputs.drums, start=1):
        x, to_x = scale.at(at), scale.at(at + drum.length_m)
        at += drum.length_m
        if number < len(inputs.drums):
            drawn.append(pen.mark("joint", pen.ring(to_x, LINE, 6)))
        name = str(number)
        if x >= named and to_x - x > pen.breadth(name):
            drawn.append(pen.words((x + to_x) / 2, LINE + 24, name, anchor="middle", tone="soft"))
            named = (x + to_x) / 2 + pen.breadth(name)
    return drawn


def _fault(scale: Scale, metres: float, give: float) -> str:
    x = scale.at(metres)
    first, last = scale.at(metres - give), scale.at(metres + give)
    wide = max(14.0, last - first)
    words = f"{pen.fine(metres, give or metres)} m"
    half = pen.breadth(words) / 2
    at = min(max(x, half + 2), pen.WIDTH - half - 2)
    return pen.mark(
        "fault",
        pen.hole((first + last) / 2, LINE, wide, 34),
        pen.cross(x, LINE, 6, "alarm"),
        pen.words(at, LINE - 26, words, anchor="middle", tone="alarm", heavy=True),
    )


def _drum(sheet: Sheet, number: int, drum: drum_run.Drum, *, in_question: bool) -> None:
    sign = pen.hole(20, 12, 22, 18) if in_question else pen.ring(20, 12, 7)
    size = pen.amount(drum.length_m, "m")
    room = pen.WIDTH - 46 - pen.EDGE
    text = f"{number}: {pen.fitted(drum.tag, room - pen.breadth(f'{number}: , {size}, in question'))}, {size}"
    words = pen.words(42, pen.SIZE, f"{text}, in question" if in_question else text, heavy=in_question)
    sheet.put(pen.LEADING + 4, pen.mark(f"drum {number}", sign, words))


def _said(metres: float | None, give: float | None, length: float | None) -> list[str]:
    if metres is None:
        return ["The readings place it nowhere on this run."]
    away = (
        []
        if length is None
        else [f"From the far end: {pen.fine(length - metres, give or metres)}{pen.FIRM}m."]
    )
    here = f"{pen.fine(metres, give or metres)}{pen.FIRM}m"
    return [f"From here: {here}, give or take {pen.amount(give or 0, 'm')}.", *away]
