"""A load from above with its four points and its centre of gravity, and what each point takes drawn as a span."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from server.trade import figure as pen
from server.trade.bearers import SIGNS
from server.trade.figure_scale import Scale
from server.trade.figure_sheet import Sheet

MIDDLE, HALF_LONG, HALF_BROAD = 170.0, 90.0, 40.0
TOP = 106.0
"""Down to the middle of the load; above and below it stand two lines of words each."""
ABOVE_HIGH = 212.0
BAR = 40
"""Down to the span of a row, below its words."""
DASHES = (("Dashed", "8 4"), ("Dotted", "2 4"))
BEYOND = 1.3
"""What lies outside the points is drawn at most this many half lengths out."""


@dataclass(frozen=True)
class Span:
    """Least, likely and most on one point or bearer, in kg."""

    name: str
    least: float
    likely: float
    most: float


def corner(place: int) -> tuple[float, float]:
    """Where a point of `bearers.SIGNS` is drawn: its first end to the left, its left side below."""
    along, aside = SIGNS[place]
    return MIDDLE - along * HALF_LONG, TOP + aside * HALF_BROAD


def centre(u: float, v: float) -> tuple[float, float]:
    """Where the centre of gravity is drawn."""
    u, v = (min(BEYOND, max(-BEYOND, part)) for part in (u, v))
    return MIDDLE - u * HALF_LONG, TOP + v * HALF_BROAD


def body(u: float, v: float) -> str:
    """The load and its centre of gravity, a crossed ring."""
    x, y = centre(u, v)
    load = pen.rule(pen.box(MIDDLE - HALF_LONG, TOP - HALF_BROAD, 2 * HALF_LONG, 2 * HALF_BROAD), paper=True)
    return load + pen.mark("centre of gravity", gravity(x, y))


def gravity(x: float, y: float) -> str:
    """The sign of the centre of gravity."""
    plus = pen.path((x - 8, y), (x + 8, y)) + pen.path((x, y - 8), (x, y + 8))
    return pen.ring(x, y, 8, "ink") + pen.rule(plus, width=2)


def named(places: Sequence[int], name: str, figure: str) -> str:
    """The name and figure of who or what is at these places, written outside of them."""
    x, y = corner(places[0])
    left, above = x < MIDDLE, y < TOP or len(places) > 1
    at, anchor = (pen.EDGE, "start") if left else (pen.WIDTH - pen.EDGE, "end")
    first = 18.0 if above else TOP + HALF_BROAD + 40
    below = pen.words(at, first + 21, figure, anchor=anchor, heavy=True) if figure else ""
    return pen.words(at, first, name, anchor=anchor) + below


def spans(sheet: Sheet, rows: Sequence[Span], lines: Mapping[str, float], limit: float | None) -> None:
    """Each row's span from least to most with a knot where it is likely; `lines` are drawn down across all."""
    high = 1.08 * max(*(row.most for row in rows), *lines.values(), 1e-9)
    scale = Scale(0, high, 14, 326)
    across = "".join(
        pen.mark(word, pen.rule(f"M{pen.unit(scale.at(kg))} {BAR - 16}v32", tone="soft", dash=dash))
        for (word, kg), (_, dash) in zip(lines.items(), DASHES, strict=False)
    )
    for row in rows:
        beyond = limit is not None and row.most > limit * (1 + 1e-9)
        sheet.put(BAR + 18, across, pen.mark(row.name, *_span(row, scale, beyond=beyond)))
    for (word, kg), (called, _) in zip(lines.items(), DASHES, strict=False):
        sheet.say(f"{called}: {word}, {pen.amount(kg, 'kg')}.", tone="soft")


def _span(row: Span, scale: Scale, *, beyond: bool) -> list[str]:
    first, last = scale.at(row.least), scale.at(row.most)
    least, most = pen.short(row.least), pen.amount(row.most, "kg")
    reach = most if row.least == row.most else f"{least} to {most}"
    ends = "".join(f"M{pen.unit(x)} {BAR - 8}v16" for x in (first, last))
    return [
        pen.rule(
            f"M{pen.unit(first)} {BAR}H{pen.unit(last)}{ends}",
            width=5 if beyond else 3,
            tone="alarm" if beyond else "ink",
        ),
        pen.knot(scale.at(row.likely), BAR, 0.85),
        pen.words(pen.EDGE, pen.SIZE, row.name),
        pen.words(
            pen.WIDTH - pen.EDGE,
            pen.SIZE,
            f"beyond: {reach}" if beyond else reach,
            anchor="end",
            tone="alarm" if beyond else "ink",
            heavy=beyond,
        ),
    ]


def said(row: Span) -> str:
    """The span as a sentence."""
    least, likely, most = (pen.short(kg) for kg in (row.least, row.likely, row.most))
    return f"{row.name}: likely {likely} kg, least {least}, most {most} kg."
