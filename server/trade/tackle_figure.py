"""The tackle as rove: anchor, blocks, parts, lead blocks and the pull, with the force beside each.

Drawn unrolled, every part with a place of its own, so that they can be counted. Where the standing part ends
follows from the count: at the anchor where the parts are even, at the load where they are odd.
"""

from __future__ import annotations

from collections.abc import Mapping

from server.trade import figure as pen
from server.trade.answer import Figure
from server.trade.figure_sheet import Sheet
from server.trade.tackle import Inputs, assess

TITLE = "Tackle"
LEFT, BROAD, WIDEST = 30.0, 150.0, 34.0
ANCHOR, ABOVE, BELOW, LOAD, FOOT = 36.0, 66.0, 196.0, 232.0, 296.0
HIGH = 312.0
STEP = 18.0


def draw(inputs: Inputs) -> str:
    """Parts as one rope between the blocks, rings as sheaves; the hauling part through its lead blocks."""
    answer = assess(inputs)
    sheet = Sheet()
    sheet.say(f"Hauling {pen.amount(inputs.load_kg, 'kg')}", heavy=True)
    sheet.put(HIGH, *_rove(inputs), *_words(inputs, answer.figures))
    for line in _lines(inputs, answer.figures):
        sheet.say(line)
    sheet.verdict(answer)
    forces = [f"{word.capitalize()} {figure}." for word, figure in _forces(inputs, answer.figures)]
    lines = [*forces, *_lines(inputs, answer.figures), f"Verdict: {answer.words}."]
    return sheet.svg(TITLE, [f"{_count(inputs.parts, 'part')}, {_count(inputs.sheaves, 'sheave')}.", *lines])


def _down(inputs: Inputs) -> bool:
    """Whether the hauling part comes down off the upper block."""
    return inputs.parts == inputs.sheaves


def _count(number: float, what: str) -> str:
    return f"{int(number)} {what}" if number == 1 else f"{int(number)} {what}s"


def _places(inputs: Inputs) -> list[float]:
    """Across: where each part hangs, and last where a hauling part that comes down does."""
    parts = int(inputs.parts)
    step = min(WIDEST, BROAD / parts)
    return [LEFT + step * part for part in range(parts + 1)]


def _rove(inputs: Inputs) -> list[str]:
    parts, places = int(inputs.parts), _places(inputs)
    r = (places[1] - places[0]) / 2
    lower = [i for i in range(parts - 1) if (i + parts) % 2 == 0]
    upper = [i for i in range(parts if _down(inputs) else parts - 1) if (i + parts) % 2]
    last = places[parts - 1]
    beam = last + 2 * r + 6 if _down(inputs) else last - r / 2
    hatch = "".join(f"M{x} {ANCHOR}l8 -12" for x in range(int(LEFT) - 12, int(beam) - 6, 12))
    return [
        pen.mark("anchor", pen.rule(pen.path((LEFT - 14, ANCHOR), (beam, ANCHOR)) + hatch, width=3)),
        _block([places[i] + r for i in upper], r, ABOVE, ANCHOR),
        _block([places[i] + r for i in lower], r, BELOW, LOAD),
        pen.mark("load", pen.rule(pen.box(LEFT - 20, LOAD, last - LEFT + 26, 44), paper=True)),
        pen.mark("rope", pen.rope(_rope(inputs, places))),
        pen.knot(LEFT, LOAD if parts % 2 else ANCHOR, 0.7),
        *(pen.mark("sheave", pen.ring(places[i] + r, ABOVE, max(2.5, r - 6))) for i in upper),
        *(pen.mark("sheave", pen.ring(places[i] + r, BELOW, max(2.5, r - 6))) for i in lower),
        *(pen.mark("lead block", pen.ring(x, y, 8)) for x, y in _leads(inputs, places)),
        _pulled(inputs, places),
    ]


def _block(sheaves: list[float], r: float, y: float, hung: float) -> str:
    """The cheeks round the sheaves, and what holds them to anchor or load."""
    if not sheaves:
        return ""
    left, right = min(sheaves) - r - 3, max(sheaves) + r + 3
    middle = (left + right) / 2
    cheeks = pen.box(left, y - 9, right - left, 18)
    return pen.mark(
        "block", pen.rule(pen.path((middle, y), (middle, hung)), width=5), pen.rule(cheeks, paper=True)
    )


