"""The line from near to far: what is sharp along the ground, and what is wanted sharp."""

from __future__ import annotations

import math

from server.trade import figure as pen
from server.trade import sharpness, thin_lens
from server.trade.depth_of_field import Inputs, assess
from server.trade.figure_scale import Scale, ticks
from server.trade.figure_sheet import Sheet

TITLE = "Depth of field"
LENS, LEFT, RIGHT, LINE = 20.0, 44.0, 312.0, 62.0
ROOM = 40.0
BROKEN = 0.3
"""Where the nearest mark lies beyond this part of the furthest, the way from the lens is left out."""


def draw(inputs: Inputs) -> str:
    """The sharp part as rope, the rest dotted; a ring where the lens is focused."""
    c = sharpness.blur_mm(inputs.image_height_mm, inputs.active_lines, inputs.blur_circle_mm)
    near, far = (
        limit / 1000
        for limit in thin_lens.limits(inputs.focal_length_mm, inputs.f_number, c, 1000 * inputs.distance_m)
    )
    along = _along(inputs, near, far)
    sheet = Sheet()
    sheet.say("Sharp, in metres from the lens.", heavy=True)
    sheet.put(LINE + 52, *_line(inputs, near, far, along), ticks(along, LINE + 26))
    sheet.say(f"Rope: sharp from {_metres(near, far - near)} to {_metres(far, far - near)}.")
    sheet.say(f"Ring: focused at {_metres(inputs.distance_m)}.")
    sheet.say("Dotted: not sharp.", tone="soft")
    if inputs.wanted_near_m is not None and inputs.wanted_far_m is not None:
        sheet.say(
            f"Rule above: wanted from {_metres(inputs.wanted_near_m)} to {_metres(inputs.wanted_far_m)}."
        )
    return sheet.svg(TITLE, _described(inputs, near, far))


def _along(inputs: Inputs, near: float, far: float) -> Scale:
    marks = [
        near,
        inputs.distance_m,
        *(w for w in (inputs.wanted_near_m, inputs.wanted_far_m) if w is not None),
    ]
    if not math.isinf(far):
        marks.append(far)
    low, high = min(marks), max(marks)
    high = 1.6 * high if math.isinf(far) else high
    room = 0.15 * (high - low)
    if low < BROKEN * high:
        return Scale(0, high + room, LENS, RIGHT)
    return Scale(low - room, high + room, LEFT, RIGHT)


def _line(inputs: Inputs, near: float, far: float, along: Scale) -> list[str]:
    first, last = along.at(near), RIGHT + 8 if math.isinf(far) else along.at(far)
    strokes = [
        pen.dots(pen.path((along.start, LINE), (RIGHT, LINE))),
        pen.mark("sharp", pen.rope(pen.path((first, LINE), (last, LINE)), thick=7)),
        pen.mark("near", _end(first, last - first)),
        pen.mark("focused", pen.ring(along.at(inputs.distance_m), LINE, 8)),
        _lens(broken=along.low > 0),
    ]
    if math.isinf(far):
        strokes.append(pen.mark("infinity", pen.words(RIGHT + 16, LINE - 14, "to infinity", anchor="end")))
    else:
        strokes.append(pen.mark("far", _end(last, last - first)))
    if inputs.wanted_near_m is not None and inputs.wanted_far_m is not None:
        strokes.append(_wanted(inputs.wanted_near_m, inputs.wanted_far_m, near, far, along))
    return strokes


def _end(x: float, rope: float) -> str:
    """The whipping at an end of the rope; one turn where the rope is short."""
    turns = (-4.0, 0.0, 4.0) if rope > ROOM else (0.0,)
    return "".join(pen.rule(f"M{pen.unit(x + turn)} {pen.unit(LINE - 8)}v16", width=2.4) for turn in turns)


def _lens(*, broken: bool) -> str:
    """The lens at the left edge; two slant strokes where the way from it is left out."""
    lens = pen.rule(pen.box(LENS - 14, LINE - 11, 14, 22), paper=True)
    gap = pen.rule(f"M{pen.unit(LEFT - 18)} {pen.unit(LINE + 12)}l6 -24m6 0l-6 24", width=2.4)
    return pen.mark("lens", lens, gap if broken else "")


def _wanted(first: float, last: float, near: float, far: float, along: Scale) -> str:
    held = near <= first and last <= far
    y = 26.0
    x, to_x = along.at(first), along.at(last)
    bracket = f"M{pen.unit(x)} {y - 8}v16M{pen.unit(x)} {y}H{pen.unit(to_x)}M{pen.unit(to_x)} {y - 8}v16"
    middle = min(max((x + to_x) / 2, 100), pen.WIDTH - 100)
    says = pen.words(
        middle, y - 12, "wanted: all sharp" if held else "wanted: not all sharp",
        anchor="middle", tone="ink" if held else "alarm", heavy=True,
    )  # fmt: skip
    return pen.mark(
        "wanted", pen.rule(bracket, tone="ink" if held else "alarm", dash="" if held else "7 5"), says
    )


def _described(inputs: Inputs, near: float, far: float) -> list[str]:
    wanted = (
        [f"Wanted from {_metres(inputs.wanted_near_m)} to {_metres(inputs.wanted_far_m)}."]
        if inputs.wanted_near_m is not None and inputs.wanted_far_m is not None
        else []
    )
    return [
        f"Sharp from {_metres(near, far - near)} to {_metres(far, far - near)}.",
        f"Focused at {_metres(inputs.distance_m)}.",
        *wanted,
        f"Verdict: {assess(inputs).words}.",
    ]


def _metres(length_m: float, depth_m: float = math.inf) -> str:
    if math.isinf(length_m):
        return "infinity"
    return f"{pen.short(length_m) if math.isinf(depth_m) else pen.fine(length_m, depth_m)}{pen.FIRM}m"
