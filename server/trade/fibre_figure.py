"""The link map: from transmitter to receiver, and what each part loses in proportion to what may be lost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from server.trade import figure as pen
from server.trade.fibre import Inputs, assess
from server.trade.figure_scale import Scale
from server.trade.figure_sheet import Sheet

TITLE = "Fibre link"
LINE, BOX = 40.0, 34.0
BAR, THICK = 30.0, 30.0
MOST_DRAWN = 8


@dataclass(frozen=True)
class Part:
    """A part of the way: its name, what it takes in dB, and how it is drawn from x to x."""

    name: str
    loss_db: float
    drawn: Callable[[float, float, float], str]


def draw(inputs: Inputs) -> str:
    """The run with its pairs and splices, then the losses one after another, as long as they are large."""
    answer = assess(inputs)
    margin = answer.figures["margin_db"].value
    parts = _parts(inputs)
    sheet = Sheet()
    sheet.say(f"{pen.amount(inputs.length_m, 'm')}, transmitter to receiver", heavy=True)
    sheet.put(LINE + 44, *_run(inputs))
    sheet.gap()
    sheet.say("What each part takes", heavy=True)
    sheet.put(BAR + THICK + 16, *_bar(parts, None if margin is None else float(margin)))
    for part in (one for one in parts if one.loss_db):
        sample = part.drawn(12, 40, 14)
        sheet.put(
            pen.LEADING + 4,
            sample,
            pen.words(52, pen.SIZE + 2, f"{part.name}: {pen.amount(part.loss_db, 'dB')}"),
        )
    sheet.gap()
    for line in _ends(inputs):
        sheet.say(line)
    sheet.say(
        _margin(margin), heavy=True, tone="alarm" if margin is not None and float(margin) < 0 else "ink"
    )
    sheet.verdict(answer)
    said = [f"{part.name} {pen.short(part.loss_db)} dB." for part in parts]
    lines = [
        *said,
        *_ends(inputs),
        _margin(margin),
        f"Most is lost in: {answer.figures['worst_part'].value}.",
    ]
    return sheet.svg(
        TITLE, [f"{pen.short(inputs.length_m)} m of fibre.", *lines, f"Verdict: {answer.words}."]
    )


def _parts(inputs: Inputs) -> list[Part]:
    """In the order of the run's sum; what was read beyond the sum is a part too."""
    parts = [
        Part("fibre", inputs.length_m / 1000 * inputs.loss_db_per_km, _fibre),
        Part("mated pairs", inputs.mated_pairs * inputs.loss_db_per_pair, _pairs),
        Part("splices", inputs.splices * inputs.loss_db_per_splice, _splices),
    ]
    if inputs.transmit_dbm is not None and inputs.received_dbm is not None:
        more = inputs.transmit_dbm - inputs.received_dbm - sum(part.loss_db for part in parts)
        if more > 0:
            parts.append(Part("more, as read", more, _unknown))
    return [*parts, Part("reserve", inputs.reserve_db, _reserve)]


def _fibre(x: float, to_x: float, y: float) -> str:
    return pen.rope(pen.path((x, y), (to_x, y)))


def _pairs(x: float, to_x: float, y: float) -> str:
    return _edge(x, to_x, y) + pen.ring((x + to_x) / 2, y, 6)


def _splices(x: float, to_x: float, y: float) -> str:
    return _edge(x, to_x, y) + pen.cross((x + to_x) / 2, y, 5)


def _unknown(x: float, to_x: float, y: float) -> str:
    return pen.hole((x + to_x) / 2, y, to_x - x, 18)


def _reserve(x: float, to_x: float, y: float) -> str:
    return pen.dots(pen.path((x, y), (to_x, y)), "ink")


def _edge(x: float, to_x: float, y: float) -> str:
    return pen.rule(pen.path((x, y), (to_x, y)), width=3)


def _bar(parts: list[Part], margin: float | None) -> list[str]:
    """Segment after segment from the left; a heavy stroke where the receiver's least lies, where it is known."""
    used = sum(part.loss_db for part in parts)
    there = None if margin is None else used + margin
    scale = Scale(0, 1.02 * max(used, there or 0, 0.1), 12, 322)
    strokes, at = [], 0.0
    for part in parts:
        x, to_x = scale.at(at), scale.at(at + part.loss_db)
        if part.loss_db > 0:
            edges = "".join(pen.rule(f"M{pen.unit(edge)} {BAR - 14}v28", width=2) for edge in (x, to_x))
            strokes.append(pen.mark(part.name, part.drawn(x, to_x, BAR), edges))
        at += part.loss_db
    if there is not None:
        x = scale.at(max(there, 0))
        strokes.append(
            pen.mark("may be lost", pen.rule(f"M{pen.unit(x)} {BAR - 20}v40", width=6),
                     pen.words(min(max(x, 60), 280), BAR + 40, "may be lost", anchor="middle", heavy=True))
        )  # fmt: skip
    return strokes


def _run(inputs: Inputs) -> list[str]:
    """Boxes at both ends, the fibre between them; pairs and splices counted where there are too many to draw."""
    start, end = pen.EDGE + BOX, pen.WIDTH - pen.EDGE - BOX
    drawn = [
        pen.rope(pen.path((start, LINE), (end, LINE)), thick=7),
        pen.rule(pen.box(pen.EDGE, LINE - 17, BOX, 34), paper=True),
        pen.rule(pen.box(end, LINE - 17, BOX, 34), paper=True),
        pen.words(pen.EDGE, LINE + 36, "sends", tone="soft"),
        pen.words(pen.WIDTH - pen.EDGE, LINE + 36, "receives", anchor="end", tone="soft"),
    ]
    for count, y_way, sign in ((int(inputs.mated_pairs), -1, "pair"), (int(inputs.splices), 1, "splice")):
        shown = min(count, MOST_DRAWN)
        for i in range(shown):
            x = start + (end - start) * ((i + 0.5) / shown if y_way > 0 else _pair_place(i, shown))
            drawn.append(pen.mark(sign, pen.ring(x, LINE, 8) if sign == "pair" else pen.cross(x, LINE, 6)))
        if count > shown:
            drawn.append(
                pen.words(170, LINE - 20 if y_way < 0 else LINE + 36, f"{count} {sign}s", anchor="middle")
            )
    return drawn


def _pair_place(i: int, shown: int) -> float:
    """Pairs stand at both ends first."""
    return 0.5 if shown == 1 else 0.04 + 0.92 * i / (shown - 1)


def _ends(inputs: Inputs) -> list[str]:
    said = (
        ("Sends", inputs.transmit_dbm),
        ("Receives, as read,", inputs.received_dbm),
        ("Needs", inputs.sensitivity_dbm),
    )
    return [f"{word} {pen.amount(value, 'dBm')}." for word, value in said if value is not None]


def _margin(margin: float | str | None) -> str:
    if margin is None:
        return "Margin: not told."
    return f"Margin {pen.amount(float(margin), 'dB')}, the reserve taken off."
