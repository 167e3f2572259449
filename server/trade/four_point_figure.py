"""Four points around the load, seen from above, and what each takes and must be rated for."""

from __future__ import annotations

from server.trade import figure as pen
from server.trade import load_figure as load
from server.trade.figure_sheet import Sheet
from server.trade.four_point import POINTS, Inputs, assess

TITLE = "Four points under one load"


def draw(inputs: Inputs) -> str:
    """From above, then a span for every point against what it is rated for."""
    answer = assess(inputs)
    figures = {name: one.value for name, one in answer.figures.items()}
    rows = [
        load.Span(
            point.replace("_", " "),
            *(float(figures[f"{point}_{word}_kg"] or 0) for word in ("least", "likely", "most")),
        )
        for point in POINTS
    ]
    rated_kg, tilt = float(figures["rate_each_kg"] or 0), figures["tilt_deg"]
    sheet = Sheet()
    sheet.say(f"{pen.amount(inputs.load_kg, 'kg')} on four points, from above", heavy=True)
    drawn = [load.body(inputs.u, inputs.v)]
    for place, row in enumerate(rows):
        at = load.corner(place)
        words = load.named((place,), row.name, f"likely {pen.amount(row.likely, 'kg')}")
        drawn.append(pen.mark(f"point {row.name}", pen.ring(*at, 9), words))
    sheet.put(load.ABOVE_HIGH, *drawn)
    sheet.say("Ring: a point. Crossed ring: centre of gravity.", tone="soft")
    sheet.gap()
    sheet.say("Least, likely (knot) and most", heavy=True)
    lines = {"rate each point for": rated_kg}
    if inputs.point_wll_kg is not None:
        lines["marked on each point"] = inputs.point_wll_kg
    load.spans(sheet, rows, lines, inputs.point_wll_kg)
    if inputs.point_wll_kg is not None and rated_kg > inputs.point_wll_kg:
        sheet.say("Beyond the mark on the points.", tone="alarm", heavy=True)
    if inputs.strap_to_vertical_deg:
        sheet.say(
            f"Straps {pen.amount(inputs.strap_to_vertical_deg, '°')} off the vertical are in the rating."
        )
    sheet.say("Tilt is not told." if tilt is None else f"Hangs tilted by {pen.amount(float(tilt), '°')}.")
    sheet.verdict(answer)
    return sheet.svg(
        TITLE,
        [
            *(load.said(row) for row in rows),
            f"Rate each point for {pen.short(rated_kg)} kg.",
            f"Verdict: {answer.words}.",
        ],
    )
