"""The bearers around the load, seen from above and on the slope, and what each takes."""

from __future__ import annotations

import math
from collections.abc import Mapping

from server.trade import figure as pen
from server.trade import load_figure as load
from server.trade.answer import Figure
from server.trade.carry import Inputs, assess, hands, lower_end_u
from server.trade.figure_sheet import Sheet

TITLE = "Who carries how much"
LONG, BODY, STAND, HEAD = 170.0, 0.78, 58.0, 26.0
"""From handle to handle, the load's part of it, handles above the ground, heads above the handles."""


def draw(inputs: Inputs) -> str:
    """From above, from the side, and a span for every bearer; without spans where the load tips."""
    answer = assess(inputs)
    held = hands(int(inputs.bearers), lower_end_u(inputs))
    rows = _rows(held, answer.figures)
    sheet = Sheet()
    sheet.say("From above", heavy=True)
    sheet.put(load.ABOVE_HIGH, _from_above(inputs, held, rows))
    if inputs.slope_deg and inputs.cg_height_ratio:
        sheet.say("Arrow: where the slope brings the centre of gravity.", tone="soft")
    sheet.gap()
    sheet.say(
        f"On a slope of {pen.amount(inputs.slope_deg, '°')}" if inputs.slope_deg else "On the level",
        heavy=True,
    )
    sheet.gap()
    _on_slope(sheet, inputs)
    sheet.say("Crossed ring: centre of gravity. Dotted: the plumb line through it.", tone="soft")
    sheet.gap()
    if rows:
        alone = answer.figures["alone_kg"].value
        sheet.say("Least, likely (knot) and most", heavy=True)
        one = float(alone or 0)
        load.spans(sheet, list(rows.values()), {"one person's guide": one}, one)
    else:
        sheet.say("It lies outside the handles: the load tips.", tone="alarm", heavy=True)
    sheet.verdict(answer)
    said = [load.said(row) for row in rows.values()] or ["The load tips over the lower or the outer handles."]
    return sheet.svg(
        TITLE,
        [
            f"{pen.short(inputs.load_kg)} kg between {pen.short(inputs.bearers)} people, slope "
            f"{pen.short(inputs.slope_deg)} degrees.",
            *said,
            f"Verdict: {answer.words}.",
        ],
    )


def _rows(held: Mapping[str, tuple[int, ...]], figures: Mapping[str, Figure]) -> dict[str, load.Span]:
    """A span for every bearer by name; none where there are no figures."""
    rows = {}
    for name in held:
        kilograms = [figures[f"{name}_{word}_kg"].value for word in ("least", "likely", "most")]
        if None not in kilograms:
            least, likely, most = (float(kg or 0) for kg in kilograms)
            rows[name] = load.Span(name.replace("_", " "), least, likely, most)
    return rows


def _from_above(inputs: Inputs, held: Mapping[str, tuple[int, ...]], rows: Mapping[str, load.Span]) -> str:
    drawn = [load.body(inputs.lengthwise(), inputs.v)]
    x, y = load.centre(inputs.lengthwise(), inputs.v)
    to_x, to_y = load.centre(lower_end_u(inputs), inputs.v)
    drawn.append(pen.arrow(x, y, to_x, to_y))
    for name, places in held.items():
        figure = f"likely {pen.amount(rows[name].likely, 'kg')}" if name in rows else ""
        drawn.append(pen.mark(name, _bearer(places), load.named(places, name.replace("_", " "), figure)))
    return "".join(drawn)


def _bearer(places: tuple[int, ...]) -> str:
    """Head and arms from above, outside the handles."""
    corners = [load.corner(place) for place in places]
    out = -1 if corners[0][0] < load.MIDDLE else 1
    x = corners[0][0] + out * 40
    y = sum(at for _, at in corners) / len(corners)
    arms = "".join(
        pen.rule(pen.path((x, y + (at - y) * 0.2), (to_x, at)), width=3) + pen.knot(to_x, at, 0.7)
        for to_x, at in corners
    )
    return arms + pen.ring(x, y, 11, "ink")


def _on_slope(sheet: Sheet, inputs: Inputs) -> None:
    """The lower end to the left; handles, heads and ground stand on the slope's line."""
    slope = math.radians(inputs.slope_deg)
    along, square = (math.cos(slope), -math.sin(slope)), (-math.sin(slope), -math.cos(slope))
    long = LONG if abs(inputs.cg_height_ratio) <= 0.6 else 0.6 * LONG / abs(inputs.cg_height_ratio)

    def at(part: float, above: float = 0) -> tuple[float, float]:
        """Of the half length from the middle up the slope, and of the length square to it."""
        return (
            load.MIDDLE + part * long / 2 * along[0] + above * long * square[0],
            part * long / 2 * along[1] + above * long * square[1],
        )

    centre = at(-inputs.lengthwise(), inputs.cg_height_ratio)
    ground = _ground(centre[0], slope)
    plumb = sorted((centre[1], ground, ground - STAND))
    top = min(plumb[0] - 10, *(at(end, 0.25)[1] for end in (-BODY, BODY)), at(1)[1] - HEAD - 12)
    ends = [load.MIDDLE + side * (long / 2 + 40) for side in (-1, 1)]
    low = max(_ground(ends[0], slope), plumb[-1] + 10)
    strokes = [
        pen.rule(pen.path(at(-1), at(1)), width=4),
        pen.rule(pen.path(at(-BODY), at(BODY), at(BODY, 0.25), at(-BODY, 0.25)) + "z", paper=True),
        *(_person(at(end), slope) for end in (-1, 1)),
        pen.dots(pen.path((centre[0], plumb[0]), (centre[0], plumb[-1])), "ink"),
        pen.mark("centre of gravity on the slope", load.gravity(*centre)),
        pen.rule(pen.path(*((x, _ground(x, slope)) for x in ends)), width=4),
    ]
    sheet.put(low - top + 10, pen.moved(0, -top + 2, *strokes))


def _ground(x: float, slope: float) -> float:
    """The ground below the line of the handles."""
    return -(x - load.MIDDLE) * math.tan(slope) + STAND


def _person(handle: tuple[float, float], slope: float) -> str:
    """Somebody who stands upright on the slope with a hand at the handle."""
    x, y = handle
    stands = pen.rule(pen.path((x, y - HEAD + 9), (x, _ground(x, slope))))
    return stands + pen.ring(x, y - HEAD, 9, "ink") + pen.knot(x, y, 0.7)
