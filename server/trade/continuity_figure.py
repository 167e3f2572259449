"""The pin map: a line from every pin here to the pin it should reach, and what joins where it should not."""

from __future__ import annotations

from server.trade import figure as pen
from server.trade.continuity import Inputs, assess, limit_ohm
from server.trade.figure_sheet import Sheet
from server.trade.joints import Found, Joint, sort

TITLE = "Pin by pin"
NEAR, FAR, DEEP, TOP = 74.0, 206.0, 32.0, 40.0
WRONG = {"short": "short", "crossed": "crossed", "undecided": "joined"}
KEY = {
    "whole": "Rope, two knots: whole.",
    "high": "Rope with a ring: high.",
    "open": "Two loose ends: open.",
    "not_read": "Dotted: not read.",
    "wrong": "Heavy dashes: joined where it should not be.",
}


def draw(inputs: Inputs) -> str:
    """This end to the left, the far end to the right; what is wrong is named beside its pin."""
    answer = assess(inputs)
    joints = inputs.joints()
    read = {(one.a, one.b): one.ohm for one in inputs.measured}
    found = sort(joints, read, limit_ohm(inputs), inputs.open_ohm)
    wrong = [(word, pair) for name, word in WRONG.items() for pair in getattr(found, name)]
    near = list(dict.fromkeys([a for a, _ in joints] + [a for _, (a, _) in wrong]))
    far = list(dict.fromkeys([b for _, b in joints] + [b for _, (_, b) in wrong]))
    heights = (
        {pin: TOP + DEEP * i for i, pin in enumerate(near)},
        {pin: TOP + DEEP * i for i, pin in enumerate(far)},
    )
    sheet = Sheet()
    sheet.say("Pin by pin", heavy=True)
    sheet.put(TOP + DEEP * max(len(near), len(far)), *_pins(*heights), *_joined(found, wrong, heights))
    there = {name for name in ("whole", "high", "open", "not_read") if getattr(found, name)}
    for name, line in KEY.items():
        if name in there or (name == "wrong" and wrong):
            sheet.say(line, tone="soft")
    sheet.gap()
    lines = _lines(inputs, found, wrong)
    for line in lines:
        sheet.say(line, heavy=not line.startswith(("Whole", "Not read")))
    sheet.verdict(answer)
    return sheet.svg(TITLE, [*lines, f"Verdict: {answer.words}."])


def _pins(near: dict[str, float], far: dict[str, float]) -> list[str]:
    drawn = [
        pen.words(pen.EDGE, 18, "this end", tone="soft"),
        pen.words(FAR, 18, "far end", tone="soft"),
    ]
    for pin, y in near.items():
        drawn.append(pen.words(NEAR - 14, y + 6, pen.fitted(pin, NEAR - 20), anchor="end", heavy=True))
    for pin, y in far.items():
        drawn.append(pen.words(FAR + 14, y + 6, pen.fitted(pin, 44), heavy=True))
    return drawn


def _joined(
    found: Found, wrong: list[tuple[str, Joint]], heights: tuple[dict[str, float], dict[str, float]]
) -> list[str]:
    near, far = heights
    drawn = []
    for state in ("not_read", "whole", "high", "open"):
        for a, b in getattr(found, state):
            y, to_y = near[a], far[b]
            drawn.append(pen.mark(f"{state} {a} {b}", _line(state, y, to_y), _state(state, to_y)))
    for word, (a, b) in wrong:
        d = pen.path((NEAR, near[a]), (FAR, far[b]))
        drawn.append(pen.mark(f"{word} {a} {b}", pen.rule(d, width=5, tone="alarm", dash="10 6")))
    return drawn


def _line(state: str, y: float, to_y: float) -> str:
    whole = pen.path((NEAR, y), (FAR, to_y))
    if state == "not_read":
        return pen.dots(whole)
    if state == "open":
        third, slope = (FAR - NEAR) * 0.34, (to_y - y) * 0.34
        ends = pen.path((NEAR, y), (NEAR + third, y + slope)) + pen.path(
            (FAR, to_y), (FAR - third, to_y - slope)
        )
        return pen.rope(ends) + pen.hole((NEAR + FAR) / 2, (y + to_y) / 2, 26, 20)
    ends = pen.knot(NEAR, y, 0.7) + pen.knot(FAR, to_y, 0.7)
    middle = pen.ring((NEAR + FAR) / 2, (y + to_y) / 2, 9) if state == "high" else ""
    return pen.rope(whole) + ends + middle


def _state(state: str, y: float) -> str:
    if state == "whole":
        return ""
    word = state.replace("_", " ")
    bad = state != "not_read"
    return pen.words(
        pen.WIDTH - pen.EDGE, y + 6, word, anchor="end", tone="alarm" if bad else "soft", heavy=bad
    )


def _lines(inputs: Inputs, found: Found, wrong: list[tuple[str, Joint]]) -> list[str]:
    """Every pin that is not whole, with what it carries."""
    lines = [f"Whole: {len(found.whole)} of {len(inputs.joints())}."]
    for name, word in (("open", "Open"), ("high", "High"), ("not_read", "Not read")):
        pairs = getattr(found, name)
        if pairs:
            lines.append(f"{word}: {', '.join(_pair(inputs, pair) for pair in pairs)}.")
    return lines + [f"{word.capitalize()}: {_pair(inputs, pair)}." for word, pair in wrong]


def _pair(inputs: Inputs, pair: Joint) -> str:
    a, b = pair
    carries = inputs.pins
    return f"{a} ({carries[a]})" if a == b else f"{a} ({carries[a]}) to {b} ({carries[b]})"