def _rope(inputs: Inputs, places: list[float]) -> str:
    """One path: from the standing end through every sheave to the end of the hauling part."""
    parts, r = int(inputs.parts), (places[1] - places[0]) / 2
    d = f"M{pen.unit(LEFT)} {LOAD if parts % 2 else ANCHOR}"
    for part in range(parts):
        goes_up = (part + parts) % 2 == 1
        if part == parts - 1 and not _down(inputs):
            break
        y, sweep = (ABOVE, 1) if goes_up else (BELOW, 0)
        d += f"V{y}a{pen.unit(r)} {pen.unit(r)} 0 0 {sweep} {pen.unit(2 * r)} 0"
    _, y = _turning(inputs, places)
    d += f"V{pen.unit(y)}"
    return d + "".join(f"L{pen.unit(to_x)} {pen.unit(to_y)}" for to_x, to_y in _leads(inputs, places)[1:])


def _turning(inputs: Inputs, places: list[float]) -> tuple[float, float]:
    """Where the hauling part meets its first lead block, or a hand."""
    return (places[-1], FOOT) if _down(inputs) else (places[-2], 14.0)


def _leads(inputs: Inputs, places: list[float]) -> list[tuple[float, float]]:
    x, y = _turning(inputs, places)
    inwards = -16 if _down(inputs) else 16
    return [(x + STEP * i, y + (inwards if i % 2 else 0)) for i in range(int(inputs.lead_blocks))]


def _pulled(inputs: Inputs, places: list[float]) -> str:
    """The arrow of the pull, from the rope's end on."""
    leads = _leads(inputs, places)
    if leads:
        x, y = leads[-1]
        return pen.mark("pull", pen.arrow(x + 10, y, x + 36, y, width=4))
    x, y = _turning(inputs, places)
    return pen.mark(
        "pull",
        pen.arrow(x, y - 22, x, y + 10, width=4)
        if _down(inputs)
        else pen.arrow(x, y + 24, x, y - 8, width=4),
    )


def _forces(inputs: Inputs, figures: Mapping[str, Figure]) -> list[tuple[str, str]]:
    """Word and figure, from the top down."""

    def of(name: str, unit: str, part: float = 1) -> str:
        return pen.amount(float(figures[name].value or 0) * part, unit)

    forces = [("anchor takes", of("anchor_n", "kN", 0.001)), ("load", pen.amount(inputs.load_kg, "kg"))]
    pull = ("pull", of("pull_kg", "kg"))
    return [*forces, pull] if _down(inputs) else [pull, *forces]


def _words(inputs: Inputs, figures: Mapping[str, Figure]) -> list[str]:
    heights = (74.0, 150.0, 226.0) if _down(inputs) else (58.0, 116.0, 232.0)
    edge = pen.WIDTH - pen.EDGE
    return [
        pen.words(edge, y, word, anchor="end") + pen.words(edge, y + 21, figure, anchor="end", heavy=True)
        for y, (word, figure) in zip(heights, _forces(inputs, figures), strict=True)
    ]


def _lines(inputs: Inputs, figures: Mapping[str, Figure]) -> list[str]:
    values = {name: float(one.value) for name, one in figures.items() if isinstance(one.value, int | float)}
    lines = [
        f"{_count(inputs.parts, 'part')} at the moving block, {_count(inputs.sheaves, 'sheave')}.",
        f"Pull {pen.amount(values['pull_n'], 'N')} by the rule {inputs.rule}.",
    ]
    if "lead_block_n" in values:
        lines.append(
            f"{_count(inputs.lead_blocks, 'lead block')}, {pen.amount(values['lead_block_n'] / 1000, 'kN')} on each."
        )
    if "rope_use_percent" in values:
        lines.append(f"Rope: {pen.amount(values['rope_use_percent'], '%')} of what it may take.")
    there = "" if inputs.people is None else f", {pen.short(inputs.people)} there"
    return [*lines, f"People to haul: {pen.short(values['people_to_haul'])}{there}."]
